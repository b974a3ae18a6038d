"""What is read off a hung cage, heights and widths, and how each goes as the nodes move."""

from __future__ import annotations

import numpy as np

from cage3d.foresee.hem import hem_nodes
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats, Ints
from cage3d.steady import first_largest, first_least

TOWARDS = ((0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0))  # x, y of front, left, back, right
ACROSS = ((1.0, 0.0), (0.0, 1.0))  # from side to side, front to back
OF_A_HOOP, OF_THE_WHOLE = 6, 5  # figures
DIRECTIONS = 180
ON_IT = 1e-6  # m: nearer than this a node lies on the line towards a side


def figure_slopes(settled: SettledCage) -> Floats:
    """(6 H + 5 + C, 3 N) growth of every figure a metre of every node's coordinate.

    Of each hoop the heights at front, left, back and right, its widths from side to side and front to back; then the
    hem's least and greatest height and its greatest width, and both widths of the whole cage; then the height of each
    hoop at each of its tapes.
    """
    joined, positions = settled.cage.connectivity, settled.positions
    rows = []
    for hoop, (nodes, closed) in enumerate(zip(joined.hoop_nodes, joined.closed, strict=True)):
        beside = settled.cage.design.hoops[hoop].beside
        # Baskets alike at both sides of her are read alike: from front to back.
        nodes = nodes[::-1] if beside == "right" else nodes
        points = positions[nodes]
        read = height_slopes if beside is None else own_height_slopes
        own = [read(points, bool(closed), towards) for towards in TOWARDS]
        own += [width_slopes(points, across) for across in ACROSS]
        rows += [spread(slopes, nodes, len(positions)) for slopes in own]
    hem = hem_nodes(settled.cage)
    heights = positions[hem, 2]
    ends = [up_at(len(hem), place) for place in (first_least(heights), first_largest(heights))]
    rows += [spread(slopes, hem, len(positions)) for slopes in (*ends, widest_slopes(positions[hem]))]
    everywhere = np.concatenate(joined.hoop_nodes)
    rows += [
        spread(width_slopes(positions[everywhere], across), everywhere, len(positions)) for across in ACROSS
    ]
    rows += [up_at(len(positions), int(node)).ravel() for node in joined.crossing[joined.passed]]
    return np.array(rows)


def spread(slopes: Floats, nodes: Ints, count: int) -> Floats:
    """(3 N,) of slopes (n, 3) over some nodes."""
    whole = np.zeros((count, 3))
    whole[nodes] = slopes
    return whole.ravel()


def own_height_slopes(points: Floats, closed: bool, towards: tuple[float, float]) -> Floats:
    """(n, 3) of the height towards a side of a hoop beside her: from its own middle, which goes with its outermost
    places.
    """
    level = points[:, :2]
    middle = np.append((level.min(axis=0) + level.max(axis=0)) / 2.0, 0.0)
    slopes = height_slopes(points - middle, closed, towards)
    for axis, taken in enumerate(slopes[:, :2].sum(axis=0)):
        slopes[[first_least(level[:, axis]), first_largest(level[:, axis])], axis] -= taken / 2.0
    return slopes


def up_at(count: int, place: int) -> Floats:
    """(n, 3): the height of one of n points."""
    slopes = np.zeros((count, 3))
    slopes[place, 2] = 1.0
    return slopes


def height_slopes(points: Floats, closed: bool, towards: tuple[float, float]) -> Floats:
    """(n, 3) of the height where a hoop crosses a direction from the axis, outermost; else of its nearest end."""
    ahead = points[:, :2] @ np.array(towards)
    aside = points[:, :2] @ np.array([towards[1], -towards[0]])
    first = np.arange(len(points) if closed else len(points) - 1)
    second = (first + 1) % len(points)
    crosses = np.flatnonzero((aside[first] <= 0.0) != (aside[second] <= 0.0))
    one, other = first[crosses], second[crosses]
    share = aside[one] / (aside[one] - aside[other])
    out = ahead[one] + share * (ahead[other] - ahead[one])
    if not np.any(out > 0.0):
        ends = [0, len(points) - 1]
        return up_at(len(points), ends[first_least(np.abs(np.arctan2(aside[ends], ahead[ends])))])
    best = first_largest(out)
    before, after, part = int(one[best]), int(other[best]), float(share[best])
    sideways = np.array([towards[1], -towards[0]])
    near = before if abs(aside[before]) < abs(aside[after]) else after
    if abs(aside[near]) < ON_IT and (closed or 0 < near < len(points) - 1):
        return at_a_node(points, aside, near, sideways)
    slopes = (1.0 - part) * up_at(len(points), before) + part * up_at(len(points), after)
    # The place of crossing moves along the steel as its ends move aside.
    gap, rise = aside[before] - aside[after], points[after, 2] - points[before, 2]
    slopes[before, :2] -= rise * aside[after] / gap**2 * sideways
    slopes[after, :2] += rise * aside[before] / gap**2 * sideways
    return slopes


def at_a_node(points: Floats, aside: Floats, place: int, sideways: Floats) -> Floats:
    """(n, 3) of the height where a hoop crosses at one of its nodes: its run is that from neighbour to neighbour.

    Which of the two edges is crossed hangs on the last bits, and they rise differently.
    """
    before, after = (place - 1) % len(points), (place + 1) % len(points)
    slopes = up_at(len(points), place)
    slopes[place, :2] += (points[after, 2] - points[before, 2]) / (aside[before] - aside[after]) * sideways
    return slopes


def width_slopes(points: Floats, across: tuple[float, float]) -> Floats:
    """(n, 3) of the distance between two parallel lines that take the points between them."""
    along = points[:, :2] @ np.array(across)
    slopes = np.zeros_like(points)
    slopes[first_largest(along), :2] += across
    slopes[first_least(along), :2] -= across
    return slopes


def widest_slopes(points: Floats) -> Floats:
    """(n, 3) of the greatest width in any direction."""
    turns = np.arange(DIRECTIONS) * np.pi / DIRECTIONS
    directions = np.column_stack([np.cos(turns), np.sin(turns)])
    widest = directions[first_largest(np.ptp(points[:, :2] @ directions.T, axis=0))]
    return width_slopes(points, (float(widest[0]), float(widest[1])))
