"""Geometry of a discrete elastic rod: tangents, frames carried in time, curvature, twist.

Bergou, Wardetzky, Robinson, Audoly, Grinspun, "Discrete elastic rods" (2008), and
Bergou, Audoly, Vouga, Wardetzky, Grinspun, "Discrete viscous threads" (2010).
An edge's material frame is (normal, width): across the strip's thickness, and along its
width. `e` counts edges, `b` bends; a trailing 3 is x, y, z.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.arithmetic import cross, dot
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Connectivity


@dataclass(frozen=True)
class RodShape:
    """All that the rod's energies need to know of one state."""

    lengths: Floats  # (E,) m
    tangents: Floats  # (E, 3) unit
    references: Floats  # (E, 3) unit, reference normal carried from the base state
    twists: Floats  # (B,) rad, turn of the reference frame from the edge before to the edge after
    normals: Floats  # (E, 3) unit, material
    widths: Floats  # (E, 3) unit, material


def transported(vectors: Floats, before: Floats, after: Floats) -> Floats:
    """Vectors normal to `before`, turned by the smallest rotation that takes `before` to `after`; all (n, 3)."""
    share = dot(vectors, after) / (1.0 + dot(before, after))
    return np.asarray(vectors - share[:, None] * (before + after))


def edge_tangents(joined: Connectivity, positions: Floats) -> tuple[Floats, Floats]:
    """((E,) lengths in m, (E, 3) unit tangents)."""
    along = positions[joined.edges[:, 1]] - positions[joined.edges[:, 0]]
    lengths = np.sqrt(dot(along, along))
    return lengths, along / lengths[:, None]


def reference_twists(joined: Connectivity, tangents: Floats, references: Floats, near: Floats) -> Floats:
    """(B,) rad from the carried frame of the edge before to that of the edge after.

    near: (B,) the values before; whole turns are chosen so that the twist never jumps.
    """
    before, after = joined.bend_edges.T
    carried = transported(references[before], tangents[before], tangents[after])
    turned = references[after]
    angle = np.arctan2(dot(cross(carried, turned), tangents[after]), dot(carried, turned))
    return np.asarray(angle + 2.0 * np.pi * np.round((near - angle) / (2.0 * np.pi)))


def rod_shape(
    joined: Connectivity,
    positions: Floats,
    angles: Floats,
    base_tangents: Floats,
    base_references: Floats,
    base_twists: Floats,
) -> RodShape:
    """The rod at (positions, angles), its frames carried there from a base state."""
    lengths, tangents = edge_tangents(joined, positions)
    references = transported(base_references, base_tangents, tangents)
    return framed(
        lengths, tangents, references, reference_twists(joined, tangents, references, base_twists), angles
    )


def framed(lengths: Floats, tangents: Floats, references: Floats, twists: Floats, angles: Floats) -> RodShape:
    """The rod of these reference frames."""
    across = cross(tangents, references)
    cosine, sine = np.cos(angles)[:, None], np.sin(angles)[:, None]
    normals = cosine * references + sine * across
    return RodShape(lengths, tangents, references, twists, normals, cosine * across - sine * references)


def orthonormal(references: Floats, tangents: Floats) -> Floats:
    """References made exactly normal to their tangents and unit again, so that rounding never builds up."""
    flat = references - dot(references, tangents)[:, None] * tangents
    return np.asarray(flat / np.sqrt(dot(flat, flat))[:, None])
