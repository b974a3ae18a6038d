"""Hoops as level circles: how wide, which tapes come to each from where, how far down, and whether they reach."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cage3d.design import trade
from cage3d.design.models import Design
from cage3d.design.points import station_fractions
from cage3d.design.routes import BAND, NOWHERE, above_table, drop_table, stations_on
from cage3d.design.rules.body import half_measures_of_the_hip
from cage3d.design.rules.cage import FEWEST_TAPES, MOST_TAPES, counts_agree
from cage3d.design.rules.openings import opening_share

Floats = NDArray[np.float64]
ROOM = 1e-9  # m, for rounding
MIRRORED = np.array([-1.0, 1.0])


def hoop_girths(design: Design) -> tuple[float, ...]:
    """m, length of the whole circle each hoop makes; an open hoop's with its gap."""
    girths = []
    for hoop, stations in zip(design.hoops, stations_on(design), strict=True):
        if design.cloth is not None:
            girths.append(design.cloth.circle_of(hoop))
        elif hoop.opening == "none":
            girths.append(hoop.length)
        else:
            held = max(hoop.length - 2 * hoop.stands_out, 0.0)
            girths.append(held / max(1.0 - opening_share(stations, hoop.opening), 1e-6))
    return tuple(girths)


def measurable(design: Design) -> bool:
    """Counts agree, so that circles and drops can be compared (other rules say where they do not)."""
    tapes = design.tapes.count
    counts = FEWEST_TAPES <= tapes <= MOST_TAPES and len(station_fractions(design.tapes)) == tapes
    return counts and counts_agree(design)


def can_reach(centres: Floats, lengths: Floats, beyond: float = -math.inf) -> bool:
    """Whether a hoop, moved sideways as it likes, lies within reach of all its tapes.

    centres: (T, 2) m, the step at each tape; lengths: (T,) m. The hoop may move to any
    point that lies in all circles of these centres and radii: they share a point exactly
    if a centre or a crossing of two of the circles lies in all of them. beyond: m, a line
    along y on whose far side it must stay; then a crossing with that line counts too.
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
    if beyond > -math.inf:
        half = np.sqrt(np.clip(lengths**2 - (beyond - centres[:, 0]) ** 2, 0.0, None))
        on_line = [np.column_stack([np.full(len(half), beyond), centres[:, 1] + y]) for y in (half, -half)]
        candidates = np.vstack([candidates, *on_line])
        candidates = candidates[candidates[:, 0] >= beyond - ROOM]
    gaps = np.linalg.norm(candidates[:, None] - centres[None], axis=2) - lengths[None]
    return bool((gaps.max(axis=1, initial=0.0) <= 1e-6).any())


@dataclass(frozen=True)
class Reach:
    """A hoop on those of its tapes that come to it from one hoop above, or from the band; n tapes."""

    hoop: int  # from 0
    above: int  # hoop from 0, or BAND
    step: float  # m by which its circle is wider, outward positive; from the band to a hoop beside her, the longest
    steps: Floats  # (n,) m level at each tape, where the hoop is round and level in its place
    tapes: NDArray[np.intp]  # (n,) from 0
    drops: Floats  # (n,) m
    whole: bool  # no tape comes to it from elsewhere
    reached: bool  # whether the hoop, moved sideways as it likes, lies within reach of all of them

    @property
    def falls(self) -> Floats:
        """(n,) m down, were both hoops level and round about one axis."""
        return np.asarray(np.sqrt(np.clip(self.drops**2 - self.steps**2, 0.0, None)))

    @property
    def short(self) -> list[int]:
        """Tapes (from 0) that are shorter than the step; where hoops meet they do so off centre, and it is meant."""
        return [
            int(tape)
            for tape, drop, step in zip(self.tapes, self.drops, self.steps, strict=True)
            if 0.0 < drop < abs(step) - ROOM
        ]


def reaches(design: Design) -> Iterator[Reach]:
    """Every hoop from the top, once for each hoop that its tapes come from."""
    table, stations, above = drop_table(design), stations_on(design), above_table(design)
    radii = [
        girth / math.tau for girth in (*hoop_girths(design), design.wearer.waist)
    ]  # that of BAND is the last
    for hoop in range(len(design.hoops)):
        sources = [int(source) for source in np.unique(above[:, hoop]) if source != NOWHERE]
        for source in sources:
            tapes = np.flatnonzero(above[:, hoop] == source)
            step, drops = radii[hoop] - radii[source], table[tapes, hoop]
            if source == BAND and design.hoops[hoop].beside is not None:
                yield reach_beside(design, hoop, tapes, drops, len(sources) == 1)
                continue
            outward = outward_at(stations[hoop, tapes])
            # A level ring on tapes that all span the step hangs centred; only else it must look for a place.
            reached = bool((drops >= abs(step) - ROOM).all()) or can_reach(-step * outward, drops)
            steps = np.full(len(tapes), step)
            yield Reach(hoop, source, step, steps, tapes, drops, len(sources) == 1, reached)


def outward_at(stations: Floats) -> Floats:
    """(n, 2) unit, out of a level circle at shares of its girth from its front."""
    turn = 2 * np.pi * stations
    return np.column_stack([np.sin(turn), -np.cos(turn)])


def reach_beside(
    design: Design, hoop: int, tapes: NDArray[np.intp], drops: Floats, whole: bool, share: float = 1.0
) -> Reach:
    """A hoop beside her on its tapes from the band: its circle lies clear of her, and no nearer.

    share: of the way out that its tapes need to span for `reached`.
    """
    half, radius = half_measures_of_the_waist(design), hoop_girths(design)[hoop] / math.tau
    out = outward_at(stations_on(design)[hoop, tapes]) * radius
    band = outward_at(station_fractions(design.tapes)[tapes]) * half
    if design.hoops[hoop].beside == "right":  # as if it stood at her left
        out, band = out * MIRRORED, band * MIRRORED
    inwards = radius if design.hoops[hoop].opening == "none" else float(-out[:, 0].min(initial=0.0))
    beyond = (half_measures_of_the_hip(design) or half)[0] + inwards
    steps = np.linalg.norm(out - band + np.array([beyond, 0.0]), axis=1)
    reached = bool((drops >= steps - ROOM).all()) or can_reach(band - out, drops / share, beyond)
    return Reach(hoop, BAND, float(steps.max()), steps, tapes, drops, whole, reached)


def half_measures_of_the_waist(design: Design) -> tuple[float, float]:
    """m, about half her breadth and half her depth at the waist."""
    half_breadth = design.wearer.waist / math.pi / (1.0 + trade.WAIST_DEPTH_PER_BREADTH)
    return half_breadth, half_breadth * trade.WAIST_DEPTH_PER_BREADTH


def levels_at_tapes(design: Design) -> list[Floats]:
    """H x (n,) m below the waistband's edge of every hoop, along each tape that comes to it from above."""
    below: dict[tuple[int, int], float] = {}
    levels: list[Floats] = []
    for reach in reaches(design):
        for tape, fall in zip(reach.tapes, reach.falls, strict=True):
            start = below.get((int(tape), reach.above))
            if start is None:  # it begins at that hoop
                start = 0.0 if reach.above == BAND else float(levels[reach.above].mean())
            below[int(tape), reach.hoop] = start + float(fall)
        own = np.array([level for (_, hoop), level in below.items() if hoop == reach.hoop])
        levels[reach.hoop :] = [own]
    return levels


def hoop_levels(design: Design) -> list[float]:
    """m below the waist of every hoop, were it level and round."""
    return [design.waistband.depth / 2 + float(own.mean()) for own in levels_at_tapes(design)]
