"""Where each small block of the terms goes in the gradient and in the sparse Hessian, worked out once for a cage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from scipy.sparse import csc_array, csr_array, triu

from cage3d.settle.arithmetic import upper_entries
from cage3d.settle.elimination import Elimination
from cage3d.settle.terms.term import Blocks, Upper
from cage3d.shape.arrays import Floats, Ints

MANY = 10  # a tenth of all entries: above that, one sum over all is quicker than each put in its place
KEPT = 6  # patterns; one is some MB for a cage of many nodes


@dataclass(frozen=True)
class Pattern:
    """Places of the entries of all terms' blocks; one past the end where a node is fixed.

    Of the Hessian only the upper triangle is kept, in compressed columns.
    """

    size: int
    indptr: Ints
    indices: Ints
    slots: tuple[
        Ints, ...
    ]  # a term: (k (k + 1) / 2, n) place in the data of the upper entries of every row's block
    diagonal: Ints  # (size,) place of the diagonal
    unknowns: tuple[Ints, ...]  # a term: (n, k) place in the gradient

    @cached_property
    def elimination(self) -> Elimination:
        return Elimination(self.indptr, self.indices)

    def matrix(self, blocks: Sequence[Blocks | Upper | None]) -> Symmetric:
        """The Hessian of the terms' blocks, each symmetric."""
        summed, count = np.zeros(len(self.indices) + 1), len(self.indices) + 1
        for slots, block in zip(self.slots, blocks, strict=True):
            if block is None:
                continue
            places, values = chosen_columns(slots, block.rows).ravel(), upper_of(block).ravel()
            if len(places) > count // MANY:
                summed += np.bincount(places, weights=values, minlength=count)
            else:
                np.add.at(summed, places, values)
        return Symmetric(self, summed[:-1])

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


def upper_of(block: Blocks | Upper) -> Floats:
    """(k (k + 1) / 2, n) the upper entries, column after column, of n blocks (k, k)."""
    if isinstance(block, Upper):
        return block.values
    row, column = upper_entries(block.values.shape[1])
    return np.ascontiguousarray(block.values.transpose(1, 2, 0)[row, column])


def pattern_of(stencils: Sequence[Ints], size: int) -> Pattern:
    """The pattern of terms with these stencils (n, k), none of which has an unknown twice in a row; size: of all.

    Kept for the next cage that is joined in the same way, with the order of its elimination.
    """
    return kept_pattern(size, tuple((s.astype(np.intp).tobytes(), s.shape[1]) for s in stencils))


@lru_cache(maxsize=KEPT)
def kept_pattern(size: int, written: tuple[tuple[bytes, int], ...]) -> Pattern:
    stencils = [np.frombuffer(entries, dtype=np.intp).reshape(-1, width) for entries, width in written]
    rows, columns = [], []
    for stencil in stencils:
        row, column = upper_entries(stencil.shape[1])
        rows.append(stencil.T[row].ravel())
        columns.append(stencil.T[column].ravel())
    ends = np.cumsum([len(entries) for entries in rows])
    # Every unknown has its place on the diagonal, whatever touches it: a shift goes there.
    first, second = (np.concatenate([*each, np.arange(size)]) for each in (rows, columns))
    free = (first >= 0) & (second >= 0)
    row, column = np.minimum(first, second)[free], np.maximum(first, second)[free]
    unique, inverse = np.unique(column * size + row, return_inverse=True)
    slots = np.full(len(first), len(unique), dtype=np.intp)
    slots[free] = inverse
    column, row = np.divmod(unique, size)
    return Pattern(
        size,
        np.searchsorted(column, np.arange(size + 1)).astype(np.int32),
        row.astype(np.int32),
        tuple(
            part.reshape(s.shape[1] * (s.shape[1] + 1) // 2, len(s))
            for part, s in zip(np.split(slots, ends)[:-1], stencils, strict=True)
        ),
        slots[ends[-1] :],
        tuple(np.where(s < 0, size, s) for s in stencils),
    )


@dataclass(frozen=True)
class Symmetric:
    """A symmetric matrix of one pattern."""

    pattern: Pattern
    upper: Floats  # (nnz,) its upper triangle

    @property
    def whole(self) -> csc_array:
        """(size, size), both triangles."""
        pattern = self.pattern
        upper = csc_array((self.upper, pattern.indices, pattern.indptr), shape=(pattern.size,) * 2)
        return csc_array(upper + triu(upper, 1).T)

    def shifted(self, shift: float, metric: Floats) -> Symmetric:
        """The matrix + shift * diag(metric)."""
        if shift == 0.0:
            return self
        upper = self.upper.copy()
        upper[self.pattern.diagonal] += shift * metric
        return Symmetric(self.pattern, upper)
