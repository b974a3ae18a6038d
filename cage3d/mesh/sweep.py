"""A cross-section swept along a line as one body, with the frames of `frames.py`."""

from __future__ import annotations

from functools import lru_cache, partial

import numpy as np

from cage3d.mesh.frames import Frames
from cage3d.mesh.solid import Solid
from cage3d.mesh.topology import KEPT, Topology
from cage3d.mesh.vectors import size
from cage3d.shape.arrays import Floats, Ints


def rectangle(thickness: float, width: float, outward: float = 0.0) -> Floats:
    """(4, 2) m, section of a strip: thickness along the normal, width across, moved outward by `outward`."""
    half, high = thickness / 2.0, width / 2.0
    low, top = outward - half, outward + half
    return np.array([[low, -high], [top, -high], [top, high], [low, high]])


def sweep(line: Floats, frames: Frames, section: Floats, smooth: bool = False) -> Solid:
    """The body of a section drawn along a line: a ring for a closed line, capped ends for an open one.

    line: (n, 3) m; section: (k, 2) m along (normal, width), convex, counter-clockwise.
    smooth: the section is round, so its sides are drawn as one.
    Raises ValueError for a section that is not so.
    """
    check_section(section)
    return body(line, frames.placed(section), section, frames, smooth)


def sweeps(lines: Floats, frames: Frames, sections: Floats, smooth: bool = False) -> list[Solid]:
    """As `sweep`, of many lines (b, n, 3) m at once, along each its own section of `sections` (b, k, 2) m."""
    check_section(sections)
    each = zip(lines, frames.placed(sections), sections, strict=True)
    return [body(line, placed, section, frames, smooth) for line, placed, section in each]


def body(line: Floats, placed: Floats, section: Floats, frames: Frames, smooth: bool) -> Solid:
    points = (line[:, None, :] + placed).reshape(-1, 3)
    topology = swept(len(line), len(section), frames.closed, frames.half_turn, smooth)
    return Solid(points, topology, partial(laid_flat, line, section, frames.closed))


def laid_flat(line: Floats, section: Floats, closed: bool) -> Floats:
    """(q, 2) m, the walls, then the section that closes an open sweep at both ends."""
    chart = walls_flat(line, section, closed)
    return chart if closed else np.vstack([chart, section, section[:1]])


@lru_cache(maxsize=KEPT)
def swept(count: int, corners: int, closed: bool, half_turn: bool, smooth: bool) -> Topology:
    """The faces along a line of `count` nodes of a section of so many corners."""
    grid = np.arange(count * corners).reshape(count, corners)
    if closed:
        shift = corners // 2 if half_turn else 0
        grid = np.vstack([grid, np.roll(grid[0], -shift)])
    grid = np.hstack([grid, grid[:, :1]])
    sides = side_numbers(grid, 1 if smooth else corners // 2 if half_turn else corners)
    chart_grid = np.arange(len(grid) * (corners + 1)).reshape(len(grid), corners + 1)
    if closed:
        return Topology(walls(grid), sides, walls(chart_grid), count * corners, chart_grid.size)
    caps = end_caps(grid)
    ends = chart_grid.size + np.tile(np.arange(corners + 1), (2, 1))
    return Topology(
        np.vstack([walls(grid), caps]),
        np.concatenate([sides, corners + np.repeat([0, 1], len(caps) // 2)]),
        np.vstack([walls(chart_grid), end_caps(ends)]),
        count * corners,
        chart_grid.size + corners + 1,
    )


def walls_flat(line: Floats, section: Floats, closed: bool) -> Floats:
    """(q, 2) m, the walls laid flat: along the line and, for each of its nodes, round the section."""
    ends = np.vstack([line, line[:1]]) if closed else line
    along = np.concatenate([[0.0], np.cumsum(size(ends[1:] - ends[:-1]))])
    around = np.vstack([section, section[:1]])
    edges = np.hypot(*(around[1:] - around[:-1]).T)
    chart = np.empty((len(along), len(section) + 1, 2))
    chart[..., 0] = along[:, None]
    chart[..., 1] = np.concatenate([[0.0], np.cumsum(edges)])
    return chart.reshape(-1, 2)


def walls(grid: Ints) -> Ints:
    """(m, 3) faces between neighbouring copies of the section; each quadrilateral in two triangles.

    grid: a row for every copy, its first corner once more at the end.
    """
    here, beyond = grid[:-1, :-1], grid[1:, :-1]
    turned, turned_beyond = grid[:-1, 1:], grid[1:, 1:]
    # Where a strip rolls, its sides are warped and bend along a diagonal. Across from each other the
    # diagonals run side by side, or the strip would be thick in one half of each quadrilateral and thin
    # in the other.
    first = (np.arange(here.shape[1]) < (here.shape[1] + 1) // 2)[:, None]
    lower = np.where(
        first, np.stack([here, turned, turned_beyond], axis=-1), np.stack([here, turned, beyond], axis=-1)
    )
    upper = np.where(
        first,
        np.stack([here, turned_beyond, beyond], axis=-1),
        np.stack([turned, turned_beyond, beyond], axis=-1),
    )
    return np.stack([lower, upper], axis=2).reshape(-1, 3)


def side_numbers(grid: Ints, side_count: int) -> Ints:
    """(m,) the smooth side of every face of `walls`.

    side_count: sides are numbered round the section up to this and then from 0 again. After a half
    turn a side runs on into the one across from it, so those two share a number.
    """
    rows, corners = grid.shape
    return np.tile(np.repeat(np.arange(corners - 1) % side_count, 2), rows - 1)


def end_caps(grid: Ints) -> Ints:
    """Faces that close the start and the end of an open sweep; grid as in `walls`."""
    corners = grid.shape[1] - 1
    fan = np.array([[0, place, place + 1] for place in range(1, corners - 1)])
    return np.vstack([grid[0][fan[:, ::-1]], grid[-1][fan]])


def check_section(section: Floats) -> None:
    """section: (..., k, 2) m."""
    edges = np.roll(section, -1, axis=-2) - section
    onward = np.roll(edges, -1, axis=-2)
    turns = edges[..., 0] * onward[..., 1] - edges[..., 1] * onward[..., 0]
    if section.shape[-2] < 3 or not np.all(turns > 0.0):
        raise ValueError("A section needs at least three corners, convex and counter-clockwise.")
