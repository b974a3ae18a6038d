"""A piece of cloth as a thin body: two faces and an edge all round."""

from __future__ import annotations

from functools import lru_cache, partial

import numpy as np

from cage3d.mesh.loft import band_faces
from cage3d.mesh.solid import Solid
from cage3d.mesh.topology import KEPT, Topology
from cage3d.mesh.vectors import cross, size, unit
from cage3d.shape.arrays import Floats


def sheet(rows: Floats, thickness: float) -> Solid:
    """About a surface (r, n, 3) m: rows from the top, each by the wearer's left, so that its first face is outward."""
    out = thickness / 2.0 * unit(cross(np.gradient(rows, axis=1), -np.gradient(rows, axis=0)))
    points = np.vstack([(rows + out).reshape(-1, 3), (rows - out).reshape(-1, 3)])
    return Solid(points, sheet_faces(*rows.shape[:2]), partial(both_laid_open, rows))


def both_laid_open(rows: Floats) -> Floats:
    """(2 r n, 2) m: the outer face, then the inner one."""
    return np.tile(laid_open(rows), (2, 1))


def laid_open(rows: Floats) -> Floats:
    """(r n, 2) m: across, from the middle of every row, and down."""
    across, down = np.zeros(rows.shape[:2]), np.zeros(len(rows))
    across[:, 1:] = size(rows[:, 1:] - rows[:, :-1]).cumsum(axis=1)
    down[1:] = size(rows[1:] - rows[:-1]).mean(axis=1).cumsum()
    across -= across.mean(axis=1, keepdims=True)
    return np.stack([across, np.broadcast_to(down[:, None], across.shape)], axis=-1).reshape(-1, 2)


@lru_cache(maxsize=KEPT)
def sheet_faces(rows: int, count: int) -> Topology:
    """The faces of so many rows of so many points, outer, inner and edge."""
    points = rows * count
    grid = np.arange(points).reshape(rows, count)
    face = band_faces(grid)
    rim = np.concatenate([grid[:, 0], grid[-1, 1:], grid[-2::-1, -1], grid[0, -2:0:-1]])
    after = np.roll(rim, -1)
    down = np.column_stack([rim, rim + points, after])
    up = np.column_stack([after, rim + points, after + points])
    faces = np.vstack([face, face[:, ::-1] + points, down, up])
    lengths = np.array([rows - 1, count - 1, rows - 1, count - 1])  # of the edges: down, along, up, back
    edges = np.repeat([2, 3, 4, 5], lengths)
    sides = np.concatenate([np.zeros(len(face), np.intp), np.ones(len(face), np.intp), edges, edges])
    return Topology(faces, sides, faces.copy(), 2 * points, 2 * points)
