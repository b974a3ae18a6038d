"""Hoops that meet: at a tape of no length between them, the steels' middles lie in one place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from cage3d.settle.posture import Posture
from cage3d.settle.terms.held import HeldReading
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity
from cage3d.shape.changes import ParameterChanges

SPAN = 0.02  # m over which being apart counts as strain: about that of a hoop's edges
SLOPES = np.hstack([-np.eye(3), np.eye(3)])  # of the way from one node to the other, over both


@dataclass(frozen=True)
class Meets:
    """Three rows a meeting, one for each coordinate, over both nodes."""

    ends: Ints  # (M, 2) nodes
    stencil: Ints  # (3 M, 6)
    name: str = "meets"

    @property
    def held(self) -> int:
        return 3 * len(self.ends)

    def at(self, posture: Posture) -> MeetsReading:
        first, second = posture.positions[self.ends[:, 0]], posture.positions[self.ends[:, 1]]
        return MeetsReading((second - first).ravel(), np.full(self.held, SPAN))


def meets_of(joined: Connectivity, unknowns: Unknowns) -> Meets:
    ends = joined.pulls[joined.meeting]
    return Meets(ends, np.repeat(unknowns.of_nodes(ends), 3, axis=0))


@dataclass(frozen=True)
class MeetsReading(HeldReading):
    """Meetings at one posture."""

    one_way: ClassVar[bool] = False
    convex: ClassVar[bool] = True

    def slopes(self, rows: Ints | slice) -> Floats:
        return np.tile(SLOPES, (len(self.excess) // 3, 1))[rows]

    def curves(self, rows: Ints | slice, weights: Floats) -> Floats:  # noqa: ARG002
        return np.zeros((len(weights), 6, 6))

    def excess_change(self, acting: Floats, changes: ParameterChanges) -> Floats | None:  # noqa: ARG002
        return None
