"""Tapes, ties and laces: lines that pull and never push, straight or by the shortest way over the wearer.

Those that stretch do so by Hooke's law.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import ClassVar

import numpy as np

from cage3d.settle.arithmetic import dot
from cage3d.settle.contact import FormGap
from cage3d.settle.posture import Posture
from cage3d.settle.terms.held import HeldReading, line_curves, line_slopes
from cage3d.settle.terms.over_wearer import OverWearer, Way, over_wearer_of
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Bools, Floats, Ints
from cage3d.shape.cage import Cage
from cage3d.shape.changes import ParameterChanges

TOGETHER = 1e-12  # m; ends nearer than this have no direction between them


@dataclass(frozen=True)
class Pulls:
    """One row a line, over both of its ends. One of no length pulls nothing: where hoops meet, `Meets` holds them."""

    lengths: Floats  # (P,) m
    give: Floats  # (P,) strain a newton
    ends: Ints  # (P, 2) nodes
    stencil: Ints  # (P, 6)
    over: OverWearer | None = field(default=None, compare=False)
    name: str = "pulls"

    @property
    def held(self) -> int:
        return len(self.lengths)

    @cached_property
    def idle(self) -> Bools:
        """(P,) lines of no length."""
        return np.asarray(self.lengths == 0.0)

    def at(self, posture: Posture) -> PullsReading:
        first, second = (np.asfortranarray(posture.positions[self.ends[:, end]]) for end in (0, 1))
        along = second - first
        # On the way to a rest two ends may fall together.
        straight = np.where(self.idle, 1.0, np.maximum(np.sqrt(dot(along, along)), TOGETHER))
        tangents = along / straight[:, None]
        spans, slopes = straight.copy(), line_slopes(tangents)
        ways = () if self.over is None else self.over.ways(np.stack([first, second], axis=1))
        for way in ways:
            spans[way.rows], slopes[way.rows] = way.lying.lengths, way.lying.slopes
        spans[self.idle] = 0.0
        lengths = np.where(
            self.idle, 1.0, self.lengths
        )  # as if an idle one hung slack by a metre: it never acts
        return PullsReading(spans - lengths, lengths, self.give, spans, slopes, straight, tangents, ways)


def pulls_of(cage: Cage, unknowns: Unknowns) -> Pulls:
    joined, numbers = cage.connectivity, cage.parameters
    over = None
    if cage.form is not None and len(joined.pulls):
        over = over_wearer_of(FormGap(cage.form), numbers.pull_length, cage.positions[joined.pulls], joined)
    return Pulls(numbers.pull_length, numbers.pull_give, joined.pulls, unknowns.of_nodes(joined.pulls), over)


@dataclass(frozen=True)
class PullsReading(HeldReading):
    """Lines at one posture."""

    give: Floats  # (P,) strain a newton
    apart: Floats  # (P,) m, the shortest way from one end to the other
    way_slopes: Floats  # (P, 6) its gradient over both ends
    straight: Floats  # (P,) m
    tangents: Floats  # (P, 3) unit, straight from the first end to the second
    ways: tuple[Way, ...]  # of those that lie on the wearer

    convex: ClassVar[bool] = True

    @cached_property
    def gives(self) -> Bools | None:
        return self.give > 0.0 if self.give.any() else None

    @property
    def own_stiffness(self) -> Floats:
        return np.divide(1.0, self.give * self.spans, out=np.zeros(len(self.give)), where=self.give > 0.0)

    def slopes(self, rows: Ints | slice) -> Floats:
        return self.way_slopes[rows]

    def curves(self, rows: Ints | slice, weights: Floats) -> Floats:
        curves = line_curves(self.tangents[rows], self.straight[rows], weights)
        place = np.full(len(self.apart), -1)
        place[rows] = np.arange(len(weights))
        for way in self.ways:
            asked = place[way.rows] >= 0
            at = place[way.rows[asked]]
            curves[at] = weights[at, None, None] * way.lying.curves[asked]
        return curves

    def excess_change(self, acting: Floats, changes: ParameterChanges) -> Floats | None:
        """A line that gives is longer by T g l under its pull T: more with its give g, and with its length l."""
        strain = self.give * acting
        grown: list[Floats] = []
        if changes.pull_length is not None:
            grown.append(-(1.0 + strain)[:, None] * changes.pull_length)
        if changes.pull_give is not None:
            grown.append(-(acting * self.spans)[:, None] * changes.pull_give)
        return np.where(acting[:, None] > 0.0, np.sum(grown, axis=0), 0.0) if grown else None
