"""How much room the wearer takes at a level, as far as a first design knows her: two girths of the usual proportion."""

from __future__ import annotations

import math

import numpy as np

from cage3d.design import trade
from cage3d.design.first.brief import Brief, edge_of
from cage3d.design.first.ovals import Oval


def hip_half_breadth(hip: float) -> float:
    """m, half the breadth of a hip of this girth: an ellipse of the usual proportion, made fuller."""
    return hip / trade.HIP_FULLNESS / ellipse_girth(trade.HIP_DEPTH_PER_BREADTH)


def ellipse_girth(depth: float) -> float:
    """Girth of an ellipse whose half axes are 1 and `depth` (Ramanujan 1914)."""
    return math.pi * (3 * (1 + depth) - math.sqrt((3 + depth) * (1 + 3 * depth)))


def waist_oval(brief: Brief) -> Oval:
    """The ring from which tapes hang: an ellipse as long as the waist."""
    depth = trade.WAIST_DEPTH_PER_BREADTH
    half = brief.waist / ellipse_girth(depth)
    return Oval(half, half * depth, half * depth)


def girth_at(brief: Brief, below: float) -> float:
    """m round her this far below the band's edge: from waist to hip ever less steeply, and the hip's from there.

    As she is drawn: she widens fast below the waist and stands upright at the hip, which a parabola follows.
    """
    if brief.hip is None or brief.hip_drop is None:
        return 0.0
    drop = max(brief.hip_drop - trade.BAND_DEPTH / 2, 0.01)
    left = 1.0 - min(below / drop, 1.0)
    return brief.waist + (brief.hip - brief.waist) * (1.0 - left**2)


def room_at(brief: Brief, below: float) -> Oval:
    """The least oval this far below the band's edge that clears her."""
    half, depth = hip_half_breadth(girth_at(brief, below)), trade.HIP_DEPTH_PER_BREADTH
    room = trade.HIP_ROOM_PLANNED if half else 0.0
    return Oval(half + room, half * depth + room, half * depth + room)


def body_length(brief: Brief, below: float) -> float:
    """m, the least length of a round hoop this far below the band's edge that clears her; 0 where no hip is known."""
    return math.tau * room_at(brief, below).half_breadth


def body_at(brief: Brief, below: float) -> Oval:
    """She herself this far below the band's edge, to the floor: below the crotch both legs, close together."""
    waist, hip_drop = waist_oval(brief), brief.hip_drop or 0.0
    half = hip_half_breadth(brief.hip or 0.0)
    hip_height = brief.waist_height - hip_drop
    crotch, knee = trade.CROTCH_PER_HIP * hip_height, trade.KNEE_PER_HIP * hip_height
    depth = half * trade.HIP_DEPTH_PER_BREADTH
    rows = [(edge_of(brief), waist.half_breadth, waist.back), (hip_height, half, depth)]
    rows += [(crotch - way * (crotch - knee), half * b, depth * d) for way, b, d in trade.LEGS_ABOVE_KNEE]
    rows += [(knee * (1.0 - way), half * b, depth * d) for way, b, d in trade.LEGS_BELOW_KNEE]
    heights, breadths, depths = np.array(rows[::-1]).T
    height = edge_of(brief) - below
    wide, deep = float(np.interp(height, heights, breadths)), float(np.interp(height, heights, depths))
    return Oval(wide, deep, deep)
