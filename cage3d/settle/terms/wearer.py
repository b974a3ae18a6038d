"""The wearer's form, without friction: no place of a hoop goes into it, at its nodes or between them.

Between two nodes the steel runs on the cubic through four of them (the parabola through three at an
open end), so that a hoop that lies on her keeps off her by the thickness of what lies between all along.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.design import trade
from cage3d.settle.contact import FormGap
from cage3d.settle.posture import Posture
from cage3d.settle.terms.floor import CONTACT_SPAN
from cage3d.settle.terms.held import HeldReading
from cage3d.settle.terms.places import Places, at_nodes, between_nodes
from cage3d.settle.terms.term import Blocks
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Cage
from cage3d.shape.changes import ParameterChanges
from cage3d.shape.form import Form

FAR = -1.0  # m, the excess of a place that is too far from the form to be measured
BETWEEN = "wearer between nodes"
CLOSE = 0.06  # m beyond `FormGap.reach`, within which a hoop's first circle is asked between its nodes too
WIDER = 1e-6  # m, by which a stand-off is changed to see how the push turns with it


@dataclass(frozen=True)
class Wearer:
    """One row a place of a hoop."""

    gap: FormGap
    places: Places
    off: Floats  # (C,) m kept off her
    level: Floats  # (C,) m, gap kept beyond that: nothing, or less, see `levels_kept`
    stencil: Ints  # (C, 3 j)
    name: str

    @property
    def held(self) -> int:
        return len(self.stencil)

    def at(self, posture: Posture) -> WearerReading:
        points = self.places.points(posture.positions)
        excess = np.full(len(points), FAR)
        near = self.gap.near(points)
        excess[near] = self.level[near] - self.gap.gaps(points[near], self.off[near])
        return WearerReading(
            excess, np.full(len(points), CONTACT_SPAN), self.gap, self.places, self.off, points
        )


def wearer_of(cage: Cage, form: Form, unknowns: Unknowns) -> list[Wearer]:
    """At all hoop nodes; and between those of hoops that can come near her."""
    gap, joined = FormGap(form), cage.connectivity
    flat = np.hypot(cage.positions[:, 0], cage.positions[:, 1])
    close = [h for h, nodes in enumerate(joined.hoop_nodes) if flat[nodes].min() < gap.reach + CLOSE]
    levels, found = levels_kept(cage, gap), []
    for name, places in (
        ("wearer", at_nodes(unknowns.free_nodes)),
        (BETWEEN, between_nodes(joined, close)),
    ):
        if len(places.nodes):
            off = places.mean(cage.parameters.stand_off)
            level = levels[places.beside].max(axis=1)
            found.append(Wearer(gap, places, off, level, unknowns.of_nodes(places.nodes), name))
    return found


def levels_kept(cage: Cage, gap: FormGap) -> Floats:
    """(N,) m, gap that hoops keep at their nodes beyond their stand-off; less than nothing is into her.

    A waistband is worn on the body: where a hoop's end is sewn to it inside the form, the form is moved back to that
    end for this hoop, as it is for a tape. Next to that end the band holds the steel, and nothing is asked.
    """
    joined, numbers = cage.connectivity, cage.parameters
    levels = np.zeros(joined.node_count)
    held = []
    for edge, (place, beside) in zip(joined.sewn_edges, joined.sewn, strict=True):
        hoop = joined.edge_hoop[edge]
        own = joined.hoop_nodes[hoop]
        inside = gap.gaps(cage.positions[[place]], numbers.stand_off[own[:1]])
        levels[own] = np.minimum(levels[own], inside)
        along = np.concatenate([[0.0], np.cumsum(numbers.edge_length[joined.hoop_edges[hoop]])])
        held.append(own[(along if beside == own[1] else along[-1] - along) < trade.BAND_HOLDS])
    for nodes in held:
        levels[nodes] = FAR
    return levels


@dataclass(frozen=True)
class WearerReading(HeldReading):
    """Places about the wearer at one posture."""

    gap: FormGap
    places: Places
    off: Floats  # (C,) m
    points: Floats  # (C, 3) m

    def slopes(self, rows: Ints | slice) -> Floats:
        return self.places.spread(-self.gap.derivatives(self.points[rows], self.off[rows])[1], rows)

    def curves(self, rows: Ints | slice, weights: Floats) -> Floats:
        bent = -weights[:, None, None] * self.gap.derivatives(self.points[rows], self.off[rows])[2]
        shares = self.places.weights[rows]
        each = np.einsum("na,nij,nb->naibj", shares, bent, shares)
        size = 3 * shares.shape[1]
        return np.asarray(each.reshape(len(weights), size, size))

    def excess_change(self, acting: Floats, changes: ParameterChanges) -> Floats | None:
        """Of the numbers only what the steel's middle keeps off her matters."""
        if changes.stand_off is None:
            return None
        rows = np.flatnonzero(acting > 0.0)
        grown = np.zeros((len(acting), changes.count))
        wider = self.gap.change_with_off(self.points[rows], self.off[rows])
        grown[rows] = -wider[:, None] * self.places.mean(changes.stand_off)[rows]
        return grown

    def gradient_change(self, acting: Floats, changes: ParameterChanges) -> Blocks | None:
        """As it keeps off farther, the push turns a little."""
        if changes.stand_off is None:
            return None
        rows = np.flatnonzero(acting > 0.0)
        points, off = self.points[rows], self.off[rows]
        out, back = (self.gap.derivatives(points, off + side)[1] for side in (WIDER, -WIDER))
        turn = self.places.spread(-acting[rows, None] * (out - back) / (2.0 * WIDER), rows)
        return Blocks(turn[:, :, None] * self.places.mean(changes.stand_off)[rows][:, None, :], rows)
