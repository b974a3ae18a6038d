"""Curvatures and twist of a strip and their first derivatives in closed form (Bergou et al. 2010, section 6).

Local unknowns of a bend: edge before (3), edge after (3), angle before, angle after.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.arithmetic import cross, dot
from cage3d.settle.kinematics import RodShape
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity


@dataclass(frozen=True)
class Bend:
    """What two edges that meet have in common; all rows are bends."""

    before: Ints  # (B,) edge
    after: Ints  # (B,) edge
    first: Floats  # (B, 3) unit tangent before
    second: Floats  # (B, 3) unit tangent after
    chi: Floats  # (B,) 1 + cosine of the turn
    tilde: Floats  # (B, 3) (first + second) / chi
    binormal: Floats  # (B, 3) curvature binormal, 2 tan(turn / 2) long


def at_bends(vectors: Floats, edges: Ints) -> Floats:
    """(B, 3) of (E, 3), in the order in memory that `arithmetic` is fast with."""
    return np.asfortranarray(vectors[edges])


def bend_of(joined: Connectivity, rod: RodShape) -> Bend:
    before, after = joined.bend_edges.T
    first, second = at_bends(rod.tangents, before), at_bends(rod.tangents, after)
    chi = 1.0 + dot(first, second)
    return Bend(
        before, after, first, second, chi,
        (first + second) / chi[:, None],
        2.0 * cross(first, second) / chi[:, None],
    )  # fmt: skip


def material_curvatures(bend: Bend, rod: RodShape) -> tuple[Floats, Floats]:
    """(B,) about the width and (B,) about the thickness, times the length of the bend (rad)."""
    about_width = 0.5 * dot(bend.binormal, rod.widths[bend.before] + rod.widths[bend.after])
    about_thickness = -0.5 * dot(bend.binormal, rod.normals[bend.before] + rod.normals[bend.after])
    return about_width, about_thickness


def bend_twists(joined: Connectivity, angles: Floats, rod: RodShape) -> Floats:
    """(B,) rad, twist of the material frame from the edge before to the edge after."""
    return np.asarray(angles[joined.bend_edges[:, 1]] - angles[joined.bend_edges[:, 0]] + rod.twists)


def axis_pair(bend: Bend, axes: Floats) -> tuple[Floats, Floats, Floats]:
    """(axis before, axis after, their sum / chi), each (B, 3), of the axis that a curvature is taken about."""
    before, after = at_bends(axes, bend.before), at_bends(axes, bend.after)
    return before, after, (before + after) / bend.chi[:, None]


def curvature_slope(bend: Bend, rod: RodShape, value: Floats, axes: Floats) -> Floats:
    """(B, 8) gradient of the curvature about `axes` (E, 3)."""
    before, after, tilde_axis = axis_pair(bend, axes)
    slope = np.empty((len(value), 8), order="F")
    pull = value[:, None] * bend.tilde
    slope[:, 0:3] = (cross(bend.second, tilde_axis) - pull) / rod.lengths[bend.before][:, None]
    slope[:, 3:6] = (-cross(bend.first, tilde_axis) - pull) / rod.lengths[bend.after][:, None]
    # An axis turns with its edge's angle about the tangent: its rate is tangent x axis.
    slope[:, 6] = 0.5 * dot(bend.binormal, cross(bend.first, before))
    slope[:, 7] = 0.5 * dot(bend.binormal, cross(bend.second, after))
    return slope


def twist_slope(bend: Bend, rod: RodShape) -> Floats:
    """(B, 8) gradient of the twist."""
    slope = np.empty((len(bend.chi), 8), order="F")
    slope[:, 0:3] = bend.binormal / (2.0 * rod.lengths[bend.before])[:, None]
    slope[:, 3:6] = bend.binormal / (2.0 * rod.lengths[bend.after])[:, None]
    slope[:, 6], slope[:, 7] = -1.0, 1.0
    return slope
