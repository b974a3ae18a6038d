"""Curvatures and twist of a strip with their first and second derivatives in closed form.

First derivatives: Bergou et al. 2010, section 6. Second derivatives: of the same
quantities, at the state from which the frames are carried; proved in the tests by the
slope of the Taylor remainder. Local unknowns of a bend: edge before (3), edge after (3),
angle before, angle after.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from cage3d.settle.arithmetic import both_ways, cross, cross_matrices, dot, outer
from cage3d.settle.kinematics import RodShape
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity

IDENTITY = np.eye(3)


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

    # What both curvatures need, so that it is worked out once.

    @cached_property
    def tilde_squared(self) -> Floats:
        """(B, 3, 3)."""
        return outer(self.tilde, self.tilde)

    @cached_property
    def across(self) -> tuple[Floats, Floats]:
        """(B, 3, 3) projections across the tangents before and after."""
        return IDENTITY - outer(self.first, self.first), IDENTITY - outer(self.second, self.second)

    @cached_property
    def first_by_second(self) -> Floats:
        """(B, 3, 3) the identity and the tangents' product."""
        return IDENTITY + outer(self.first, self.second)


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


def curvature_second(bend: Bend, rod: RodShape, value: Floats, axes: Floats) -> Floats:
    """(B, 8, 8) second derivative of the curvature about `axes` (E, 3)."""
    before, after, tilde_axis = axis_pair(bend, axes)
    inverse_before, inverse_after = 1.0 / rod.lengths[bend.before], 1.0 / rod.lengths[bend.after]
    second = np.zeros((len(value), 8, 8), order="F")
    squared = (2.0 * value)[:, None, None] * bend.tilde_squared
    over_chi = (value / bend.chi)[:, None, None]
    ahead = outer(cross(bend.second, tilde_axis), bend.tilde)
    behind = outer(bend.tilde, cross(bend.first, tilde_axis))
    second[:, 0:3, 0:3] = (inverse_before**2)[:, None, None] * (
        squared
        - both_ways(ahead)
        - over_chi * bend.across[0]
        + 0.25 * both_ways(outer(bend.binormal, before))
    )
    second[:, 3:6, 3:6] = (inverse_after**2)[:, None, None] * (
        squared
        + both_ways(behind)
        - over_chi * bend.across[1]
        + 0.25 * both_ways(outer(bend.binormal, after))
    )
    mixed = (inverse_before * inverse_after)[:, None, None] * (
        squared - ahead + behind - over_chi * bend.first_by_second - cross_matrices(tilde_axis)
    )
    second[:, 0:3, 3:6], second[:, 3:6, 0:3] = mixed, mixed.transpose(0, 2, 1)
    for column, axis, tangent in ((6, before, bend.first), (7, after, bend.second)):
        rate = cross(tangent, axis)
        turning = (0.5 * dot(bend.binormal, rate))[:, None] * bend.tilde
        on_before = (-turning + cross(bend.second, rate) / bend.chi[:, None]) * inverse_before[:, None]
        on_after = (-turning - cross(bend.first, rate) / bend.chi[:, None]) * inverse_after[:, None]
        second[:, 0:3, column] = second[:, column, 0:3] = on_before
        second[:, 3:6, column] = second[:, column, 3:6] = on_after
        second[:, column, column] = -0.5 * dot(bend.binormal, axis)
    return second


def twist_slope(bend: Bend, rod: RodShape) -> Floats:
    """(B, 8) gradient of the twist."""
    slope = np.empty((len(bend.chi), 8), order="F")
    slope[:, 0:3] = bend.binormal / (2.0 * rod.lengths[bend.before])[:, None]
    slope[:, 3:6] = bend.binormal / (2.0 * rod.lengths[bend.after])[:, None]
    slope[:, 6], slope[:, 7] = -1.0, 1.0
    return slope


def twist_second(bend: Bend, rod: RodShape) -> Floats:
    """(B, 8, 8) second derivative of the twist."""
    inverse_before, inverse_after = 1.0 / rod.lengths[bend.before], 1.0 / rod.lengths[bend.after]
    second = np.zeros((len(bend.chi), 8, 8), order="F")
    for place, tangent, inverse in ((0, bend.first, inverse_before), (3, bend.second, inverse_after)):
        block = both_ways(outer(bend.binormal, tangent + bend.tilde))
        second[:, place : place + 3, place : place + 3] = -0.25 * (inverse**2)[:, None, None] * block
    mixed = (0.5 * inverse_before * inverse_after)[:, None, None] * (
        2.0 / bend.chi[:, None, None] * cross_matrices(bend.first) - outer(bend.binormal, bend.tilde)
    )
    second[:, 0:3, 3:6], second[:, 3:6, 0:3] = mixed, mixed.transpose(0, 2, 1)
    return second
