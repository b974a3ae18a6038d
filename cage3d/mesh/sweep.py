"""A cross-section swept along a line with frames that are given, not carried.

Frames carried along a closed curve miss their start by the curve's total torsion, and an
"up" vector leans the section wherever the strip rolls; so every node's frame comes from the
solver (or whoever knows how the strip lies) and the section is set square to it. At each
node the section lies in the plane that halves the angle of the two edges and is stretched
across it (a mitre), so that the volume is the section's area times the line's length.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.mesh.solid import Solid
from cage3d.shape.arrays import Floats, Ints
from cage3d.steady import without_noise

# A mitre sharper than this would grow without bound; tapes folded back on themselves get a blunt one.
LONGEST_MITRE = 2.0
PARALLEL = 1e-6  # below this a direction is lost, and any direction square to the line serves


@dataclass(frozen=True)
class Frames:
    """Where the section lies at each node of a line; n nodes."""

    tangents: Floats  # (n, 3) unit, square to the plane of the section
    normals: Floats  # (n, 3) unit, the section's first axis: across a strip's thickness, outward
    widths: Floats  # (n, 3) unit, its second axis: tangent x normal
    mitre: Floats  # (n, 3, 3) stretches an offset in the plane of the section across the bend
    closed: bool
    half_turn: bool  # a closed strip meets its own start turned by pi, back to front


def node_frames(line: Floats, normals: Floats, closed: bool, half_turn: bool = False) -> Frames:
    """Frames at the nodes of a line (n, 3) m from the wanted normals there (n, 3), made square to it."""
    before, after = edges_at_nodes(line, closed)
    tangents = mean_direction(before, after)
    square = normals - np.einsum("ij,ij->i", normals, tangents)[:, None] * tangents
    lost = np.linalg.norm(square, axis=1) < PARALLEL
    other = np.cross(tangents, np.eye(3)[np.argmin(without_noise(np.abs(tangents)), axis=1)])
    square = unit(np.where(lost[:, None], other, square))
    return Frames(
        tangents, square, np.cross(tangents, square), mitres(before, after, tangents), closed, half_turn
    )


def frames_from_widths(line: Floats, widths: Floats, closed: bool) -> Frames:
    """Frames at the nodes of a line (n, 3) m of a ribbon told by the direction of its width there (n, 3)."""
    return node_frames(line, np.cross(widths, mean_direction(*edges_at_nodes(line, closed))), closed)


def frames_from_edges(line: Floats, edge_normals: Floats, closed: bool) -> Frames:
    """Frames at the nodes of a line (n, 3) m from the strip's normal on every edge.

    edge_normals: (n, 3) of a closed line, (n - 1, 3) of an open one; a node takes the mean of
    its two edges. A strip of two like faces may be told by either of its normals: each edge
    takes the one nearer to the edge before, and a closed one that comes back opposite to its
    start is marked as a half turn.
    """
    signs = np.where(np.einsum("ij,ij->i", edge_normals[1:], edge_normals[:-1]) < 0.0, -1.0, 1.0)
    aligned = edge_normals * np.cumprod(np.concatenate([[1.0], signs]))[:, None]
    half_turn = closed and bool(aligned[-1] @ aligned[0] < 0.0)
    if closed:
        before = np.roll(aligned, 1, axis=0)
        before[0] *= -1.0 if half_turn else 1.0
        return node_frames(line, before + aligned, closed, half_turn)
    return node_frames(line, np.vstack([aligned, aligned[-1:]]) + np.vstack([aligned[:1], aligned]), closed)


def rectangle(thickness: float, width: float, outward: float = 0.0) -> Floats:
    """(4, 2) m, section of a strip: thickness along the normal, width across, moved outward by `outward`."""
    half, high = thickness / 2.0, width / 2.0
    low, top = outward - half, outward + half
    return np.array([[low, -high], [top, -high], [top, high], [low, high]])


def rounded(radius: float, count: int = 8) -> Floats:
    """(count, 2) m, section of a round bar: the regular polygon of the same area."""
    turn = 2.0 * np.pi * np.arange(count) / count
    reach = radius * np.sqrt(2.0 * np.pi / (count * np.sin(2.0 * np.pi / count)))
    return np.asarray(reach * np.column_stack([np.cos(turn), np.sin(turn)]))


def sweep(line: Floats, frames: Frames, section: Floats, smooth: bool = False) -> Solid:
    """The body of a section drawn along a line: a ring for a closed line, capped ends for an open one.

    line: (n, 3) m; section: (k, 2) m along (normal, width), convex, counter-clockwise.
    smooth: the section is round, so its sides are drawn as one.
    Raises ValueError for a section that is not so.
    """
    check_section(section)
    count, corners = len(line), len(section)
    offsets = np.einsum("kf,nfx->nkx", section, np.stack([frames.normals, frames.widths], axis=1))
    points = line[:, None, :] + np.einsum("nxy,nky->nkx", frames.mitre, offsets)
    grid = np.arange(count * corners).reshape(count, corners)
    if frames.closed:
        shift = corners // 2 if frames.half_turn else 0
        grid = np.vstack([grid, np.roll(grid[0], -shift)])
    grid = np.hstack([grid, grid[:, :1]])
    sides = side_numbers(grid, 1 if smooth else corners // 2 if frames.half_turn else corners)
    faces = walls(grid)
    chart, chart_grid = laid_flat(line, section, frames.closed)
    chart_faces = walls(chart_grid)
    if not frames.closed:
        caps = end_caps(grid)
        faces = np.vstack([faces, caps])
        sides = np.concatenate([sides, corners + np.repeat([0, 1], len(caps) // 2)])
        ends = len(chart) + np.tile(np.arange(corners + 1), (2, 1))
        chart = np.vstack([chart, section, section[:1]])
        chart_faces = np.vstack([chart_faces, end_caps(ends)])
    return Solid(points.reshape(-1, 3), faces, sides, chart, chart_faces)


def laid_flat(line: Floats, section: Floats, closed: bool) -> tuple[Floats, Ints]:
    """The walls laid flat: (q, 2) m along the line and round the section, and their numbers as a grid."""
    ends = np.vstack([line, line[:1]]) if closed else line
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(ends, axis=0), axis=1))])
    edges = np.linalg.norm(np.roll(section, -1, axis=0) - section, axis=1)
    round_it = np.concatenate([[0.0], np.cumsum(edges)])
    chart = np.stack(np.meshgrid(along, round_it, indexing="ij"), axis=-1).reshape(-1, 2)
    return chart, np.arange(len(chart)).reshape(len(along), len(round_it))


def edges_at_nodes(line: Floats, closed: bool) -> tuple[Floats, Floats]:
    """(before, after), each (n, 3) unit: the edges that meet at each node; at a free end one twice."""
    if closed:
        after = unit(np.roll(line, -1, axis=0) - line)
        return np.roll(after, 1, axis=0), after
    along = unit(np.diff(line, axis=0))
    return np.vstack([along[:1], along]), np.vstack([along, along[-1:]])


def mean_direction(before: Floats, after: Floats) -> Floats:
    """(n, 3) unit, halfway between two edges; where a line folds back on itself, along the edge after."""
    both = before + after
    folded = np.linalg.norm(both, axis=1) < PARALLEL
    return unit(np.where(folded[:, None], after, both))


def mitres(before: Floats, after: Floats, tangents: Floats) -> Floats:
    """(n, 3, 3) identity, stretched by 1 / cos(half the turn) along the direction of the bend."""
    bend = after - before
    size = np.linalg.norm(bend, axis=1)
    direction = bend / np.maximum(size, 1e-12)[:, None]
    half = np.einsum("ij,ij->i", after, tangents)
    stretch = np.minimum(1.0 / np.maximum(half, 1e-6), LONGEST_MITRE) - 1.0
    return np.asarray(np.eye(3) + stretch[:, None, None] * direction[:, :, None] * direction[:, None, :])


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
    edges = np.roll(section, -1, axis=0) - section
    onward = np.roll(edges, -1, axis=0)
    turns = edges[:, 0] * onward[:, 1] - edges[:, 1] * onward[:, 0]
    if len(section) < 3 or not np.all(turns > 0.0):
        raise ValueError("A section needs at least three corners, convex and counter-clockwise.")


def unit(vectors: Floats) -> Floats:
    return np.asarray(vectors / np.linalg.norm(vectors, axis=1)[:, None])
