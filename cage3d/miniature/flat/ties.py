"""Ties of a flat model: bars across the ring of the hoop that they tie, in one piece with it; mm."""

from __future__ import annotations

from itertools import combinations

from manifold3d import CrossSection

from cage3d.miniature.flat.plan import FlatPlan
from cage3d.miniature.flat.shapes import strip
from cage3d.miniature.flat.stand import SHOULDER, tab
from cage3d.miniature.lines import TieLine

MEETING = 0.05  # mm2 that two bars share where they cross


def tie_bars(plan: FlatPlan, with_stand: bool) -> tuple[dict[int, list[CrossSection]], tuple[TieLine, ...]]:
    """The bars of every hoop's ties, by the hoop from 0; and the ties that cannot lie flat.

    Left out are ties from one hoop to another, and those that would run through an upright of the stand.
    """
    bars: dict[int, list[CrossSection]] = {}
    left_out = []
    for tie in plan.lines.ties:
        bar = (
            None
            if tie.hoop is None
            else strip(plan.ring_planes[tie.hoop].flat(tie.points), plan.process.section)
        )
        if tie.hoop is None or bar is None or (with_stand and through_uprights(plan, tie.hoop, bar)):
            left_out.append(tie)
        else:
            bars.setdefault(tie.hoop, []).append(bar)
    return bars, tuple(left_out)


def through_uprights(plan: FlatPlan, hoop: int, bar: CrossSection) -> bool:
    """Whether a bar comes nearer to an upright than pieces that slide past each other need."""
    x, half = tab(plan)
    spare = 2.0 * plan.laps.clearance
    room = CrossSection.square((plan.laps.thickness + spare, 2.0 * (half + SHOULDER) + spare), center=True)
    axis = plan.ring_planes[hoop].origin[None] * [0.0, 0.0, 1.0]  # uprights stand beside the waist's axis
    at_x, at_y = plan.ring_planes[hoop].flat(axis)[0]
    return any((room.translate((at_x + side * x, at_y)) ^ bar).area() > 0.0 for side in (-1.0, 1.0))


def openings(outline: CrossSection, closed: bool, bars: list[CrossSection]) -> int:
    """How many openings a hoop with its ties has: counted, unless bars meet between their ends."""
    if any((one ^ other).area() > MEETING for one, other in combinations(bars, 2)):
        return int(outline.num_contour()) - 1
    return int(closed) + len(bars)
