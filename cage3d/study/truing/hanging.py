"""What can be read off a hung cage with a tape measure and a finger: heights, widths, and which tapes are loose."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Connectivity
from cage3d.study.figures import Figure, figures_at

WIDTHS = ("side to side", "front to back")


@dataclass(frozen=True)
class Hanging:
    """Q = H T + 2 H figures, heights at the tapes hoop after hoop, then both widths of each; S = H T stretches of tape.

    Where a tape does not pass a hoop, or none comes to it, nothing stands. Any leading axes may stand before those
    named.
    """

    figures: Floats  # (..., Q) m
    pulls: Floats  # (..., S) N in the tape above each hoop
    slack: Floats  # (..., S) m, by which it is longer than what it spans


def width_figures(hoops: int) -> list[Figure]:
    return [Figure(hoop, kind) for hoop in range(hoops) for kind in WIDTHS]


def figures_with(settled: SettledCage, positions: Floats) -> Floats:
    """(Q,) m with the nodes of a settled cage at `positions` (N, 3) m."""
    joined = settled.cage.connectivity
    widths = figures_at(settled, positions, width_figures(joined.hoop_count))
    heights = np.where(joined.passed, positions[joined.crossing, 2], 0.0)
    return np.concatenate([heights.ravel(), widths])


def hanging_of(settled: SettledCage) -> Hanging:
    joined = settled.cage.connectivity
    return Hanging(
        figures_with(settled, settled.positions),
        at_hoops(joined, settled.state.pull_force),
        at_hoops(joined, settled.slack),
    )


def at_hoops(joined: Connectivity, values: Floats) -> Floats:
    """(S,) of values of every pull (P,), those of the stretches of tape above each hoop at each tape."""
    return np.where(joined.segment_row >= 0, values[joined.segment_row], 0.0).ravel()
