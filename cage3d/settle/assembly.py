"""Where each small block of the terms goes in the gradient and in the sparse Hessian, worked out once for a cage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, csr_array

from cage3d.settle.terms.term import Blocks
from cage3d.shape.arrays import Floats, Ints


@dataclass(frozen=True)
class Pattern:
    """Places of the entries of all terms' blocks (compressed columns); one past the end where a node is fixed."""

    size: int
    indptr: Ints
    indices: Ints
    slots: tuple[Ints, ...]  # a term: (k k, n) place in the data of every entry of every row's block
    diagonal: Ints  # (size,) place of the diagonal
    unknowns: tuple[Ints, ...]  # a term: (n, k) place in the gradient

    def matrix(self, blocks: Sequence[Blocks | None]) -> csc_array:
        """The Hessian of the terms' blocks."""
        given = [(slots, block) for slots, block in zip(self.slots, blocks, strict=True) if block is not None]
        places = np.concatenate([chosen_columns(slots, block.rows).ravel() for slots, block in given])
        flat = np.concatenate([in_columns(block.values) for _, block in given])
        data = np.bincount(places, weights=flat, minlength=len(self.indices) + 1)[:-1]
        return csc_array((data, self.indices, self.indptr), shape=(self.size, self.size))

    def vector(self, blocks: Sequence[Blocks | None]) -> Floats:
        """The gradient (size,) of the terms' blocks."""
        given = [(places, b) for places, b in zip(self.unknowns, blocks, strict=True) if b is not None]
        places = np.concatenate([chosen_rows(rows, block.rows).ravel() for rows, block in given])
        flat = np.concatenate([block.values.ravel() for _, block in given])
        return np.asarray(np.bincount(places, weights=flat, minlength=self.size + 1)[:-1])

    def vectors(self, blocks: Sequence[Blocks | None], count: int) -> Floats:
        """(size, count) of blocks (m, k, count)."""
        out = np.zeros((self.size + 1, count))
        for places, block in zip(self.unknowns, blocks, strict=True):
            if block is not None:
                flat = chosen_rows(places, block.rows).ravel()
                entries = (np.ones(len(flat)), (flat, np.arange(len(flat))))
                spread = csr_array(entries, shape=(self.size + 1, len(flat)))
                out += np.asarray(spread @ block.values.reshape(-1, count))
        return out[:-1]


def chosen_rows(table: Ints, rows: Ints | None) -> Ints:
    return table if rows is None else table[rows]


def chosen_columns(table: Ints, rows: Ints | None) -> Ints:
    return table if rows is None else table[:, rows]


def in_columns(blocks: NDArray[Any]) -> NDArray[Any]:
    """(k k n,) of (n, k, k), in the order in which blocks lie in memory (see `arithmetic`): no copy is made of them."""
    return blocks.ravel(order="F")


def pattern_of(stencils: Sequence[Ints], size: int) -> Pattern:
    """The pattern of terms with these stencils (n, k); size: of all unknowns."""
    rows = [in_columns(np.repeat(s[:, :, None], s.shape[1], axis=2)) for s in stencils]
    columns = [in_columns(np.repeat(s[:, None, :], s.shape[1], axis=1)) for s in stencils]
    row, column = np.concatenate(rows), np.concatenate(columns)
    free = (row >= 0) & (column >= 0)
    unique, inverse = np.unique(column[free] * size + row[free], return_inverse=True)
    slots = np.full(len(row), len(unique), dtype=np.intp)
    slots[free] = inverse
    ends = np.cumsum([len(entries) for entries in rows])[:-1]
    column, row = np.divmod(unique, size)
    return Pattern(
        size,
        np.searchsorted(column, np.arange(size + 1)).astype(np.int32),
        row.astype(np.int32),
        tuple(
            part.reshape(s.shape[1] ** 2, len(s))
            for part, s in zip(np.split(slots, ends), stencils, strict=True)
        ),
        np.searchsorted(unique, np.arange(size) * (size + 1)),
        tuple(np.where(s < 0, size, s) for s in stencils),
    )
