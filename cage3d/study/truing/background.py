"""What ordinary sewing does to everything that is read: a cage without any error does not hang as written either."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.foresee.read_off import ACROSS, width_slopes
from cage3d.foresee.slips import sewing_changes
from cage3d.settle import SettledCage
from cage3d.settle.tangent import Tangent
from cage3d.shape.arrays import Floats
from cage3d.shape.changes import ParameterChanges, side_by_side
from cage3d.study.truing.causes import Cause
from cage3d.units import inches

# One sigma each [common practice].
TIE_SIGMA = inches(1 / 8)
BAND_SIGMA = inches(1 / 8)  # how high the waistband sits, with what she stands on


@dataclass(frozen=True)
class Sewing:
    """L things sewn with care: marks hoop after hoop, hoops, ties and laces, and the height of the waistband."""

    effects: Floats  # (Q, L) m: what one sigma of each does to the figures of `Hanging`
    sigmas: Floats  # (L,) m

    def amounts(self, causes: tuple[Cause, ...], lots: Floats) -> Floats:
        """(K,) m of every cause, of lots (L,) in sigmas; how high the waistband sits is no cause of the cage's."""
        of = np.array([cause.what != "drop" for cause in causes])
        amounts = np.zeros(len(causes))
        amounts[of] = (lots * self.sigmas)[:-1]
        return amounts


def ordinary_sewing(settled: SettledCage) -> Sewing:
    """To first order, by the stiffness of the cage as it hangs."""
    joined = settled.cage.connectivity
    changes, sigmas = sewing_changes(settled)
    ties = len(joined.tie_rows)
    if ties:
        single = np.eye(len(joined.pulls))[:, joined.tie_rows]
        changes = side_by_side([changes, ParameterChanges(pull_length=single)])
    sigmas = np.concatenate([sigmas, np.full(ties, TIE_SIGMA), [BAND_SIGMA]])
    effects = figure_moves(settled, Tangent(settled).moves(changes))
    band = np.zeros((len(effects), 1))
    band[: joined.passed.size, 0] = joined.passed.ravel()  # all heights alike
    return Sewing(np.hstack([effects, band]) * sigmas, sigmas)


def figure_moves(settled: SettledCage, moves: Floats) -> Floats:
    """(Q, K) m: how the figures of `Hanging` go with moves (N, 3, K) m of the nodes."""
    joined = settled.cage.connectivity
    rows = [moves[joined.crossing.ravel(), 2] * joined.passed.reshape(-1, 1)]
    for nodes in joined.hoop_nodes:
        for across in ACROSS:
            slopes = width_slopes(settled.positions[nodes], across)
            rows.append(np.einsum("nd,ndk->k", slopes, moves[nodes])[None])
    return np.concatenate(rows)
