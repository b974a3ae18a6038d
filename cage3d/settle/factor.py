"""Factorising the Hessian, and counting its negative directions from the factor.

H = L D L^T without pivoting off the diagonal; by Sylvester's law of inertia, as many of D's pivots
are negative as eigenvalues are. By qdldl (`elimination.py`), or by SciPy's SuperLU in symmetric mode,
whose U has the same pivots on its diagonal.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.sparse.linalg import splu

from cage3d.settle.assembly import Symmetric
from cage3d.settle.elimination import QDLDL_FOUND
from cage3d.shape.arrays import Floats


@dataclass(frozen=True)
class Factor:
    """A factorised Hessian."""

    solve: Callable[[Floats], Floats]  # right-hand sides (size,) or (size, K) to answers
    negative: int  # negative eigenvalues


def factorise(hessian: Symmetric) -> Factor | None:
    """The factor, or None where a pivot vanishes."""
    return by_elimination(hessian) if QDLDL_FOUND else by_superlu(hessian)


def by_elimination(hessian: Symmetric) -> Factor | None:
    elimination, upper = hessian.pattern.elimination, hessian.upper
    pivots = elimination.pivots(upper)
    if not np.all(np.isfinite(pivots)) or not np.all(pivots):
        return None
    return Factor(lambda right: elimination.solve(upper, right), int((pivots < 0.0).sum()))


def by_superlu(hessian: Symmetric) -> Factor | None:
    try:
        # Supernodes and panels of one column: so sparse a factor only fills up in larger ones (2.5 times slower).
        lu = splu(
            hessian.whole,
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            relax=1,
            panel_size=1,
            options={"SymmetricMode": True},
        )
    except RuntimeError:  # SuperLU's word for "exactly singular"
        return None
    pivots = lu.U.diagonal()
    # A row exchange (a pivot of exactly zero on the diagonal) would make the count meaningless.
    if not np.all(np.isfinite(pivots)) or not np.array_equal(lu.perm_r, lu.perm_c):
        return None
    return Factor(lambda right: np.asarray(lu.solve(right)), int((pivots < 0.0).sum()))
