"""Surfaces through stacked rings: the wearer's form, discs, the skirt."""

from __future__ import annotations

import numpy as np

from cage3d.mesh.solid import Solid
from cage3d.shape.arrays import Floats, Ints

WALL, BOTTOM, TOP = 0, 1, 2


def band(rings: Floats) -> Solid:
    """An open surface through rings (r, n, 3) m from the top, each by the wearer's left; faces outward."""
    grid = point_grid(rings)
    return Solid(
        rings.reshape(-1, 3), band_faces(grid), np.zeros(2 * (len(grid) - 1) * rings.shape[1], np.intp)
    )


def closed_loft(rings: Floats) -> Solid:
    """A closed body through rings (r, n, 3) m from the top, with flat ends about the rings' middles."""
    count = rings.shape[1]
    grid = point_grid(rings)
    walls = band_faces(grid)
    middles = np.array([rings[0].mean(axis=0), rings[-1].mean(axis=0)])
    top, bottom = rings.shape[0] * count, rings.shape[0] * count + 1
    first, last = grid[0], grid[-1]
    lid = np.column_stack([np.full(count, top), first[:-1], first[1:]])
    base = np.column_stack([np.full(count, bottom), last[1:], last[:-1]])
    sides = np.repeat([WALL, TOP, BOTTOM], [len(walls), count, count])
    return Solid(np.vstack([rings.reshape(-1, 3), middles]), np.vstack([walls, lid, base]), sides)


def cylinder(radius: float, top: float, bottom: float, count: int = 48) -> Solid:
    """A round post or disc about the upright axis between two heights (m)."""
    turn = 2.0 * np.pi * np.arange(count) / count
    ring = radius * np.column_stack([np.sin(turn), -np.cos(turn)])
    return closed_loft(np.stack([np.column_stack([ring, np.full(count, level)]) for level in (top, bottom)]))


def point_grid(rings: Floats) -> Ints:
    """(r, n + 1) point numbers; every ring's first comes again at its end."""
    grid = np.arange(rings.shape[0] * rings.shape[1]).reshape(rings.shape[:2])
    return np.hstack([grid, grid[:, :1]])


def band_faces(grid: Ints) -> Ints:
    upper, lower = grid[:-1], grid[1:]
    here = np.stack([upper[:, :-1], lower[:, :-1], lower[:, 1:]], axis=-1)
    there = np.stack([upper[:, :-1], lower[:, 1:], upper[:, 1:]], axis=-1)
    return np.stack([here, there], axis=2).reshape(-1, 3)
