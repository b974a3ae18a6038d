"""What is sewn together: hoops that meet in one casing, and ends of hoops on the waistband, along which they lie.

Where the end of a strip is held in a direction, half an edge bends between that and the middle of the first edge: its
energy is B p^2 / l for a turn p and an edge of l, of easy and of stiff bending, and p is what the edge is off the
direction, over l. Without that half edge the error would fall with the segment and not with its square.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from cage3d.settle.posture import Posture
from cage3d.settle.terms.held import HeldReading
from cage3d.settle.unknowns import Unknowns
from cage3d.shape.arrays import Bools, Floats, Ints
from cage3d.shape.cage import Connectivity, Parameters
from cage3d.shape.changes import ParameterChanges

SPAN = 0.02  # m over which being apart counts as strain: about that of a hoop's edges
EVERY_WAY = np.eye(3)


@dataclass(frozen=True)
class SewnEnds:
    """K ends sewn along the waistband: what bends there."""

    edges: Ints  # (K,)
    bends: Ints  # (K,) of the nodes next to the ends, whose stiffness the half edges have
    lengths: Floats  # (K,) m, of these edges
    stiffness: Floats  # (2, K) N m2, easy and stiff
    curved: Floats  # (K,) 1/m, in which the strip lies free, towards her axis

    @property
    def springs(self) -> Floats:
        """(2 K,) N/m, of what the edge's end is off: towards the axis, then up."""
        return np.asarray((2.0 * self.stiffness / self.lengths**3).ravel())

    @property
    def free(self) -> Floats:
        """(2 K,) m, what it is off where nothing bends it."""
        return np.concatenate([self.curved * self.lengths**2 / 2.0, np.zeros(len(self.edges))])


@dataclass(frozen=True)
class Meets:
    """One row a pair of nodes and direction: how far the second lies that way from the first.

    Nothing, at hoops that meet: three rows, held. At a sewn end two rows, which give as a half edge bends.
    """

    ends: Ints  # (R, 2) nodes
    ways: Floats  # (R, 3) unit
    sewn: SewnEnds  # of the last 2 K rows
    stencil: Ints  # (R, 6)
    name: str = "meets"

    @property
    def held(self) -> int:
        return len(self.ends)

    def at(self, posture: Posture) -> MeetsReading:
        first, second = posture.positions[self.ends[:, 0]], posture.positions[self.ends[:, 1]]
        off = ((second - first) * self.ways).sum(axis=1)
        off[len(off) - len(self.sewn.free) :] -= self.sewn.free
        return MeetsReading(off, np.full(self.held, SPAN), self.ways, self.sewn)


def meets_of(joined: Connectivity, numbers: Parameters, unknowns: Unknowns) -> Meets:
    met, sewn = joined.pulls[joined.meeting], sewn_ends(joined, numbers)
    ends = np.vstack([np.repeat(met, 3, axis=0), joined.sewn, joined.sewn])
    ways = np.vstack([np.tile(EVERY_WAY, (len(met), 1)), *sewn_across(joined)])
    return Meets(ends, ways, sewn, unknowns.of_nodes(ends))


def sewn_across(joined: Connectivity) -> Floats:
    """(2, K, 3) unit, across the way in which each sewn end leaves along the band: towards the axis, then up."""
    ways, turns = joined.sewn_ways, joined.sewn_turns
    inwards = np.column_stack([-ways[:, 1], ways[:, 0], np.zeros(len(ways))]) * turns[:, None]
    inwards /= np.linalg.norm(inwards, axis=1)[:, None]
    return np.stack([inwards, np.cross(ways, inwards)])


def sewn_ends(joined: Connectivity, numbers: Parameters) -> SewnEnds:
    edges, bends = joined.sewn_edges, joined.sewn_bends
    stiffness = np.stack([numbers.easy[bends], numbers.stiff[bends]])
    return SewnEnds(edges, bends, numbers.edge_length[edges], stiffness, numbers.set_curvature[bends])


@dataclass(frozen=True)
class MeetsReading(HeldReading):
    """The same at one posture."""

    ways: Floats  # (R, 3)
    sewn: SewnEnds

    one_way: ClassVar[bool] = False
    convex: ClassVar[bool] = True

    @property
    def gives(self) -> Bools | None:
        if not len(self.sewn.edges):
            return None
        return np.arange(len(self.excess)) >= len(self.excess) - 2 * len(self.sewn.edges)

    @property
    def own_stiffness(self) -> Floats:
        held = len(self.excess) - 2 * len(self.sewn.edges)
        return np.concatenate([np.ones(held), self.sewn.springs])

    def slopes(self, rows: Ints | slice) -> Floats:
        ways = self.ways[rows]
        return np.hstack([-ways, ways])

    def curves(self, rows: Ints | slice, weights: Floats) -> Floats:  # noqa: ARG002
        return np.zeros((len(weights), 6, 6))

    def excess_change(self, acting: Floats, changes: ParameterChanges) -> Floats | None:  # noqa: ARG002
        """Of a sewn end, with its stiffness 2 B / l^3, and with what it is off by itself, c l^2 / 2."""
        one, count = self.sewn, changes.count
        if not len(one.edges) or not count:
            return None
        longer = of(changes.edge_length, one.edges, count) / one.lengths[:, None]
        grown = np.zeros((len(self.excess), count))
        for row, stiffer in ((0, changes.easy), (1, changes.stiff)):
            own = slice(len(grown) - (2 - row) * len(one.edges), len(grown) - (1 - row) * len(one.edges))
            share = of(stiffer, one.bends, count) / one.stiffness[row][:, None] - 3.0 * longer
            grown[own] = self.excess[own][:, None] * share
        curved = of(changes.set_curvature, one.bends, count) + 2.0 * one.curved[:, None] * longer
        first = slice(len(grown) - 2 * len(one.edges), len(grown) - len(one.edges))
        grown[first] -= curved * one.lengths[:, None] ** 2 / 2.0
        return grown


def of(change: Floats | None, rows: Ints, count: int) -> Floats:
    """(rows, K) of a change, nothing where there is none."""
    return np.zeros((len(rows), count)) if change is None else change[rows]
