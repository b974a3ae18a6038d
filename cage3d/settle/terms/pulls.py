"""Tapes, ties and laces: lines that pull and never push; those that stretch do so by Hooke's law."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from cage3d.settle.arithmetic import dot
from cage3d.settle.posture import Posture
from cage3d.settle.terms.held import HeldReading, line_curves, line_slopes
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Bools, Floats, Ints
from cage3d.shape.cage import Connectivity, Parameters
from cage3d.shape.changes import ParameterChanges


@dataclass(frozen=True)
class Pulls:
    """One row a line, over both of its ends."""

    lengths: Floats  # (P,) m
    give: Floats  # (P,) strain a newton
    ends: Ints  # (P, 2) nodes
    stencil: Ints  # (P, 6)
    name: str = "pulls"

    @property
    def held(self) -> int:
        return len(self.lengths)

    def at(self, posture: Posture) -> PullsReading:
        along = np.asfortranarray(posture.positions[self.ends[:, 1]] - posture.positions[self.ends[:, 0]])
        spans = np.sqrt(dot(along, along))
        return PullsReading(spans - self.lengths, self.lengths, self.give, spans, along / spans[:, None])


def pulls_of(joined: Connectivity, numbers: Parameters, unknowns: Unknowns) -> Pulls:
    return Pulls(numbers.pull_length, numbers.pull_give, joined.pulls, unknowns.of_nodes(joined.pulls))


@dataclass(frozen=True)
class PullsReading(HeldReading):
    """Lines at one posture."""

    give: Floats  # (P,) strain a newton
    apart: Floats  # (P,) m between both ends
    tangents: Floats  # (P, 3) unit, from the first end to the second

    @cached_property
    def gives(self) -> Bools | None:
        return self.give > 0.0 if self.give.any() else None

    @property
    def own_stiffness(self) -> Floats:
        return np.divide(1.0, self.give * self.spans, out=np.zeros(len(self.give)), where=self.give > 0.0)

    def slopes(self, rows: Ints | slice) -> Floats:
        return line_slopes(self.tangents[rows])

    def curves(self, rows: Ints | slice, weights: Floats) -> Floats:
        return line_curves(self.tangents[rows], self.apart[rows], weights)

    def excess_change(self, acting: Floats, changes: ParameterChanges) -> Floats | None:
        """A line that gives is longer by T g l under its pull T: more with its give g, and with its length l."""
        strain = self.give * acting
        grown: list[Floats] = []
        if changes.pull_length is not None:
            grown.append(-(1.0 + strain)[:, None] * changes.pull_length)
        if changes.pull_give is not None:
            grown.append(-(acting * self.spans)[:, None] * changes.pull_give)
        return np.where(acting[:, None] > 0.0, np.sum(grown, axis=0), 0.0) if grown else None
