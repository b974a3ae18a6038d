"""Heights and widths of hoops as found on the surfaces of a model, and by how much they leave the report."""

from __future__ import annotations

import numpy as np

from cage3d.report.record import HoopReport
from cage3d.shape.arrays import Floats, Ints

WITHIN = 0.0005  # m
CUTS = 720  # half planes through the waist's axis, the four sides among them
SIDES = {"front": 0, "left": CUTS // 4, "back": CUTS // 2, "right": 3 * CUTS // 4}


def middle_of_strip(points: Floats, triangles: Ints) -> Floats:
    """(CUTS, 3) m, the middle of the strip where a half plane through the waist's axis cuts it, front first.

    Rows without steel are no numbers. points: (n, 3) m in x left, y back, z up; triangles: (m, 3).
    """
    ends = np.vstack([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    middles = np.full((CUTS, 3), np.nan)
    for row, turn in enumerate(2 * np.pi * np.arange(CUTS) / CUTS):
        ahead, aside = np.array([np.sin(turn), -np.cos(turn)]), np.array([np.cos(turn), np.sin(turn)])
        off = points[:, :2] @ aside
        crossing = ends[(off[ends[:, 0]] < 0) != (off[ends[:, 1]] < 0)]
        share = off[crossing[:, 0]] / (off[crossing[:, 0]] - off[crossing[:, 1]])
        cut = points[crossing[:, 0]] + share[:, None] * (points[crossing[:, 1]] - points[crossing[:, 0]])
        reach = cut[:, :2] @ ahead
        if len(cut) and reach.max() > 0:
            cut = cut[reach > reach.max() - 0.02]  # the outermost place, where it crosses twice
            middles[row] = (cut.min(axis=0) + cut.max(axis=0)) / 2
    return middles


def ends_of_strip(points: Floats) -> Floats:
    """(2, 3) m, the middles of an open strip's two ends: of the points beside the widest gap round the axis."""
    turns = np.arctan2(points[:, 0], -points[:, 1])
    order = np.sort(turns)
    after = int(np.argmax(np.append(np.diff(order), order[0] + 2 * np.pi - order[-1])))
    found = []
    for end in (order[after], order[(after + 1) % len(order)]):
        near = points[np.abs(turns - end) * np.hypot(points[:, 0], points[:, 1]) < 0.001]
        found.append((near.min(axis=0) + near.max(axis=0)) / 2)
    return np.array(found)


def differences(points: Floats, triangles: Ints, hoop: HoopReport) -> dict[str, float]:
    """m by which a hoop of a model leaves the report: in its widths, and in height on every side with steel.

    Sides of a hoop beside her are seen from its own middle.
    """
    if hoop.beside is not None:
        points = points - (points.min(axis=0) + points.max(axis=0)) / 2 * [1, 1, 0]
    middles = middle_of_strip(points, triangles)
    told = {
        "front": hoop.height_front_m, "left": hoop.height_left_m,
        "back": hoop.height_back_m, "right": hoop.height_right_m,
    }  # fmt: skip
    found = {side: float(middles[SIDES[side], 2]) - height
             for side, height in told.items() if side not in hoop.measured_at_end}  # fmt: skip
    if hoop.open:
        middles = np.vstack([middles, ends_of_strip(points)])
    wide, deep, _ = np.nanmax(middles, axis=0) - np.nanmin(middles, axis=0)
    found["wide"] = float(wide) - hoop.width_side_side_m
    found["deep"] = float(deep) - hoop.width_front_back_m
    return found
