"""Which stretch of which gore is on which page."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import ceil

import numpy as np
from reportlab.lib.units import mm

from cage3d.shape.arrays import Floats
from cage3d.sheets.gores import GoreSet
from cage3d.sheets.paper.sizes import POINTS_PER_METRE, Paper

HEAD = 8 * mm  # heading of a page
OVERLAP = 8 * mm
MARGIN = 2 * mm  # round a gore's cut edge
FINE = 2 * mm  # steps in which an outline is looked for on a page


@dataclass(frozen=True)
class GoreTile:
    """One page of one gore; pt, left and top from the middle of the waistband's edge."""

    one: GoreSet
    row: int  # from 1
    rows: int
    column: int  # from 1
    columns: int
    left: float
    top: float
    wide: float
    high: float


def drawn_outline(one: GoreSet) -> Floats:
    """(k, 2) pt, of what is drawn: of a gore that is cut on the fold, her left half."""
    outline = one.outline * POINTS_PER_METRE
    return np.column_stack([np.maximum(outline[:, 0], 0.0), outline[:, 1]]) if one.even else outline


def tiles_of(one: GoreSet, paper: Paper) -> list[GoreTile]:
    """Pages row after row; the rows and columns are as even as may be."""
    outline = drawn_outline(one)
    low, high = outline.min(axis=0) - MARGIN, outline.max(axis=0) + MARGIN
    columns, wide = pieces(float(high[0] - low[0]), paper.frame[2])
    rows, tall = pieces(float(high[1] - low[1]), paper.frame[3] - 1 - HEAD)
    made = [
        GoreTile(one, row + 1, rows, column + 1, columns, float(low[0]) + column * (wide - OVERLAP),
                 float(low[1]) + row * (tall - OVERLAP), wide, tall)
        for row in range(rows) for column in range(columns)
    ]  # fmt: skip
    return [tile for tile in made if holds(tile, outline)]


def pieces(length: float, room: float) -> tuple[int, float]:
    """(how many, how long each with the overlap) pt."""
    count = max(1, ceil((length - OVERLAP) / (room - OVERLAP)))
    return count, (length + (count - 1) * OVERLAP) / count


def holds(tile: GoreTile, outline: Floats) -> bool:
    """Whether anything of a gore lies on a page: its edge, or its inside all over."""
    ends = np.roll(outline, -1, axis=0)
    steps = max(2, ceil(float(np.linalg.norm(ends - outline, axis=1).max()) / FINE))
    share = np.arange(steps)[None, :, None] / steps
    edge = (outline[:, None] + share * (ends - outline)[:, None]).reshape(-1, 2)
    corner, size = np.array([tile.left, tile.top]), np.array([tile.wide, tile.high])
    inside = ((edge >= corner) & (edge <= corner + size)).all(axis=1).any()
    return bool(inside) or contains(outline, corner + size / 2.0)


def contains(outline: Floats, place: Floats) -> bool:
    """Whether a place lies within a closed outline: a ray to the right meets it an odd number of times."""
    x, y = outline.T
    nx, ny = np.roll(x, -1), np.roll(y, -1)
    crosses = (y > place[1]) != (ny > place[1])
    with np.errstate(divide="ignore", invalid="ignore"):
        at = x + (place[1] - y) / (ny - y) * (nx - x)
    return bool(np.count_nonzero(crosses & (at > place[0])) % 2)


def within(line: Floats, low: Floats, high: Floats) -> list[Floats]:
    """The stretches (k, 2) of a line (n, 2) that lie in a rectangle, from its lower left to its upper right corner."""
    found: list[list[Floats]] = []
    for start, end in pairwise(line):
        share = shares_within(start, end - start, low, high)
        if share is None:
            continue
        first, last = (start + part * (end - start) for part in share)
        if found and np.array_equal(found[-1][-1], first):
            found[-1].append(last)
        else:
            found.append([first, last])
    return [np.stack(points) for points in found]


def shares_within(start: Floats, run: Floats, low: Floats, high: Floats) -> tuple[float, float] | None:
    """From which to which share of a straight line it lies in a rectangle, None for none of it (Liang and Barsky)."""
    first, last = 0.0, 1.0
    for axis in (0, 1):
        if run[axis] == 0.0:
            if not low[axis] <= start[axis] <= high[axis]:
                return None
            continue
        ways = sorted((edge - start[axis]) / run[axis] for edge in (low[axis], high[axis]))
        first, last = max(first, float(ways[0])), min(last, float(ways[1]))
    return (first, last) if first < last else None
