"""Places on hoops, at nodes and between them, as shares of a few nodes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity

# Halfway between the second and the third of four nodes on a cubic, and of three on a parabola (from one end).
CUBIC = np.array([-1.0, 9.0, 9.0, -1.0]) / 16.0
PARABOLA = np.array([3.0, 6.0, -1.0, 0.0]) / 8.0


@dataclass(frozen=True)
class Places:
    """C places, each a sum of shares of j nodes."""

    nodes: Ints  # (C, j)
    weights: Floats  # (C, j)
    beside: Ints  # (C, 2) nodes on both sides

    def points(self, positions: Floats) -> Floats:
        """(C, 3) m."""
        if self.nodes.shape[1] == 1:
            return positions[self.nodes[:, 0]]
        return np.asarray(np.einsum("nj,njx->nx", self.weights, positions[self.nodes]))

    def mean(self, values: Floats) -> Floats:
        """(C, ...) of values a node (N, ...), between the two nodes beside."""
        return np.asarray((values[self.beside[:, 0]] + values[self.beside[:, 1]]) / 2.0)

    def spread(self, vectors: Floats, rows: Ints | slice) -> Floats:
        """(m, 3 j) over the nodes, of vectors (m, 3) at places."""
        shared = self.weights[rows][:, :, None] * vectors[:, None, :]
        return np.asarray(shared.reshape(len(vectors), 3 * self.nodes.shape[1]))


def at_nodes(count: int) -> Places:
    """Every one of the first `count` nodes."""
    nodes = np.arange(count)[:, None]
    return Places(nodes, np.ones((count, 1)), np.repeat(nodes, 2, axis=1))


def between_nodes(joined: Connectivity, hoops: Sequence[int]) -> Places:
    """The middle of every edge of these hoops, where the steel runs and not where the edge does."""
    nodes, weights, beside = [], [], []
    for hoop in hoops:
        own, closed = joined.hoop_nodes[hoop], bool(joined.closed[hoop])
        if len(own) < 4:
            continue
        rows = np.stack([np.roll(own, shift) for shift in (1, 0, -1, -2)], axis=1)
        shares = np.tile(CUBIC, (len(own), 1))
        if not closed:
            rows, shares = rows[:-1], shares[:-1]
            rows[0], shares[0] = own[[0, 1, 2, 3]], PARABOLA
            rows[-1], shares[-1] = own[[-1, -2, -3, -4]], PARABOLA
        nodes.append(rows)
        weights.append(shares)
        beside.append(np.column_stack([own, np.roll(own, -1)])[: len(rows)])
    if not nodes:
        return Places(np.zeros((0, 4), dtype=np.intp), np.zeros((0, 4)), np.zeros((0, 2), dtype=np.intp))
    return Places(np.vstack(nodes), np.vstack(weights), np.vstack(beside))
