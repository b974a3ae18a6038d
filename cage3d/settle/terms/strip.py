"""Bending and twist of strip that lies free straight, or in a curve about its width.

Energy of a bend: (EI1 k1^2 + EI2 k2^2 + GJ m^2) / (2 l), with k1 the curvature about the
strip's width, k2 about its thickness, m the twist (all times l), l the steel that belongs to the bend.
A free curve of k0 turns EI1 k1^2 into EI1 (k1^2 - 2 k0 l a + (k0 l)^2), with a = 2 atan(k1 / 2) the angle
between the edges: angles round a ring that stays in its plane add up to a whole turn whatever its
shape, so that such a ring does not feel its set, as it must not.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.sparse import csr_array

from cage3d.settle.arithmetic import upper_entries, upper_outer
from cage3d.settle.kinematics import RodShape
from cage3d.settle.posture import Posture
from cage3d.settle.terms.bending import (
    Bend,
    bend_of,
    bend_twists,
    curvature_slope,
    material_curvatures,
    twist_slope,
)
from cage3d.settle.terms.moments import Moments
from cage3d.settle.terms.plain import PlainReading
from cage3d.settle.terms.term import Blocks, Spring, Upper
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity, Parameters
from cage3d.shape.changes import ParameterChanges


def local_from_nodes() -> Floats:
    """(8, 11): a bend's edges before and after and their angles from three node positions and two angles."""
    matrix = np.zeros((8, 11))
    edges = np.eye(6)
    matrix[:6, :6] -= edges
    matrix[:6, 3:9] += edges
    matrix[6, 9] = matrix[7, 10] = 1.0
    return matrix


LOCAL = local_from_nodes()
IN_ROW, IN_COLUMN = upper_entries(8)
TO_ROW, TO_COLUMN = upper_entries(11)
# The product with LOCAL on both sides, as one matrix over upper entries; one off the diagonal stands for two.
ON_NODES = csr_array(
    (LOCAL[IN_ROW][:, TO_ROW] * LOCAL[IN_COLUMN][:, TO_COLUMN]).T
    + (LOCAL[IN_COLUMN][:, TO_ROW] * LOCAL[IN_ROW][:, TO_COLUMN]).T * (IN_ROW != IN_COLUMN)
)
STIFFNESSES = ("easy", "stiff", "torsion")


@dataclass(frozen=True)
class Strip:
    """One row a bend, over three nodes and two angles."""

    joined: Connectivity
    numbers: Parameters
    stencil: Ints  # (B, 11)
    name: str = "strip"
    held: int = 0

    def at(self, posture: Posture) -> StripReading:
        return StripReading(self.joined, self.numbers, posture.angles, posture.rod)


def strip_of(joined: Connectivity, numbers: Parameters, unknowns: Unknowns) -> Strip:
    nodes, angles = unknowns.of_nodes(joined.bends), unknowns.angles[joined.bend_edges]
    return Strip(joined, numbers, np.concatenate([nodes, angles], axis=1))


