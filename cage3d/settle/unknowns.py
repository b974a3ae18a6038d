"""The unknowns of a cage: three coordinates a node, then one angle an edge; fixed nodes have none."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity


@dataclass(frozen=True)
class Unknowns:
    """Which unknown every coordinate and every angle is; -1 where a node is fixed."""

    free_nodes: int  # the waistband's nodes are fixed and come last
    size: int
    coordinates: Ints  # (N, 3)
    angles: Ints  # (E,)

    def of_nodes(self, nodes: Ints) -> Ints:
        """(n, 3 k) unknowns of k nodes a row, (n, k)."""
        return self.coordinates[nodes].reshape(len(nodes), 3 * nodes.shape[1])

    def split(self, step: Floats) -> tuple[Floats, Floats]:
        """((free nodes, 3) m, (E,) rad) of a vector of unknowns (size,)."""
        nodes = 3 * self.free_nodes
        return step[:nodes].reshape(-1, 3), step[nodes:]


def unknowns_of(joined: Connectivity) -> Unknowns:
    free = joined.free_nodes
    coordinates = np.full((joined.node_count, 3), -1, dtype=np.intp)
    coordinates[:free] = np.arange(3 * free).reshape(-1, 3)
    angles = 3 * free + np.arange(len(joined.edges))
    return Unknowns(free, 3 * free + len(joined.edges), coordinates, angles)
