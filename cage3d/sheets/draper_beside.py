"""What the draper asks where hoops stand beside her: cloth goes round both baskets at once."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.spatial import ConvexHull

from cage3d.design.models import Design
from cage3d.mesh.cover_beside import her_ring, hoops_at_one_level
from cage3d.report.curves import DIRECTIONS, hoop_curve
from cage3d.report.record import Report
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.waist import waist_ring
from cage3d.sheets.draper import (
    CENTRES,
    Draping,
    Fall,
    Gore,
    alike_once,
    fall,
    girths,
    length_of,
    over_centres,
)
from cage3d.sheets.tapes import side_of
from cage3d.wording import numbered

ON_IT = 0.01  # m from the taut cloth in plan: a tape that is no farther in lies under it
# Round by her left, each with the direction in which it begins.
QUARTERS = {
    "front to her left": "front",
    "her left to back": "left",
    "back to her right": "back",
    "her right to front": "right",
}


def draping_beside(settled: SettledCage, report: Report) -> Draping:
    """Measures over a settled cage with hoops beside her, of the steel's centre line."""
    levels = hoops_at_one_level(settled.cage.design)
    ended = [ended_above(settled.cage.design, levels[:number]) for number in range(1, len(levels) + 1)]
    loops = [taut_round(settled, hoops, above) for hoops, above in zip(levels, ended, strict=True)]
    names = tuple(numbered("hoop", [hoop + 1 for hoop in hoops]) for hoops in levels)
    falls = (*over_centres(settled, loops), *over_tapes(settled, report, levels, loops))
    return Draping(girths(settled, loops, names), falls, quarters(settled, loops), names, "quarter")


def taut_round(settled: SettledCage, hoops: Sequence[int], ended: Sequence[int] = ()) -> Floats:
    """(k + 1, 3) m, a cloth drawn taut round hoops (from 0) at one level and round her.

    ended: hoops above, from which it hangs straight down.
    """
    points = np.vstack([hoop_curve(settled, hoop).points for hoop in hoops])
    level = float(points[:, 2].mean())
    plans = [hoop_curve(settled, hoop).points[:, :2] for hoop in ended]
    fallen = [np.column_stack([plan, np.full(len(plan), level)]) for plan in plans]
    points = np.vstack([points, her_ring(settled, level), *fallen])
    around = points[ConvexHull(points[:, :2]).vertices]  # from above against the clock: by her left
    return np.vstack([around, around[:1]])


def ended_above(design: Design, levels: Sequence[tuple[int, ...]]) -> list[int]:
    """The lowest hoop (from 0) of a basket that has none at the last of these levels.

    None where a hoop there goes round her: it is what a cloth then meets.
    """
    if any(design.hoops[hoop].beside is None for hoop in levels[-1]):
        return []
    lowest = {design.hoops[hoop].beside: hoop for hoops in levels for hoop in hoops}
    return [hoop for side, hoop in lowest.items() if side is not None and hoop not in levels[-1]]


def over_tapes(
    settled: SettledCage, report: Report, levels: Sequence[tuple[int, ...]], loops: Sequence[Floats]
) -> list[Fall]:
    """Tapes that lie under the cloth all the way from the waistband to the lowest hoop of their basket."""
    stations, rows = settled.cage.stations, []
    starts = waist_ring(settled.cage.design, stations, 0.0)
    loop_of = {hoop + 1: loop for hoops, loop in zip(levels, loops, strict=True) for hoop in hoops}
    for tape, begins in enumerate(settled.cage.connectivity.anchors):
        passed = [(hoop.number, at) for hoop in report.hoops if (at := hoop.at_tape(tape + 1)) is not None]
        points = [np.array([at.x_m, at.y_m, at.z_m]) for _, at in passed]
        under = [
            within(loop_of[hoop], point) < ON_IT for (hoop, _), point in zip(passed, points, strict=True)
        ]
        if begins >= 0 and passed and all(under):
            rows.append(fall(f"tape {tape + 1} {side_of(float(stations[tape]))}", starts[tape], points))
    return rows


def within(loop: Floats, point: Floats) -> float:
    """m in plan from a place inside a closed convex loop, or on it, out to it."""
    ways = np.diff(loop[:, :2], axis=0)
    out = np.column_stack([ways[:, 1], -ways[:, 0]]) / np.linalg.norm(ways, axis=1)[:, None]
    return float((((loop[:-1, :2] - point[:2]) * out).sum(axis=1)).min())


def quarters(settled: SettledCage, loops: Sequence[Floats]) -> tuple[Gore, ...]:
    """The cloth from centre front to her left, on to centre back, and so round: at the waist and at every level."""
    waist = settled.cage.design.wearer.waist / len(CENTRES)
    columns = [np.full(len(QUARTERS), waist), *(quarters_of(loop) for loop in loops)]
    return alike_once(np.column_stack(columns), list(QUARTERS))


def quarters_of(loop: Floats) -> Floats:
    """(4,) m along a closed loop about her axis, against the clock, from one of the four directions to the next."""
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(loop, axis=0), axis=1))])
    turned = np.unwrap(np.arctan2(loop[:, 1], loop[:, 0]))
    at = []
    for place in QUARTERS.values():
        x, y = DIRECTIONS[place]
        ahead = turned[0] + (np.arctan2(y, x) - turned[0]) % (2.0 * np.pi)
        at.append(along_at(loop, along, turned, float(ahead)))
    return np.asarray(np.diff([*at, at[0]]) % length_of(loop))


def along_at(loop: Floats, along: Floats, turned: Floats, ahead: float) -> float:
    """m along a loop to where it lies in a direction (radians, within those of `turned`)."""
    edge = int(np.clip(np.searchsorted(turned, ahead, side="right") - 1, 0, len(loop) - 2))
    normal = np.array([-np.sin(ahead), np.cos(ahead)])
    before, after = (float(loop[edge + step, :2] @ normal) for step in (0, 1))
    share = before / (before - after) if before != after else 0.0
    return float(along[edge] + share * (along[edge + 1] - along[edge]))
