"""Steel that does not stretch: every edge keeps its length."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from cage3d.settle.posture import Posture
from cage3d.settle.terms.held import HeldReading, line_curves, line_slopes
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity, Parameters
from cage3d.shape.changes import ParameterChanges


@dataclass(frozen=True)
class Edges:
    """One row an edge, over both of its nodes."""

    lengths: Floats  # (E,) m
    stencil: Ints  # (E, 6)
    name: str = "edges"

    @property
    def held(self) -> int:
        return len(self.lengths)

    def at(self, posture: Posture) -> EdgesReading:
        rod = posture.rod
        return EdgesReading(rod.lengths - self.lengths, self.lengths, rod.lengths, rod.tangents)


def edges_of(joined: Connectivity, numbers: Parameters, unknowns: Unknowns) -> Edges:
    return Edges(numbers.edge_length, unknowns.of_nodes(joined.edges))


@dataclass(frozen=True)
class EdgesReading(HeldReading):
    """Edges at one posture."""

    lengths: Floats  # (E,) m
    tangents: Floats  # (E, 3) unit

    one_way: ClassVar[bool] = False
    convex: ClassVar[bool] = True

    def slopes(self, rows: Ints | slice) -> Floats:
        return line_slopes(self.tangents[rows])

    def curves(self, rows: Ints | slice, weights: Floats) -> Floats:
        return line_curves(self.tangents[rows], self.lengths[rows], weights)

    def excess_change(self, acting: Floats, changes: ParameterChanges) -> Floats | None:  # noqa: ARG002
        return None if changes.edge_length is None else -changes.edge_length
