"""What the draper asks who makes the skirt over the cage: girths, lengths over it, spread of the gores."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.spatial import ConvexHull

from cage3d.design.routes import stations_on
from cage3d.design.rules.openings import is_half
from cage3d.report.curves import DIRECTIONS, hoop_curve
from cage3d.report.record import Report
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.waist import waist_ring
from cage3d.sheets.steel import steel_cut
from cage3d.sheets.tapes import side_of

CENTRES = {"front": 0.0, "left": 0.25, "back": 0.5, "right": 0.75}  # shares of the waist's girth
SAME = 0.0005  # m; gores whose spreads differ by less are cut alike


@dataclass(frozen=True)
class Girth:
    """How far round a taut cloth goes."""

    place: str  # waist, hoop 1, knee, floor
    height: float  # m above the floor, the mean all round
    girth: float  # m


@dataclass(frozen=True)
class Fall:
    """The way down over the cage in one place, from the waist's middle line."""

    place: str  # front, her left, tape 3 L
    to_hem: float | None  # m to the lowest hoop; None where that has no steel there
    to_floor: float  # m, on from the outermost hoop straight down


@dataclass(frozen=True)
class Gore:
    """The cloth between two neighbouring tapes; gores that are alike are told once."""

    names: tuple[str, ...]  # '1–2', '12–1'
    spreads: tuple[float, ...]  # m, at the waist and at every hoop


@dataclass(frozen=True)
class Draping:
    """The cage as the draper measures it."""

    girths: tuple[Girth, ...]
    falls: tuple[Fall, ...]
    gores: tuple[Gore, ...]
    levels: tuple[str, ...]  # what the spreads are told at below the waist: hoop 1, hoops 1 and 2
    pieces: str = "gore"  # what a piece of the cloth is called


def draping_of(settled: SettledCage, report: Report) -> Draping:
    """Measures over a settled cage, of the steel's centre line."""
    loops = [taut_loop(settled, hoop) for hoop in range(len(report.hoops))]
    names = hoop_names(loops)
    return Draping(girths(settled, loops, names), falls(settled, report, loops), gores(settled, loops), names)


def hoop_names(loops: Sequence[Floats]) -> tuple[str, ...]:
    return tuple(f"hoop {number}" for number in range(1, len(loops) + 1))


def taut_loop(settled: SettledCage, hoop: int) -> Floats:
    """(k + 1, 3) m, a cloth drawn taut round one hoop: it bridges an opening and every hollow.

    Of a hoop that stands before or behind her, round her as well.
    """
    points, form = hoop_curve(settled, hoop).points, settled.cage.form
    if form is not None and is_half(settled.cage.design, hoop):
        points = np.vstack([points, form.ring(float(points[:, 2].mean()))])
    around = points[ConvexHull(points[:, :2]).vertices]
    return np.vstack([around, around[:1]])


def length_of(line: Floats) -> float:
    """m along a line of points."""
    return float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())


def girths(settled: SettledCage, loops: Sequence[Floats], names: Sequence[str]) -> tuple[Girth, ...]:
    """Waist, every loop by its name, the knee where it was measured, and the floor, which a cloth meets straight below
    what is outermost.
    """
    design = settled.cage.design
    waist = float(waist_ring(design, np.array([0.0, 0.25, 0.5, 0.75]), 0.0)[:, 2].mean())
    rows = [Girth("waist", waist, design.wearer.waist)]
    rows += [
        Girth(name, float(loop[:-1, 2].mean()), length_of(loop))
        for name, loop in zip(names, loops, strict=True)
    ]
    outermost = np.vstack(loops)[:, :2]
    ring = outermost[ConvexHull(outermost).vertices]
    floor = Girth("floor", 0.0, length_of(np.vstack([ring, ring[:1]])))
    knee = design.wearer.knee_height
    if knee is not None:
        low = rows[-1].height
        heights, rounds = [row.height for row in reversed(rows)], [row.girth for row in reversed(rows)]
        rows.append(
            Girth("knee", knee, floor.girth if knee < low else float(np.interp(knee, heights, rounds)))
        )
    return tuple(sorted([*rows, floor], key=lambda row: -row.height))


def falls(settled: SettledCage, report: Report, loops: Sequence[Floats]) -> tuple[Fall, ...]:
    """Front, left, back, right, and every tape that runs from the waistband over every hoop."""
    design, rows = settled.cage.design, over_centres(settled, loops)
    starts = waist_ring(design, settled.cage.stations, 0.0)
    for tape in whole_tapes(settled):
        points = [point for hoop in report.hoops if (point := hoop.at_tape(tape + 1)) is not None]
        on_hoops = [np.array([point.x_m, point.y_m, point.z_m]) for point in points]
        side = side_of(float(settled.cage.stations[tape]))
        rows.append(fall(f"{design.line} {tape + 1} {side}", starts[tape], on_hoops))
    return tuple(rows)


