"""A push on nodes that keeps its size and its direction, as a hand's."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.posture import Posture
from cage3d.settle.terms.plain import PlainReading
from cage3d.settle.terms.term import Blocks, Spring
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints


@dataclass(frozen=True)
class Push:
    """One row a hoop node."""

    force: Floats  # (hoop nodes, 3) N
    stencil: Ints  # (hoop nodes, 3)
    name: str = "push"
    held: int = 0

    def at(self, posture: Posture) -> PushReading:
        return PushReading(self.force, posture.positions[: len(self.force)])


def push_of(force: Floats, unknowns: Unknowns) -> Push:
    """force: (N, 3) N on every node; what lies on fixed ones is held by the waistband."""
    return Push(force[: unknowns.free_nodes], unknowns.coordinates[: unknowns.free_nodes])


@dataclass(frozen=True)
class PushReading(PlainReading):
    """A push at one posture."""

    force: Floats  # (hoop nodes, 3) N
    places: Floats  # (hoop nodes, 3) m

    def energy(self, known: Floats, spring: Spring) -> float:  # noqa: ARG002
        return -float(np.vdot(self.force, self.places))

    def gradient(self, known: Floats, spring: Spring) -> Blocks:  # noqa: ARG002
        return Blocks(-self.force)

    def hessian(self, known: Floats, spring: Spring) -> None:
        """A push is the same everywhere."""

    def gradient_change(self, acting: Floats, changes: object) -> None:
        """No number of the cage is in it."""
