"""A printed body as a mesh in mm, and what is asked of it before it is handed on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from manifold3d import Manifold, Mesh
from numpy.typing import NDArray

from cage3d.shape.arrays import Floats, Ints

# mm, finer than any printer; a union leaves slivers, and which tolerance takes the last one out is luck.
TOLERANCES = (0.003, 0.004, 0.005, 0.006, 0.008, 0.010, 0.012, 0.015, 0.020, 0.001, 0.0005)
WANTED_ALTITUDE = 1e-4  # mm, of a facet: ten steps of single precision at 100 mm
LEAST_ALTITUDE = 1e-6  # mm: below it a facet is a line


@dataclass(frozen=True)
class PrintBody:
    """One closed body; coordinates are exact in single precision, as STL keeps them."""

    name: str
    vertices: Floats  # (n, 3) mm, z up
    triangles: Ints  # (m, 3) counter-clockwise seen from outside
    genus: int  # openings through it
    volume: float  # mm3

    @property
    def euler_number(self) -> int:
        """Vertices - edges + facets: 2 - 2 genus."""
        return len(self.vertices) - len(self.triangles) // 2

    @property
    def low(self) -> Floats:
        """(3,) mm."""
        return np.asarray(self.vertices.min(axis=0))

    @property
    def size(self) -> Floats:
        """(3,) mm, of the box round it."""
        return np.asarray(self.vertices.max(axis=0) - self.vertices.min(axis=0))


def body_of(name: str, manifold: Manifold, genus: int | None = None) -> PrintBody:
    """A united body as a mesh that STL and 3MF can hold.

    genus: openings it must have, where that is known beforehand. Raises ValueError where the
    body is not one, not closed, has facets without area, or has other openings than it must.
    """
    best, thickest = None, 0.0
    for tolerance in TOLERANCES:
        once = in_single_precision(manifold.as_original().simplify(tolerance))
        for single in (once, in_single_precision(once.simplify(tolerance))):
            body = meshed(name, single, genus)
            thinnest = float(altitudes(body.vertices, body.triangles).min())
            if thinnest >= WANTED_ALTITUDE:
                return body
            if thinnest > thickest:
                best, thickest = body, thinnest
    if best is None or thickest < LEAST_ALTITUDE:
        raise ValueError(f"{name} keeps a facet without area")
    return best


def meshed(name: str, single: Manifold, genus: int | None) -> PrintBody:
    parts = single.decompose()
    if len(parts) != 1:
        raise ValueError(f"{name} is {len(parts)} bodies, not one")
    if genus is not None and single.genus() != genus:
        raise ValueError(f"{name} has {single.genus()} openings, not {genus}")
    mesh = single.to_mesh()
    vertices = np.asarray(mesh.vert_properties[:, :3], dtype=np.float64)
    triangles = in_fixed_order(np.asarray(mesh.tri_verts, dtype=np.intp))
    return PrintBody(name, vertices, triangles, single.genus(), single.volume())


def in_single_precision(manifold: Manifold) -> Manifold:
    """The same body with coordinates that single precision holds. Raises ValueError where that breaks it."""
    mesh = manifold.to_mesh()
    # A copy: the library takes writable arrays only.
    rounded: NDArray[np.float32] = np.array(mesh.vert_properties[:, :3], dtype=np.float32, order="C")
    body = Manifold(Mesh(rounded, np.array(mesh.tri_verts, dtype=np.uint32, order="C")))
    if body.is_empty():
        raise ValueError(f"the body does not survive single precision ({body.status()})")
    return body


def in_fixed_order(triangles: Ints) -> Ints:
    """Facets that begin at their least vertex, in rising order: the same body gives the same bytes."""
    first = triangles.argmin(axis=1)
    places = (first[:, None] + np.arange(3)) % 3
    turned = np.take_along_axis(triangles, places, axis=1)
    return np.asarray(turned[np.lexsort(turned.T[::-1])])


def altitudes(vertices: Floats, triangles: Ints) -> Floats:
    """(m,) mm, least height of each facet over its longest side."""
    corners = vertices[triangles]
    sides = np.linalg.norm(corners - np.roll(corners, 1, axis=1), axis=2)
    first, second = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    double_areas = np.linalg.norm(np.cross(first, second), axis=1)
    return np.asarray(double_areas / np.maximum(sides.max(axis=1), 1e-30))
