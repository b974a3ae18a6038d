"""What is round lies alike however it is rolled: the roll of one edge of every such hoop is held where it began.

Bent and straight by nature, a round hoop may roll as a whole and nothing changes, so that its resting place would be
a valley without an end. The spring that holds one edge's roll bears nothing at rest, since nothing turns that edge.
Where it lies free in a curve that curve tells how it rolls, and nothing is held.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.posture import Posture
from cage3d.settle.terms.plain import PlainReading
from cage3d.settle.terms.term import Blocks, Spring
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Cage


@dataclass(frozen=True)
class Roll:
    """One row a round hoop, over the angle of its first edge."""

    edges: Ints  # (n,)
    springs: Floats  # (n,) N m, as much as a bend's torsion
    stencil: Ints  # (n, 1)
    name: str = "roll"
    held: int = 0

    def at(self, posture: Posture) -> RollReading:
        return RollReading(posture.angles[self.edges], self.springs)


def rolls_of(cage: Cage, unknowns: Unknowns) -> list[Roll]:
    """The term, where any hoop rolls freely."""
    joined, numbers = cage.connectivity, cage.parameters
    bends = [
        np.flatnonzero(joined.bend_hoop == hoop) if steel.section.round else np.zeros(0, dtype=np.intp)
        for hoop, steel in enumerate(cage.steels)
    ]
    free = [int(own[0]) for own in bends if len(own) and not numbers.set_curvature[own[0]]]
    if not free:
        return []
    edges = joined.bend_edges[free, 0]
    springs = numbers.torsion[free] / numbers.bend_length[free]
    return [Roll(edges, springs, unknowns.angles[edges][:, None])]


@dataclass(frozen=True)
class RollReading(PlainReading):
    """The held rolls at one posture."""

    angles: Floats  # (n,) rad
    springs: Floats  # (n,) N m

    def energy(self, known: Floats, spring: Spring) -> float:  # noqa: ARG002
        return float(self.springs @ self.angles**2) / 2.0

    def gradient(self, known: Floats, spring: Spring) -> Blocks:  # noqa: ARG002
        return Blocks((self.springs * self.angles)[:, None])

    def hessian(self, known: Floats, spring: Spring) -> Blocks:  # noqa: ARG002
        return Blocks(self.springs[:, None, None])

    def gradient_change(self, acting: Floats, changes: object) -> None:
        """At rest it bears nothing, whatever the numbers."""
