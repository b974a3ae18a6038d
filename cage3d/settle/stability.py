"""Is the resting place a valley? The lowest eigenvalue of the Hessian, and its mode."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse.linalg import ArpackError, LinearOperator, eigsh

from cage3d.settle.factor import factorise
from cage3d.settle.model import Forces, Model, skirt_pull, trial_at
from cage3d.settle.posture import Posture
from cage3d.settle.standing import RIGID, Standing, standing_at
from cage3d.shape.arrays import Floats

LANCZOS = 8  # vectors; the softest way is far softer than most others, and comes out at once
LEAST_STABLE = 1e-7  # N/m, below which a mode counts as neither stable nor unstable


@dataclass(frozen=True)
class Lowest:
    """The softest way the cage can move."""

    eigenvalue: float  # N/m, angles scaled by the strip's width
    mode: Floats  # (size,) unknowns, of unit length in the metric
    negative: int  # directions in which the energy falls
    standing: Standing | None = None  # whose mode it is

    @property
    def stable(self) -> bool:
        return self.negative == 0 and self.eigenvalue > LEAST_STABLE


def lowest_mode(model: Model, posture: Posture, forces: Forces) -> Lowest:
    """The lowest eigenvalue and its mode, by Lanczos on the inverse (scipy's ARPACK).

    A Hessian that cannot be factorised, or whose modes do not come out, counts as unstable
    with eigenvalue nan: what is not known is not vouched for.
    """
    standing = standing_at(model, posture, forces)
    factor = standing.factor
    unknown = Lowest(float("nan"), np.zeros(model.pattern.size), 0)
    if factor is None:
        return unknown
    root = np.sqrt(model.metric)
    inverse = LinearOperator(
        (model.pattern.size,) * 2, matvec=lambda v: root * factor.solve(root * np.ravel(v)), dtype=np.float64
    )
    # A fixed first vector, so that the same cage gives the same digits.
    start = np.random.default_rng(3).normal(size=model.pattern.size)
    try:
        if factor.negative == 0:
            values, modes = eigsh(
                inverse, k=1, which="LA", v0=start, tol=1e-6, ncv=min(model.pattern.size, LANCZOS)
            )
        else:
            values, modes = eigsh(
                inverse, k=1, which="SA", v0=start, tol=1e-6, ncv=min(model.pattern.size, LANCZOS)
            )
    except ArpackError:
        return unknown
    return Lowest(float(1.0 / values[0]), modes[:, 0] / root, factor.negative, standing)


def load_response(model: Model, posture: Posture, forces: Forces, more: float) -> Floats | None:
    """(N, 3) m, how every node would move under so much more of the skirt; None where it cannot be told."""
    factor = factorise(trial_at(model, posture, forces).with_springs(RIGID).hessian)
    if factor is None:
        return None
    free = model.free_nodes
    moves = np.zeros_like(posture.positions)
    moves[:free] = factor.solve(more * skirt_pull(model, posture))[: 3 * free].reshape(-1, 3)
    return moves
