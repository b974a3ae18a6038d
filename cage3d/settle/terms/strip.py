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

from cage3d.settle.arithmetic import outer
from cage3d.settle.posture import Posture
from cage3d.settle.terms.bending import (
    IDENTITY,
    Bend,
    bend_of,
    bend_twists,
    curvature_second,
    curvature_slope,
    material_curvatures,
    twist_second,
    twist_slope,
)
from cage3d.settle.terms.plain import PlainReading
from cage3d.settle.terms.term import Blocks, Spring
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity, Parameters
from cage3d.shape.changes import ParameterChanges


def local_from_nodes() -> Floats:
    """(8, 11): a bend's edges before and after and their angles from three node positions and two angles."""
    matrix = np.zeros((8, 11))
    matrix[0:3, 0:3], matrix[0:3, 3:6] = -IDENTITY, IDENTITY
    matrix[3:6, 3:6], matrix[3:6, 6:9] = -IDENTITY, IDENTITY
    matrix[6, 9] = matrix[7, 10] = 1.0
    return matrix


LOCAL = local_from_nodes()
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
        return StripReading(self.joined, self.numbers, posture)


def strip_of(joined: Connectivity, numbers: Parameters, unknowns: Unknowns) -> Strip:
    nodes, angles = unknowns.of_nodes(joined.bends), unknowns.angles[joined.bend_edges]
    return Strip(joined, numbers, np.concatenate([nodes, angles], axis=1))


@dataclass(frozen=True)
class StripReading(PlainReading):
    """The strip at one posture; what energy, gradient and Hessian share is worked out once."""

    joined: Connectivity
    numbers: Parameters
    posture: Posture

    @cached_property
    def bend(self) -> Bend:
        return bend_of(self.joined, self.posture.rod)

    @cached_property
    def turns(self) -> tuple[Floats, Floats, Floats]:
        """(B,) rad about the width and about the thickness, and of twist, in the order of `STIFFNESSES`."""
        twists = bend_twists(self.joined, self.posture.angles, self.posture.rod)
        return *material_curvatures(self.bend, self.posture.rod), twists

    @cached_property
    def slopes(self) -> tuple[Floats, Floats, Floats]:
        """(B, 8) gradients of the turns over edges and angles."""
        bend, rod = self.bend, self.posture.rod
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

    def second(self, place: int) -> Floats:
        """(B, 8, 8) second derivative of one kind of turn, in the order of `STIFFNESSES`."""
        bend, rod = self.bend, self.posture.rod
        if place == 2:
            return twist_second(bend, rod)
        return curvature_second(bend, rod, self.turns[place], -rod.normals if place else rod.widths)

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

    def gradient(self, known: Floats, spring: Spring) -> Blocks:  # noqa: ARG002
        weighted = [
            (share * turn)[:, None] * slope
            for share, turn, slope in zip(self.shares(), self.sprung, self.slopes, strict=True)
        ]
        return Blocks(sum(weighted[1:], weighted[0]) @ LOCAL)

    def hessian(self, known: Floats, spring: Spring) -> Blocks:  # noqa: ARG002
        whole = self.springs(1.0 - self.free * self.angle_slopes[1])
        for place, (share, turn) in enumerate(zip(self.shares(), self.sprung, strict=True)):
            second = self.second(place)
            second *= (share * turn)[:, None, None]
            whole += second
        return Blocks(on_nodes(whole))

    def tamed(self, known: Floats, spring: Spring) -> Blocks:  # noqa: ARG002
        return Blocks(on_nodes(self.springs(np.maximum(1.0 - self.free * self.angle_slopes[1], 0.0))))

    def springs(self, tightening: Floats) -> Floats:
        """(B, 8, 8) what the stiffness of each kind of turn gives; tightening: (B,) by which the first is stiffer."""
        whole = np.zeros((len(self.bend.chi), 8, 8), order="F")
        for place, (share, slope) in enumerate(zip(self.shares(), self.slopes, strict=True)):
            tighter = share * tightening if place == 0 else share
            whole += outer(tighter[:, None] * slope, slope)
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
    """(B, 11, 11) over nodes and angles, of (B, 8, 8) symmetric ones over edges and angles.

    The product with LOCAL on both sides, block by block: the first node goes with the edge before, backwards, the
    last with the edge after, and the middle one with both.
    """
    before, after, angles = slice(0, 3), slice(3, 6), slice(6, 8)
    own, other, cross = hessian[:, before, before], hessian[:, after, after], hessian[:, before, after]
    ahead, behind = own - cross, other - cross.transpose(0, 2, 1)
    first, middle, last, turns = slice(0, 3), slice(3, 6), slice(6, 9), slice(9, 11)
    whole = np.empty((len(hessian), 11, 11), order="F")
    whole[:, first, first], whole[:, last, last] = own, other
    whole[:, middle, middle] = ahead + behind
    whole[:, turns, turns] = hessian[:, angles, angles]
    upper = (
        (first, middle, -ahead),
        (first, last, -cross),
        (middle, last, -behind.transpose(0, 2, 1)),
        (first, turns, -hessian[:, before, angles]),
        (middle, turns, hessian[:, before, angles] - hessian[:, after, angles]),
        (last, turns, hessian[:, after, angles]),
    )
    for row, column, block in upper:
        whole[:, row, column], whole[:, column, row] = block, block.transpose(0, 2, 1)
    return whole
