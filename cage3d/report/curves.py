"""The settled hoop as a smooth curve, and what a tape measure finds on it.

Nodes lie on the curve and chords cut its corners: measured on the nodes alone, a hoop of
70 nodes may come out 1 mm narrow. A cubic spline through the nodes is good to microns.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline

from cage3d.design import trade
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage
from cage3d.steady import first_largest, first_least, steady

POINTS_PER_EDGE = 16
DIRECTIONS = {"front": (0.0, -1.0), "left": (1.0, 0.0), "back": (0.0, 1.0), "right": (-1.0, 0.0)}
DIAMETER_COUNT = 180


@dataclass(frozen=True)
class HoopCurve:
    """points: (n, 3) m along the centre line by the wearer's left; a closed one ends where it began."""

    points: Floats
    closed: bool
    axis: tuple[float, float] = (
        0.0,
        0.0,
    )  # m, x and y, from which its sides are told: the waist's, or its middle


def hoop_curve(settled: SettledCage, hoop: int) -> HoopCurve:
    """The smooth centre line of hoop `hoop` (from 0) through its settled nodes; worked out once."""
    known: dict[int, HoopCurve] = settled.hoop_curves
    if hoop not in known:
        known[hoop] = drawn_along(hoop_spline(settled, hoop), settled.cage, hoop)
    return known[hoop]


def off_the_band(settled: SettledCage, hoop: int) -> Floats:
    """(n, 3) m of that line, without what lies on the waistband beside ends that are sewn to it."""
    joined, points = settled.cage.connectivity, hoop_curve(settled, hoop).points
    for place in joined.sewn[joined.edge_hoop[joined.sewn_edges] == hoop, 0]:
        points = points[np.linalg.norm(points - settled.positions[place], axis=1) > trade.BAND_HOLDS]
    return points


def hoop_spline(settled: SettledCage, hoop: int) -> CubicSpline:
    """The same line as a function of m of steel from its first node to (3,) m; worked out once."""
    known: dict[int, CubicSpline] = settled.hoop_splines
    if hoop not in known:
        known[hoop] = spline_through(settled.cage, settled.positions, hoop)
    return known[hoop]


def curve_through(cage: Cage, positions: Floats, hoop: int) -> HoopCurve:
    """The smooth centre line of hoop `hoop` (from 0) with the cage's nodes at `positions` (N, 3) m."""
    return drawn_along(spline_through(cage, positions, hoop), cage, hoop)


def spline_through(cage: Cage, positions: Floats, hoop: int) -> CubicSpline:
    joined = cage.connectivity
    nodes = positions[joined.hoop_nodes[hoop]]
    arcs = cage.parameters.arc_length[joined.hoop_edges[hoop]]
    along = np.concatenate([[0.0], np.cumsum(arcs)])
    if joined.closed[hoop]:
        return CubicSpline(along, np.vstack([nodes, nodes[:1]]), bc_type="periodic")
    # A free end bears no moment, and the strip is straight by nature: it ends without curvature.
    return CubicSpline(along, nodes, bc_type="natural")


def drawn_along(spline: CubicSpline, cage: Cage, hoop: int) -> HoopCurve:
    closed = bool(cage.connectivity.closed[hoop])
    points = np.asarray(spline(subdivided(spline.x)))
    if closed:
        # To the last bit: a seam that straddles centre front by rounding would hide the crossing there.
        points[-1] = points[0]
    beside = cage.design.hoops[hoop].beside is not None
    return HoopCurve(points, closed, middle_of(points) if beside else (0.0, 0.0))


def middle_of(points: Floats) -> tuple[float, float]:
    """m, x and y half way between the outermost places of points (n, 3), from side to side and front to back."""
    x, y = (points[:, :2].min(axis=0) + points[:, :2].max(axis=0)) / 2.0
    return float(x), float(y)


def subdivided(along: Floats) -> Floats:
    """Every interval in POINTS_PER_EDGE parts; the given places stay among them."""
    parts = np.arange(POINTS_PER_EDGE) / POINTS_PER_EDGE
    inner = along[:-1, None] + np.diff(along)[:, None] * parts
    return np.append(inner.ravel(), along[-1])


def height_towards(curve: HoopCurve, direction: str) -> tuple[float, bool]:
    """(m above the floor, whether an end was measured) towards a direction from the curve's axis."""
    place, at_end = place_towards(curve, direction)
    return float(place[2]), at_end


def place_towards(curve: HoopCurve, direction: str) -> tuple[Floats, bool]:
    """((3,) m, whether an end was measured) where a hoop lies towards a direction from the curve's axis.

    Where it crosses more than once the outermost place counts. Where an open hoop has no steel
    in that direction, its nearest end (by angle) is measured.
    """
    ahead_x, ahead_y = DIRECTIONS[direction]
    x, y = curve.points[:, 0] - curve.axis[0], curve.points[:, 1] - curve.axis[1]
    ahead = x * ahead_x + y * ahead_y
    aside = x * ahead_y - y * ahead_x
    crosses = np.flatnonzero((aside[:-1] <= 0.0) != (aside[1:] <= 0.0))
    share = aside[crosses] / (aside[crosses] - aside[crosses + 1])
    outwards = ahead[crosses] + share * (ahead[crosses + 1] - ahead[crosses])
    places = curve.points[crosses] + share[:, None] * (curve.points[crosses + 1] - curve.points[crosses])
    if np.any(outwards > 0.0):
        return places[first_largest(outwards)], False
    ends = [0, -1] if not curve.closed else list(range(len(curve.points)))
    nearest = ends[first_least(np.abs(np.arctan2(aside[ends], ahead[ends])))]
    return curve.points[nearest], True


def widths_in_plan(points: Floats) -> Floats:
    """(DIAMETER_COUNT,) m between two parallel lines that take the hoop between them, in every direction."""
    turn = np.arange(DIAMETER_COUNT) * np.pi / DIAMETER_COUNT
    across = points[:, :2] @ np.stack([np.cos(turn), np.sin(turn)])
    return np.asarray(np.ptp(across, axis=0))


def plane_of(points: Floats) -> tuple[float, float]:
    """(tilt in degrees, largest distance from the plane in m) of the best plane through a hoop."""
    centred = points - points.mean(axis=0)
    normal = np.linalg.svd(centred, full_matrices=False)[2][2]
    level_part = float(np.hypot(normal[0], normal[1]))
    tilt = float(np.degrees(np.arctan2(level_part, abs(normal[2]))))
    return tilt, float(np.abs(centred @ normal).max())


def side_word(x: float, y: float) -> str:
    """Where a place lies seen from the waist's axis: 'front', 'front left', 'left', ..."""
    words = ("front", "front left", "left", "back left", "back", "back right", "right", "front right")
    eighth = int(steady(float(np.arctan2(x, -y)) / (np.pi / 4.0), 0))
    return words[eighth % 8]
