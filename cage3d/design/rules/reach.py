"""Rules of reach: can the tapes span the step from one hoop to the next at all?

A tape of length L cannot span a step dr > L between two circles (Pythagoras). A
tape shorter than the step is possible where the others let the hoop move off centre,
and where ties or laces take the hoop out of its circle: then it is a remark.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from cage3d.design import trade
from cage3d.design.models import Design
from cage3d.design.points import parse_point, station_fractions
from cage3d.design.rules.body import waist_heights
from cage3d.design.rules.cage import FEWEST_TAPES, MOST_TAPES, opening_share
from cage3d.errors import Problem
from cage3d.units import INCH, UnitError, show_length

Floats = NDArray[np.float64]
ROOM = 1e-9  # m, for rounding


def hoop_girths(design: Design) -> tuple[float, ...]:
    """m, length of the whole circle each hoop makes; an open hoop's with its gap."""
    stations = station_fractions(design.tapes)
    girths = []
    for hoop in design.hoops:
        if hoop.opening == "none":
            girths.append(hoop.length)
        elif design.cloth is not None:
            girths.append(hoop.length + design.cloth.gap)
        else:
            held = max(hoop.length - 2 * hoop.overhang, 0.0)
            girths.append(held / max(1.0 - opening_share(stations, hoop.opening), 1e-6))
    return tuple(girths)


def measurable(design: Design) -> bool:
    """Counts agree, so that circles and drops can be compared (other rules say where they do not)."""
    tapes, hoops = design.tapes.count, len(design.hoops)
    counts = FEWEST_TAPES <= tapes <= MOST_TAPES and len(station_fractions(design.tapes)) == tapes
    return (
        counts and len(design.tapes.drops) == tapes and all(len(row) == hoops for row in design.tapes.drops)
    )


def hoops_not_shorter_than_the_waist(design: Design) -> Iterator[Problem]:
    if not measurable(design):
        return
    for number, girth in enumerate(hoop_girths(design)):
        if girth < design.wearer.waist - ROOM:
            waist = show_length(design.wearer.waist, design.units)
            yield Problem(
                f"hoops[{number}].length",
                show_length(design.hoops[number].length, design.units),
                f"hoop {number + 1} is shorter than the waist ({waist}) and would not go round it",
                "Write its finished length round",
            )


def can_reach(centres: Floats, lengths: Floats) -> bool:
    """Whether a hoop, moved sideways as it likes, lies within reach of all its tapes.

    centres: (T, 2) m, the step at each tape; lengths: (T,) m. The hoop may move to any
    point that lies in all circles of these centres and radii: they share a point exactly
    if a centre or a crossing of two of the circles lies in all of them.
    """
    first, second = np.triu_indices(len(centres), 1)
    apart = centres[second] - centres[first]
    distance = np.linalg.norm(apart, axis=1)
    meet = (distance > ROOM) & (distance <= lengths[first] + lengths[second] + ROOM)
    first, second, apart, distance = first[meet], second[meet], apart[meet], distance[meet]
    along = (distance**2 + lengths[first] ** 2 - lengths[second] ** 2) / (2 * distance)
    across = np.sqrt(np.clip(lengths[first] ** 2 - along**2, 0.0, None))
    unit = apart / distance[:, None]
    normal = np.column_stack([-unit[:, 1], unit[:, 0]])
    middle = centres[first] + unit * along[:, None]
    candidates = np.vstack([centres, middle + normal * across[:, None], middle - normal * across[:, None]])
    gaps = np.linalg.norm(candidates[:, None] - centres[None], axis=2) - lengths[None]
    return bool((gaps.max(axis=1) <= 1e-6).any())


def steps(design: Design) -> Iterator[tuple[int, float, Floats, bool]]:
    """For each hoop: its number from 0, step dr (m, outward positive), drops (T,) m, whether they reach."""
    turn = 2 * np.pi * np.array(station_fractions(design.tapes))
    outward = np.column_stack([np.sin(turn), -np.cos(turn)])
    radii = [girth / math.tau for girth in (design.wearer.waist, *hoop_girths(design))]
    for hoop in range(len(design.hoops)):
        step = radii[hoop + 1] - radii[hoop]
        drops = np.array([row[hoop] for row in design.tapes.drops])
        # A level ring on tapes that all span the step hangs centred; only else it must look for a place.
        reached = bool((drops >= abs(step) - ROOM).all()) or can_reach(-step * outward, drops)
        yield hoop, step, drops, reached


def held_in(design: Design) -> set[int]:
    """Hoops (from 0) that ties or laces take out of their circles."""
    held = {hoop - 1 for panel in design.panels for hoop in panel.hoops}
    for tie in design.ties:
        for text in (tie.from_, tie.to):
            try:
                hoop, _ = parse_point(text)
            except UnitError:
                continue
            held |= {hoop - 1} if hoop else set()
    return held


