"""The wearer's form, without friction: no node of a hoop goes into it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.contact import FormGap
from cage3d.settle.posture import Posture
from cage3d.settle.terms.floor import CONTACT_SPAN
from cage3d.settle.terms.held import HeldReading
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.changes import ParameterChanges
from cage3d.shape.form import Form

FAR = -1.0  # m, the excess of a node that is too far from the form to be measured


@dataclass(frozen=True)
class Wearer:
    """One row a hoop node."""

    gap: FormGap
    stencil: Ints  # (hoop nodes, 3)
    name: str = "wearer"

    @property
    def held(self) -> int:
        return len(self.stencil)

    def at(self, posture: Posture) -> WearerReading:
        points = posture.positions[: len(self.stencil)]
        excess = np.full(len(points), FAR)
        near = self.gap.near(points)
        excess[near] = -self.gap.gaps(points[near])
        return WearerReading(excess, np.full(len(points), CONTACT_SPAN), self.gap, points)


def wearer_of(form: Form, unknowns: Unknowns) -> Wearer:
    return Wearer(FormGap(form), unknowns.coordinates[: unknowns.free_nodes])


@dataclass(frozen=True)
class WearerReading(HeldReading):
    """Nodes about the wearer at one posture."""

    gap: FormGap
    points: Floats  # (hoop nodes, 3) m

    def slopes(self, rows: Ints | slice) -> Floats:
        return -self.gap.derivatives(self.points[rows])[1]

    def curves(self, rows: Ints | slice, weights: Floats) -> Floats:
        return np.asarray(-weights[:, None, None] * self.gap.derivatives(self.points[rows])[2])

    def excess_change(self, acting: Floats, changes: ParameterChanges) -> None:
        """Nothing that a maker changes moves the wearer."""
