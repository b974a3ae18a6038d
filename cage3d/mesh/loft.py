"""Surfaces through stacked rings: the wearer's form, discs, the skirt."""

from __future__ import annotations

import numpy as np

from cage3d.mesh.solid import Solid
from cage3d.shape.arrays import Floats, Ints
from cage3d.steady import first_largest

WALL, BOTTOM, TOP = 0, 1, 2


def band(rings: Floats) -> Solid:
    """An open surface through rings (r, n, 3) m from the top, each by the wearer's left; faces outward."""
    faces = band_faces(point_grid(rings))
    chart, chart_grid = laid_flat(rings)
    return Solid(rings.reshape(-1, 3), faces, np.zeros(len(faces), np.intp), chart, band_faces(chart_grid))


def laid_flat(rings: Floats) -> tuple[Floats, Ints]:
    """The wall laid flat: (q, 2) m round and down it, and their numbers as a grid.

    Round, every ring is laid as wide as the widest one, as cloth that is gathered into the others.
    """
    closed = np.concatenate([rings, rings[:, :1]], axis=1)
    steps = np.linalg.norm(np.diff(closed, axis=1), axis=2)
    widest = steps[first_largest(steps.sum(axis=1))]
    round_it = np.concatenate([[0.0], np.cumsum(widest)])
    steps_down = np.linalg.norm(np.diff(rings, axis=0), axis=2).mean(axis=1)
    down = np.concatenate([[0.0], np.cumsum(steps_down)])
    across = np.broadcast_to(round_it, (len(rings), len(round_it)))
    chart = np.stack([across, np.broadcast_to(down[:, None], across.shape)], axis=-1).reshape(-1, 2)
    return chart, np.arange(len(chart)).reshape(across.shape)


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
    chart, chart_grid = laid_flat(rings)
    # The ends are laid flat as they are seen from above.
    ends = np.vstack([rings[0], rings[-1], middles])[:, :2]
    lids = len(chart) + np.concatenate([lid_of(count, 0), lid_of(count, count)[:, [0, 2, 1]]])
    return Solid(
        np.vstack([rings.reshape(-1, 3), middles]), np.vstack([walls, lid, base]), sides,
        np.vstack([chart, ends]), np.vstack([band_faces(chart_grid), lids]),
    )  # fmt: skip


def lid_of(count: int, start: int) -> Ints:
    """(count, 3) triangles from a middle, whose numbers follow two rings', to the ring that starts at `start`."""
    ring = start + np.arange(count)
    middle = np.full(count, 2 * count + (1 if start else 0))
    return np.column_stack([middle, ring, np.roll(ring, -1)])


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
