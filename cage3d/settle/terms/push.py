"""A push that keeps its size and its direction, as a hand's; the place it pushes keeps to the line of the push.

Without that line a push would be like a chain pushed at its end: whatever hangs there turns aside, and to which side
would be chance.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from cage3d.settle.posture import Posture
from cage3d.settle.terms.plain import PlainReading
from cage3d.settle.terms.term import Blocks, Spring
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints

GUIDE = 1000.0  # N/m aside of the line; a hem yields some N a metre


@dataclass(frozen=True)
class Push:
    """One row a hoop node."""

    force: Floats  # (hoop nodes, 3) N
    first: Floats  # (hoop nodes, 3) m, where the pushed places were
    stencil: Ints  # (hoop nodes, 3)
    name: str = "push"
    held: int = 0

    def at(self, posture: Posture) -> PushReading:
        return PushReading(self.force, posture.positions[: len(self.force)] - self.first)


def push_of(force: Floats, places: Floats, unknowns: Unknowns) -> Push:
    """force: (N, 3) N on every node, level; places: (N, 3) m. What is pushed of fixed nodes the waistband holds."""
    free = unknowns.free_nodes
    return Push(force[:free], places[:free], unknowns.coordinates[:free])


@dataclass(frozen=True)
class PushReading(PlainReading):
    """A push at one posture."""

    force: Floats  # (hoop nodes, 3) N
    moved: Floats  # (hoop nodes, 3) m

    @cached_property
    def pushed(self) -> Ints:
        """(k,) nodes."""
        return np.flatnonzero(self.force.any(axis=1))

    @cached_property
    def aside(self) -> Floats:
        """(k, 3) unit, level and square to the push."""
        x, y, _ = self.force[self.pushed].T
        return np.asarray(np.column_stack([y, -x, 0.0 * x]) / np.hypot(x, y)[:, None])

    @cached_property
    def off(self) -> Floats:
        """(k,) m, how far each pushed node is aside of its line."""
        return np.asarray((self.aside * self.moved[self.pushed]).sum(axis=1))

    def energy(self, known: Floats, spring: Spring) -> float:  # noqa: ARG002
        return GUIDE / 2.0 * float(self.off @ self.off) - float(np.vdot(self.force, self.moved))

    def gradient(self, known: Floats, spring: Spring) -> Blocks:  # noqa: ARG002
        held = np.zeros_like(self.force)
        held[self.pushed] = GUIDE * self.off[:, None] * self.aside
        return Blocks(held - self.force)

    def hessian(self, known: Floats, spring: Spring) -> Blocks:  # noqa: ARG002
        return Blocks(GUIDE * self.aside[:, :, None] * self.aside[:, None, :], self.pushed)

    def gradient_change(self, acting: Floats, changes: object) -> None:
        """No number of the cage is in it."""