def too_short(design: Design, hoop: int, step: float, drops: Floats) -> Problem:
    tape = int(np.argmin(drops))
    short = [number + 1 for number in np.flatnonzero(drops < abs(step) - ROOM)]
    above = f"hoop {hoop}" if hoop else "waistband"
    which = (
        ""
        if len(short) == len(drops)
        else f" on tape{'s' if len(short) > 1 else ''} {', '.join(map(str, short))}"
    )
    longer = "longer than its tapes can spread" if step > 0 else "shorter than its tapes can draw in to"
    least = show_length(abs(step) + trade.TAPE_SPARE, design.units)
    return Problem(
        f"tapes.drops[{tape}][{hoop}]",
        show_length(float(drops[tape]), design.units),
        f"tape {two(drops[tape], design)} shorter than step {two(abs(step), design)} "
        f"({above} to hoop {hoop + 1}){which}: the hoop is {longer}",
        f"Make this drop {least} or more, or the two lengths more alike",
    )


def two(metres: float, design: Design) -> str:
    """A length to two places of the design's unit, without the unit: the trade's 'tape 3.00'."""
    if design.units in ("in", "ft"):
        return f"{metres / INCH:.2f}"
    return show_length(float(metres), design.units)


def tapes_reach_from_hoop_to_hoop(design: Design) -> Iterator[Problem]:
    if not measurable(design):
        return
    held = held_in(design)
    for hoop, step, drops, reached in steps(design):
        if not reached and not {hoop, hoop - 1} & held:
            yield too_short(design, hoop, step, drops)


def tapes_short_of_the_step(design: Design) -> Iterator[Problem]:
    """Tapes shorter than the step that the hoop can only meet off centre, or held in by ties."""
    if not measurable(design):
        return
    held = held_in(design)
    for hoop, step, drops, reached in steps(design):
        if (drops < abs(step) - ROOM).any() and (reached or {hoop, hoop - 1} & held):
            yield too_short(design, hoop, step, drops)


def hem_above_the_floor(design: Design) -> Iterator[Problem]:
    """The longest way down, were every hoop level and round."""
    if not measurable(design):
        return
    down = sum(np.sqrt(np.clip(drops**2 - step**2, 0.0, None)) for _, step, drops, _ in steps(design))
    room = min(waist_heights(design)) - design.waistband.depth / 2
    if len(design.hoops) and float(np.max(down)) > room:
        yield Problem(
            "tapes.drops",
            "",
            f"the lowest hoop would hang {show_length(float(np.max(down)) - room, design.units)}"
            " below the floor",
            "Make the drops shorter, or check waist_height",
        )


def hoop_levels(design: Design) -> list[float]:
    """m below the waist of every hoop, were it level and round."""
    falls = [
        float(np.sqrt(np.clip(drops**2 - step**2, 0.0, None)).mean()) for _, step, drops, _ in steps(design)
    ]
    return [float(level) for level in design.waistband.depth / 2 + np.cumsum(falls)]


def girth_of_the_wearer(design: Design, below_waist: float) -> float:
    """m round the wearer at a level between waist and hip; 0 where nothing was measured there."""
    wearer = design.wearer
    if wearer.hip is None or wearer.hip_drop is None or below_waist > wearer.hip_drop:
        return 0.0
    levels, girths = [0.0, wearer.hip_drop], [wearer.waist, wearer.hip]
    if wearer.high_hip is not None and wearer.high_hip_drop is not None:
        levels.insert(1, wearer.high_hip_drop)
        girths.insert(1, wearer.high_hip)
    return float(np.interp(below_waist, levels, girths))


def hoops_go_round_the_wearer(design: Design) -> Iterator[Problem]:
    """A hoop that hangs at or under the hip and is shorter than it catches above: it never comes to hang there."""
    if not measurable(design):
        return
    girths = hoop_girths(design)
    for hoop, below in enumerate(hoop_levels(design)):
        at_level = girth_of_the_wearer(design, min(below, design.wearer.hip_drop or 0.0))
        if girths[hoop] < at_level - ROOM and design.hoops[hoop].opening == "none":
            yield Problem(
                f"hoops[{hoop}].length",
                show_length(design.hoops[hoop].length, design.units),
                f"hoop {hoop + 1} would hang {show_length(below, design.units)} below the waist, and the wearer is"
                f" {show_length(at_level, design.units)} round there or above: it catches on her and never hangs",
                "Make it longer than she is round, with 5 in or more to spare, or hang it higher",
            )


RULES = (hoops_not_shorter_than_the_waist, tapes_reach_from_hoop_to_hoop, hoops_go_round_the_wearer)
REMARKS = (tapes_short_of_the_step, hem_above_the_floor)