@dataclass(frozen=True)
class StripReading(PlainReading):
    """The strip at one posture; what energy, gradient and Hessian share is worked out once."""

    joined: Connectivity
    numbers: Parameters
    angles: Floats  # (E,) rad
    rod: RodShape

    @cached_property
    def bend(self) -> Bend:
        return bend_of(self.joined, self.rod)

    @cached_property
    def turns(self) -> tuple[Floats, Floats, Floats]:
        """(B,) rad about the width and about the thickness, and of twist, in the order of `STIFFNESSES`."""
        twists = bend_twists(self.joined, self.angles, self.rod)
        return *material_curvatures(self.bend, self.rod), twists

    @cached_property
    def slopes(self) -> tuple[Floats, Floats, Floats]:
        """(B, 8) gradients of the turns over edges and angles."""
        bend, rod = self.bend, self.rod
        about_width, about_thickness, _ = self.turns
        return (
            curvature_slope(bend, rod, about_width, rod.widths),
            curvature_slope(bend, rod, about_thickness, -rod.normals),
            twist_slope(bend, rod),
        )

    @cached_property
    def free(self) -> Floats:
        """(B,) rad, turn about the width in which the steel lies free; the width points down round her."""
        return -self.numbers.set_curvature * self.numbers.bend_length

    @cached_property
    def angle_slopes(self) -> tuple[Floats, Floats]:
        """(B,) first and second derivative of the angle between the edges over the turn about the width."""
        slope = 1.0 / (1.0 + self.turns[0] ** 2 / 4.0)
        return slope, -0.5 * self.turns[0] * slope**2

    @cached_property
    def sprung(self) -> tuple[Floats, Floats, Floats]:
        """(B,) rad, by how much each kind of turn is sprung: moments are these times stiffness over length."""
        return self.turns[0] - self.free * self.angle_slopes[0], self.turns[1], self.turns[2]

    def shares(self) -> list[Floats]:
        """(B,) stiffness over length of each kind of turn (N m)."""
        return [getattr(self.numbers, kind) / self.numbers.bend_length for kind in STIFFNESSES]

    def energy(self, known: Floats, spring: Spring) -> float:  # noqa: ARG002
        about_width, about_thickness, twist = self.turns
        angle = 2.0 * np.arctan(about_width / 2.0)
        squares = (about_width**2 + self.free * (self.free - 2.0 * angle), about_thickness**2, twist**2)
        each = sum(
            getattr(self.numbers, kind) * square for kind, square in zip(STIFFNESSES, squares, strict=True)
        )
        return float((each / (2.0 * self.numbers.bend_length)).sum())

    @cached_property
    def moments(self) -> Moments:
        """What the steel's own moments do to the edges."""
        width, thickness, twist = (
            share * turn for share, turn in zip(self.shares(), self.sprung, strict=True)
        )
        return Moments(self.bend, self.rod, self.turns, (width, thickness, twist))

    def gradient(self, known: Floats, spring: Spring) -> Blocks:  # noqa: ARG002
        return Blocks(self.moments.gradient().T @ LOCAL)

    def hessian(self, known: Floats, spring: Spring) -> Upper:  # noqa: ARG002
        return self.whole_hessian

    @cached_property
    def whole_hessian(self) -> Upper:
        """Kept, as no force and no spring is in it."""
        whole = self.springs(1.0 - self.free * self.angle_slopes[1])
        whole += self.moments.second()
        return Upper(on_nodes(whole))

    def tamed(self, known: Floats, spring: Spring) -> Upper:  # noqa: ARG002
        return Upper(on_nodes(self.springs(np.maximum(1.0 - self.free * self.angle_slopes[1], 0.0))))

    def springs(self, tightening: Floats) -> Floats:
        """(36, B) upper entries of what the stiffness of each kind of turn gives.

        tightening: (B,) by which the first is stiffer.
        """
        width, *others = zip(self.shares(), self.slopes, strict=True)
        whole = upper_outer(width[0] * tightening * width[1].T, width[1].T)
        for share, slope in others:
            whole += upper_outer(share * slope.T, slope.T)
        return whole

    def gradient_change(self, acting: Floats, changes: ParameterChanges) -> Blocks | None:  # noqa: ARG002
        """A bend's gradient is the sum of s k dk / l: it grows with each s, and falls as l grows."""
        grown: list[Floats] = []
        for place, slope in enumerate(self.slopes):
            moments = self.moment_change(place, changes)
            if moments:
                grown.append((slope @ LOCAL)[:, :, None] * np.sum(moments, axis=0)[:, None, :])
        return Blocks(np.sum(grown, axis=0)) if grown else None

    def moment_change(self, place: int, changes: ParameterChanges) -> list[Floats]:
        """(B, K) N m each: what the moment of one kind of turn, in the order of `STIFFNESSES`, gains by changes.

        A free curve's part of it, s k0 over the angle, does not hang on the length.
        """
        kind, length = STIFFNESSES[place], self.numbers.bend_length[:, None]
        stiffness = getattr(self.numbers, kind)[:, None]
        moments: list[Floats] = []
        if (stiffer := getattr(changes, kind)) is not None:
            moments.append(stiffer / length * self.sprung[place][:, None])
        if changes.bend_length is not None:
            moments.append(-stiffness * changes.bend_length / length**2 * self.turns[place][:, None])
        if place == 0 and changes.set_curvature is not None:
            moments.append(stiffness * changes.set_curvature * self.angle_slopes[0][:, None])
        return moments


def on_nodes(hessian: Floats) -> Floats:
    """(66, B) upper entries over nodes and angles, of (36, B) those over edges and angles."""
    return np.asarray(ON_NODES @ hessian)
