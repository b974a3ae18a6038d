"""Which unknowns each small block of the Hessian touches, worked out once for a cage.

Unknowns: three coordinates a node, then one angle an edge; the waistband's nodes are fixed and
have none.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array

from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity


@dataclass(frozen=True)
class Stencils:
    """Unknowns of every block, -1 where fixed."""

    bends: Ints  # (B, 11)
    edges: Ints  # (E, 6)
    pulls: Ints  # (P, 6)
    contacts: Ints  # (N - T, 3) one a hoop node

    def __iter__(self):  # type: ignore[no-untyped-def]
        return iter((self.bends, self.edges, self.pulls, self.contacts))


def stencils_of(joined: Connectivity) -> Stencils:
    """The unknowns of every bend, edge, pull and hoop node."""
    free_nodes = joined.node_count - joined.tape_count
    node = np.full((joined.node_count, 3), -1, dtype=np.intp)
    node[:free_nodes] = np.arange(3 * free_nodes).reshape(-1, 3)
    angle = 3 * free_nodes + np.arange(len(joined.edges))
    pairs = [node[ends].reshape(-1, 6) for ends in (joined.edges, joined.pulls)]
    bends = np.concatenate([node[joined.bends].reshape(-1, 9), angle[joined.bend_edges]], axis=1)
    return Stencils(bends, pairs[0], pairs[1], node[:free_nodes])


@dataclass(frozen=True)
class Pattern:
    """Where each entry of each block goes in the sparse Hessian (compressed columns)."""

    size: int
    indptr: Ints
    indices: Ints
    slots: Ints  # place of every block entry in the data, in the order of the stencils; one past the end if fixed
    diagonal: Ints  # (size,) place of the diagonal
    stencils: Stencils

    def matrix(self, blocks: Sequence[Floats]) -> csc_array:
        """The Hessian of blocks (n, k, k) given in the order of the stencils."""
        flat = np.concatenate([in_columns(block) for block in blocks])
        data = np.bincount(self.slots, weights=flat, minlength=len(self.indices) + 1)[:-1]
        return csc_array((data, self.indices, self.indptr), shape=(self.size, self.size))

    def vector(self, parts: Sequence[Floats]) -> Floats:
        """The gradient (size,) of parts (n, k) given in the order of the stencils."""
        flat = np.concatenate([part.ravel() for part in parts])
        return np.asarray(
            np.bincount(self.gather, weights=flat, minlength=self.size + 1)[:-1], dtype=np.float64
        )

    @cached_property
    def gather(self) -> Ints:
        """Unknown of every gradient entry, `size` where fixed."""
        flat = np.concatenate([stencil.ravel() for stencil in self.stencils])
        return np.where(flat < 0, self.size, flat)


def in_columns(blocks: NDArray[Any]) -> NDArray[Any]:
    """(n k k,) of (n, k, k), in the order in which blocks lie in memory (see `arithmetic`): no copy is made of them."""
    return blocks.ravel(order="F")


def pattern_of(joined: Connectivity) -> Pattern:
    """The sparse Hessian's pattern of a cage."""
    stencils = stencils_of(joined)
    size = 3 * (joined.node_count - joined.tape_count) + len(joined.edges)
    rows = np.concatenate([in_columns(np.repeat(s[:, :, None], s.shape[1], axis=2)) for s in stencils])
    columns = np.concatenate([in_columns(np.repeat(s[:, None, :], s.shape[1], axis=1)) for s in stencils])
    free = (rows >= 0) & (columns >= 0)
    keys = columns[free] * size + rows[free]
    unique, inverse = np.unique(keys, return_inverse=True)
    slots = np.full(len(rows), len(unique), dtype=np.intp)
    slots[free] = inverse
    column, row = np.divmod(unique, size)
    indptr = np.searchsorted(column, np.arange(size + 1))
    diagonal = np.searchsorted(unique, np.arange(size) * (size + 1))
    return Pattern(size, indptr.astype(np.int32), row.astype(np.int32), slots, diagonal, stencils)
