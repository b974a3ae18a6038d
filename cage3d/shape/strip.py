"""Stiffness of every hoop along its length: its section's, more where a join lies."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cage3d.shape.arrays import Floats
from cage3d.shape.lines import HoopLine
from cage3d.shape.steels import HoopSteel, SteelJoin
from cage3d.shape.weights import join_shares


def stiffening(join: SteelJoin | None, line: HoopLine) -> Floats:
    """(bends,) factor on every stiffness where a join lies; 1 elsewhere.

    A bend that the join covers in part is two lengths in series, so flexibilities add.
    """
    if join is None:
        return np.ones(len(line.fractions) if line.closed else len(line.fractions) - 2)
    covered = join_shares(line, join)
    return np.asarray(1.0 / (1.0 - covered + covered / join.stiffening))


def bend_stiffness(steels: Sequence[HoopSteel], lines: Sequence[HoopLine]) -> tuple[Floats, Floats, Floats]:
    """(easy, stiff, torsion), each (B,) N m2, hoop after hoop."""
    rows = []
    for steel, line in zip(steels, lines, strict=True):
        factor = stiffening(steel.join, line)
        rows.append([value * factor for value in steel.section.stiffness])
    easy, stiff, torsion = (np.concatenate(column) for column in zip(*rows, strict=True))
    return easy, stiff, torsion
