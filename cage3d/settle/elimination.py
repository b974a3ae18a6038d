"""L D L^T of symmetric sparse matrices of one pattern, by qdldl where it is to be had.

The order of elimination is found once for a pattern; another matrix of it then costs a fifth of a
factorisation by SciPy's SuperLU. Of qdldl one has to know:

* A pivot of exactly zero ends it. Its constructor then raises, so that the order is found with a matrix whose
  diagonal dominates; `update` says nothing and would go on to solve with what was there before. A zero among
  the pivots is therefore always a failure.
* An update overwrites the factor before it. Whoever asks says whose numbers are meant, and they are put in again
  where another matrix was there meanwhile; threads wait for one another.
* It takes one right-hand side at a time.
"""

from __future__ import annotations

from threading import Lock

import numpy as np
from scipy.sparse import csc_array

from cage3d.shape.arrays import Floats, Ints

try:
    import qdldl

    QDLDL_FOUND = True
except ImportError:  # not built for this machine: `factor` then goes by SciPy alone
    QDLDL_FOUND = False


class Elimination:
    """The elimination of one pattern, the upper triangle in compressed columns, and the factor asked for last."""

    def __init__(self, indptr: Ints, indices: Ints) -> None:
        self.indptr, self.indices = indptr, indices
        columns = np.repeat(np.arange(len(indptr) - 1), np.diff(indptr))
        self.solver = qdldl.Solver(self.matrix(np.where(indices == columns, 1.0, 0.0)), upper=True)
        self.within: Floats | None = None  # the numbers that the solver's factor is of
        self.lock = Lock()

    def matrix(self, upper: Floats) -> csc_array:
        size = len(self.indptr) - 1
        return csc_array((upper, self.indices, self.indptr), shape=(size, size))

    def put_in(self, upper: Floats) -> None:
        """The solver's factor becomes that of the matrix with these numbers (nnz,), which nobody changes any more."""
        if self.within is not upper:
            self.within = None
            self.solver.update(self.matrix(upper), upper=True)
            self.within = upper

    def pivots(self, upper: Floats) -> Floats:
        """(size,) the diagonal D; a zero or a nan where there is no such factor."""
        with self.lock:
            self.put_in(upper)
            return np.array(self.solver.factors()[1])

    def solve(self, upper: Floats, right: Floats) -> Floats:
        """(size,) or (size, K), of such right-hand sides."""
        with self.lock:
            self.put_in(upper)
            if right.ndim == 1:
                return np.asarray(self.solver.solve(right))
            return np.stack([self.solver.solve(column) for column in right.T], axis=1)
