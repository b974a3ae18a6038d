"""The waistband's lower edge, where every tape starts, and the tapes' stations round it."""

from __future__ import annotations

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Design, WaistHeights
from cage3d.design.points import station_fractions
from cage3d.shape.arrays import Floats
from cage3d.shape.ovals import at_shares, measured_oval, scaled_to_girth

STEP = 1e-4  # of the girth, either way, to tell which way the band runs


def waist_oval(design: Design) -> tuple[float, float]:
    """(half breadth, half depth) in m of the waist ring: an ellipse scaled to the waist girth."""
    wearer = design.wearer
    breadth, depth = 1.0, trade.WAIST_DEPTH_PER_BREADTH
    if wearer.waist_breadth is not None and wearer.waist_depth is not None:
        breadth, depth = wearer.waist_breadth, wearer.waist_depth
    return scaled_to_girth(breadth, depth, wearer.waist)


def waist_ring(design: Design, fractions: Floats, below_waist: float) -> Floats:
    """(n, 3) m, places on the waist ring at shares of its girth, `below_waist` under the waist line."""
    flat = at_shares(*measured_oval(*waist_oval(design)), fractions)
    return np.column_stack([flat, waist_levels(design, fractions) - below_waist])


def along_the_band(design: Design, fraction: float) -> Floats:
    """(3,) unit, along the waistband by the wearer's left, at a share of its girth."""
    before, after = waist_ring(design, np.array([fraction - STEP, fraction + STEP]), 0.0)
    return np.asarray((after - before) / np.linalg.norm(after - before))


def tape_zeros(design: Design) -> Floats:
    """(T, 3) m, the zero of every tape: the waistband's lower edge, half its depth below the waist."""
    return waist_ring(design, station_fractions(design.tapes), design.waistband.depth / 2.0)


def waist_levels(design: Design, fractions: Floats) -> Floats:
    """(n,) m above the floor; the smoothest wave through front, left, back and right heights."""
    level = design.wearer.waist_height
    if not isinstance(level, WaistHeights):
        return np.full(len(fractions), float(level))
    turn = 2.0 * np.pi * fractions
    mean = (level.front + level.left + level.back + level.right) / 4.0
    front_back = (level.front - level.back) / 2.0
    left_right = (level.left - level.right) / 2.0
    twice = (level.front + level.back - level.left - level.right) / 4.0
    return np.asarray(
        mean + front_back * np.cos(turn) + left_right * np.sin(turn) + twice * np.cos(2.0 * turn)
    )