def over_centres(settled: SettledCage, loops: Sequence[Floats]) -> list[Fall]:
    """The ways down at her front, left, back and right."""
    rows = []
    for place, at in CENTRES.items():
        ahead = np.array(DIRECTIONS[place])
        found = [crossing(loop, ahead) for loop in loops]
        start = waist_ring(settled.cage.design, np.array([at]), 0.0)[0]
        rows.append(fall(place if place in ("front", "back") else f"her {place}", start, found))
    return rows


def whole_tapes(settled: SettledCage) -> list[int]:
    """Tapes (from 0) that run from the waistband over every hoop."""
    joined = settled.cage.connectivity
    return [int(tape) for tape in np.flatnonzero((joined.anchors >= 0) & joined.passed.all(axis=0))]


def crossing(loop: Floats, ahead: Floats) -> Floats | None:
    """(3,) m where a loop lies in a level direction from the waist's axis, its outermost place; None where it
    does not.
    """
    out = loop[:, :2] @ ahead
    aside = loop[:, 0] * ahead[1] - loop[:, 1] * ahead[0]
    at = np.flatnonzero((aside[:-1] <= 0.0) != (aside[1:] <= 0.0))
    share = (aside[at] / (aside[at] - aside[at + 1]))[:, None]
    places = loop[at] + share * (loop[at + 1] - loop[at])
    places = places[places[:, :2] @ ahead > 0.0]
    return None if out.max() <= 0.0 or not len(places) else places[np.argmax(places[:, :2] @ ahead)]


def fall(place: str, start: Floats, on_hoops: Sequence[Floats | None]) -> Fall:
    """The way down from the waist over the hoops, which a taut cloth bridges where one lies further in."""
    known = [point for point in on_hoops if point is not None]
    hem = on_hoops[-1]
    outermost = max(known, key=lambda point: float(np.hypot(point[0], point[1])), default=start)
    foot = outermost * np.array([1.0, 1.0, 0.0])
    to_hem = None if hem is None else length_of(taut([start, *known]))
    return Fall(place, to_hem, length_of(taut([start, *known, foot])))


def taut(points: Sequence[Floats]) -> Floats:
    """(k, 3) m, those of falling points that a cloth drawn over them from outside touches."""
    kept: list[Floats] = []
    for point in points:
        while len(kept) > 1 and inside(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return np.array(kept)


def inside(above: Floats, middle: Floats, below: Floats) -> bool:
    """Whether the middle point lies within the straight line from the one above it to the one below."""
    (r1, z1), (r2, z2), (r3, z3) = (
        (float(np.hypot(p[0], p[1])), float(p[2])) for p in (above, middle, below)
    )
    return (r2 - r1) * (z3 - z2) - (z2 - z1) * (r3 - r2) >= 0.0


def gores(settled: SettledCage, loops: Sequence[Floats]) -> tuple[Gore, ...]:
    """Between neighbouring tapes that run from the waistband over every hoop, round by the wearer's left.

    Across an opening what is left of the girth.
    """
    cage, tapes = settled.cage, whole_tapes(settled)
    if len(tapes) < 2:
        return ()
    columns = [gaps(cage.stations[tapes]) * cage.design.wearer.waist]
    columns += [spreads(settled, hoop, tapes, length_of(loop)) for hoop, loop in enumerate(loops)]
    names = [f"{tape + 1}–{after + 1}" for tape, after in zip(tapes, [*tapes[1:], tapes[0]], strict=True)]
    return alike_once(np.column_stack(columns), names)


def alike_once(spreads: Floats, names: Sequence[str]) -> tuple[Gore, ...]:
    """Pieces of cloth, those that are alike together; spreads: (G, 1 + H) m, names: of each."""
    alike: dict[tuple[float, ...], list[str]] = {}
    for name, row in zip(names, spreads, strict=True):
        key = next((key for key in alike if np.allclose(key, row, rtol=0.0, atol=SAME)), tuple(row.tolist()))
        alike.setdefault(key, []).append(name)
    return tuple(Gore(tuple(own), key) for key, own in alike.items())


def gaps(stations: Floats) -> Floats:
    """(n,) share of a girth between each place round it and the next."""
    return np.diff(np.append(stations, stations[0] + 1.0))


def spreads(settled: SettledCage, hoop: int, tapes: Sequence[int], girth: float) -> Floats:
    """(n,) m of one hoop between each of these tapes and the next."""
    cage = settled.cage
    if cage.connectivity.closed[hoop]:
        return np.asarray(gaps(stations_on(cage.design)[hoop, tapes]) * cage.steels[hoop].finished)
    at = {name: mark.at for mark in steel_cut(cage, hoop).marks for name in mark.names}
    along = [at[f"{cage.design.line} {tape + 1}"] for tape in tapes]
    own = np.array([(after - before) for before, after in pairwise([*along, along[0]])])
    opening = int(np.argmin(own))  # the step back over the opening
    own[opening] = girth - (own.sum() - own[opening])
    return own


def gore_names(gore: Gore, count: int) -> str:
    """'all', or the gores by the tapes beside them."""
    if len(gore.names) == count:
        return "all"
    return ", ".join(gore.names)
