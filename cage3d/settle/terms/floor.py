"""The floor, without friction: no node of a hoop sinks below it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.posture import Posture
from cage3d.settle.terms.held import HeldReading
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.changes import ParameterChanges

CONTACT_SPAN = 0.1  # m, the length over which a contact's spring counts as one unit of strain


@dataclass(frozen=True)
class Floor:
    """One row a hoop node."""

    stencil: Ints  # (hoop nodes, 3)
    name: str = "floor"

    @property
    def held(self) -> int:
        return len(self.stencil)

    def at(self, posture: Posture) -> FloorReading:
        excess = -posture.positions[: len(self.stencil), 2]
        return FloorReading(excess, np.full(len(excess), CONTACT_SPAN))


def floor_of(unknowns: Unknowns) -> Floor:
    return Floor(unknowns.coordinates[: unknowns.free_nodes])


@dataclass(frozen=True)
class FloorReading(HeldReading):
    """Nodes over the floor at one posture."""

    def slopes(self, rows: Ints | slice) -> Floats:
        return np.tile([0.0, 0.0, -1.0], (len(self.excess[rows]), 1))

    def curves(self, rows: Ints | slice, weights: Floats) -> Floats:  # noqa: ARG002
        return np.zeros((len(weights), 3, 3))

    def excess_change(self, acting: Floats, changes: ParameterChanges) -> None:
        """The floor stays where it is."""
