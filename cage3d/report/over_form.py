"""Tapes that the mechanics draws straight through the wearer, and what the way over her costs in drop."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.form import Form

HEIGHTS, OUTWARDS = 48, 96  # grid on which a tape's vertical plane is cut with the form


@dataclass(frozen=True)
class Detour:
    """A tape that the model draws straight through the form and that would lie on it when worn."""

    tape: int  # from 1
    to_hoop: int  # from 1
    longer: float  # m, the way over the form less the straight way
    drop_shorter: float  # m, by which the same tape would reach less far down


def tapes_over_form(settled: SettledCage) -> tuple[Detour, ...]:
    """Tape segments whose straight line passes through the form, with what the way over it costs."""
    form, joined = settled.cage.form, settled.cage.connectivity
    if form is None:
        return ()
    found = []
    for row in range(joined.segment_count):
        upper, lower = settled.positions[joined.pulls[row]]
        line = upper + np.linspace(0.0, 1.0, 33)[:, None] * (lower - upper)
        if form.fullness(line).min() >= 1.0 or upper[2] <= lower[2]:
            continue
        hoop, tape = divmod(row, joined.tape_count)
        length = float(settled.cage.parameters.pull_length[row])
        longer, shorter = detour_of(form, upper, lower, length)
        found.append(Detour(tape + 1, hoop + 1, longer, shorter))
    return tuple(found)


def detour_of(form: Form, upper: Floats, lower: Floats, length: float) -> tuple[float, float]:
    """(m longer over the form than straight, m by which a tape of `length` drops less over the form).

    The tape is taken as a taut string in the vertical plane through both of its ends, the lower
    end as sliding straight up. A waistband is worn on the body: where the upper end lies inside
    the form, the form is moved back to it.
    """
    step, drop = float(np.hypot(*(lower - upper)[:2])), float(upper[2] - lower[2])
    depths, outs = form_profile(form, upper, lower)
    straight = float(np.hypot(step, drop))

    def over_form(reach: float) -> float:
        above = depths < reach
        return taut_length(np.append(depths[above], reach), np.append(outs[above], step))

    longer = over_form(drop) - straight
    excess = over_form(drop) - max(length, straight)
    if excess <= 1e-6:
        return longer, 0.0
    least = 0.01 * drop
    if over_form(least) >= length:
        return longer, drop
    return longer, drop - float(brentq(lambda reach: over_form(reach) - length, least, drop, xtol=1e-6))


def form_profile(form: Form, upper: Floats, lower: Floats) -> tuple[Floats, Floats]:
    """(depth below the upper end, level distance from it to the form's surface), m, in the tape's plane."""
    along = (lower - upper)[:2]
    step = float(np.linalg.norm(along))
    depths = np.linspace(0.0, float(upper[2] - lower[2]), HEIGHTS)
    outs = np.linspace(0.0, step + 0.1, OUTWARDS)
    direction = along / step if step > 1e-9 else upper[:2] / max(float(np.linalg.norm(upper[:2])), 1e-9)
    plan = upper[:2] + outs[:, None] * direction
    grid = np.column_stack([np.tile(plan, (HEIGHTS, 1)), np.repeat(upper[2] - depths, OUTWARDS)])
    fullness = form.fullness(grid).reshape(HEIGHTS, OUTWARDS)
    surface = np.array([last_crossing(outs, row) for row in fullness])
    return depths, np.maximum(surface - surface[0], 0.0)


def last_crossing(outs: Floats, fullness: Floats) -> float:
    """m out to where the form's surface is left for good; 0 where the line never was inside."""
    inside = np.flatnonzero(fullness < 1.0)
    if len(inside) == 0:
        return 0.0
    last = int(inside[-1])
    if last + 1 == len(outs):
        return float(outs[last])
    low, high = fullness[last], fullness[last + 1]
    return float(outs[last] + (1.0 - low) / (high - low) * (outs[last + 1] - outs[last]))


def taut_length(depths: Floats, outs: Floats) -> float:
    """m, length of the string pulled taut from the first place to the last, kept outside all between."""
    hull: list[tuple[float, float]] = []
    for place in zip(depths.tolist(), outs.tolist(), strict=True):
        while len(hull) >= 2 and not bulges_out(hull[-2], hull[-1], place):
            hull.pop()
        hull.append(place)
    return float(np.linalg.norm(np.diff(np.array(hull), axis=0), axis=1).sum())


def bulges_out(first: tuple[float, float], middle: tuple[float, float], last: tuple[float, float]) -> bool:
    """Whether the middle place lies further out than the straight line between its neighbours."""
    turn = (middle[0] - first[0]) * (last[1] - first[1]) - (middle[1] - first[1]) * (last[0] - first[0])
    return turn < 0.0
