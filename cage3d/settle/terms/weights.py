"""What hangs on the nodes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.posture import Posture
from cage3d.settle.terms.plain import PlainReading
from cage3d.settle.terms.term import Blocks, Spring
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.changes import ParameterChanges


@dataclass(frozen=True)
class Weights:
    """One row a hoop node, over its height."""

    weight: Floats  # (N,) N
    stencil: Ints  # (hoop nodes, 1)
    name: str = "weights"
    held: int = 0

    def at(self, posture: Posture) -> WeightsReading:
        return WeightsReading(self.weight, posture.positions[:, 2], len(self.stencil))


def weights_of(weight: Floats, unknowns: Unknowns) -> Weights:
    return Weights(weight, unknowns.coordinates[: unknowns.free_nodes, 2:])


@dataclass(frozen=True)
class WeightsReading(PlainReading):
    """Weights at one posture."""

    weight: Floats  # (N,) N
    heights: Floats  # (N,) m
    free: int

    def energy(self, known: Floats, spring: Spring) -> float:  # noqa: ARG002
        return float(self.weight @ self.heights)

    def gradient(self, known: Floats, spring: Spring) -> Blocks:  # noqa: ARG002
        return Blocks(self.weight[: self.free, None])

    def hessian(self, known: Floats, spring: Spring) -> None:
        """A weight is the same at every height."""

    def gradient_change(self, acting: Floats, changes: ParameterChanges) -> Blocks | None:  # noqa: ARG002
        grown = [change for change in (changes.own_weight, changes.skirt_weight) if change is not None]
        if not grown:
            return None
        return Blocks(np.sum(grown, axis=0)[: self.free, None, :])
