"""Surfaces through stacked rings: the wearer's form, discs, the skirt."""

from __future__ import annotations

from functools import lru_cache, partial

import numpy as np

from cage3d.mesh.solid import Solid
from cage3d.mesh.topology import KEPT, Topology
from cage3d.mesh.vectors import size
from cage3d.shape.arrays import Floats, Ints
from cage3d.steady import first_largest

WALL, BOTTOM, TOP = 0, 1, 2


def band(rings: Floats) -> Solid:
    """An open surface through rings (r, n, 3) m from the top, each by the wearer's left; faces outward."""
    return Solid(rings.reshape(-1, 3), open_band(*rings.shape[:2]), partial(laid_flat, rings))


def closed_loft(rings: Floats) -> Solid:
    """A closed body through rings (r, n, 3) m from the top, with flat ends about the rings' middles."""
    middles = np.array([rings[0].mean(axis=0), rings[-1].mean(axis=0)])
    points = np.vstack([rings.reshape(-1, 3), middles])
    return Solid(points, lofted(*rings.shape[:2]), partial(laid_flat_with_ends, rings, middles))


def laid_flat_with_ends(rings: Floats, middles: Floats) -> Floats:
    """As `laid_flat`, then the ends as they are seen from above: a ring each, then their middles."""
    return np.vstack([laid_flat(rings), np.vstack([rings[0], rings[-1], middles])[:, :2]])


def laid_flat(rings: Floats) -> Floats:
    """(q, 2) m, the wall laid flat: round every ring, with its first point once more at the end, and down it.

    Round, every ring is laid as wide as the widest one, as cloth that is gathered into the others.
    """
    steps = size(np.roll(rings, -1, axis=1) - rings)
    widest = steps[first_largest(steps.sum(axis=1))]
    steps_down = size(rings[1:] - rings[:-1]).mean(axis=1)
    chart = np.empty((len(rings), rings.shape[1] + 1, 2))
    chart[..., 0] = np.concatenate([[0.0], np.cumsum(widest)])
    chart[..., 1] = np.concatenate([[0.0], np.cumsum(steps_down)])[:, None]
    return chart.reshape(-1, 2)


@lru_cache(maxsize=KEPT)
def open_band(rings: int, count: int) -> Topology:
    """The faces through so many rings of so many points."""
    faces, chart_faces = band_faces(point_grid(rings, count)), band_faces(chart_grid(rings, count))
    return Topology(faces, np.zeros(len(faces), np.intp), chart_faces, rings * count, rings * (count + 1))


@lru_cache(maxsize=KEPT)
def lofted(rings: int, count: int) -> Topology:
    """The faces of a closed body through so many rings of so many points."""
    grid = point_grid(rings, count)
    walls = band_faces(grid)
    top, bottom = rings * count, rings * count + 1
    first, last = grid[0], grid[-1]
    lid = np.column_stack([np.full(count, top), first[:-1], first[1:]])
    base = np.column_stack([np.full(count, bottom), last[1:], last[:-1]])
    flat = chart_grid(rings, count)
    lids = flat.size + np.concatenate([lid_of(count, 0), lid_of(count, count)[:, [0, 2, 1]]])
    return Topology(
        np.vstack([walls, lid, base]),
        np.repeat([WALL, TOP, BOTTOM], [len(walls), count, count]),
        np.vstack([band_faces(flat), lids]),
        rings * count + 2,
        flat.size + 2 * count + 2,
    )


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


def point_grid(rings: int, count: int) -> Ints:
    """(r, n + 1) point numbers; every ring's first comes again at its end."""
    grid = np.arange(rings * count).reshape(rings, count)
    return np.hstack([grid, grid[:, :1]])


def chart_grid(rings: int, count: int) -> Ints:
    """(r, n + 1) numbers of places in the wall laid flat."""
    return np.arange(rings * (count + 1)).reshape(rings, count + 1)


def band_faces(grid: Ints) -> Ints:
    upper, lower = grid[:-1], grid[1:]
    here = np.stack([upper[:, :-1], lower[:, :-1], lower[:, 1:]], axis=-1)
    there = np.stack([upper[:, :-1], lower[:, 1:], upper[:, 1:]], axis=-1)
    return np.stack([here, there], axis=2).reshape(-1, 3)
