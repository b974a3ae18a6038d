"""Tapes, ties and laces: lines that pull and never push."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.arithmetic import dot
from cage3d.settle.posture import Posture
from cage3d.settle.terms.held import HeldReading, line_curves, line_slopes
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity, Parameters
from cage3d.shape.changes import ParameterChanges


@dataclass(frozen=True)
class Pulls:
    """One row a line, over both of its ends."""

    lengths: Floats  # (P,) m
    ends: Ints  # (P, 2) nodes
    stencil: Ints  # (P, 6)
    name: str = "pulls"

    @property
    def held(self) -> int:
        return len(self.lengths)

    def at(self, posture: Posture) -> PullsReading:
        along = np.asfortranarray(posture.positions[self.ends[:, 1]] - posture.positions[self.ends[:, 0]])
        spans = np.sqrt(dot(along, along))
        return PullsReading(spans - self.lengths, self.lengths, spans, along / spans[:, None])


def pulls_of(joined: Connectivity, numbers: Parameters, unknowns: Unknowns) -> Pulls:
    return Pulls(numbers.pull_length, joined.pulls, unknowns.of_nodes(joined.pulls))


@dataclass(frozen=True)
class PullsReading(HeldReading):
    """Lines at one posture."""

    apart: Floats  # (P,) m between both ends
    tangents: Floats  # (P, 3) unit, from the first end to the second

    def slopes(self, rows: Ints | slice) -> Floats:
        return line_slopes(self.tangents[rows])

    def curves(self, rows: Ints | slice, weights: Floats) -> Floats:
        return line_curves(self.tangents[rows], self.apart[rows], weights)

    def excess_change(self, acting: Floats, changes: ParameterChanges) -> Floats | None:
        if changes.pull_length is None:
            return None
        return np.where(acting[:, None] > 0.0, -changes.pull_length, 0.0)
