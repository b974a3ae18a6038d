"""Stiffness of the strip, from its section (Roark's table of torsion constants for the twist of a thin bar)."""

from __future__ import annotations

import numpy as np

from cage3d.design.models import Design, Steel
from cage3d.shape.arrays import Floats
from cage3d.shape.lines import HoopLine
from cage3d.shape.weights import join_centre, join_length, join_of, join_shares

# Two layers clamped at their ends but free to slide bend as two strips; a metal tube over both
# ends hardly bends at all. Common practice, no source; the join is short, so the figure matters little.
OVERLAP_STIFFENING = 2.0
TUBE_STIFFENING = 10.0


def section_stiffness(steel: Steel) -> tuple[float, float, float]:
    """(easy bending, stiff bending, torsion) in N m2 of one hoop's strip; strands lie side by side and add up."""
    width, thickness = steel.width, steel.thickness
    shear = steel.modulus / (2.0 * (1.0 + steel.poisson))
    easy = steel.modulus * width * thickness**3 / 12.0
    stiff = steel.modulus * thickness * width**3 / 12.0
    torsion = shear * width * thickness**3 / 3.0 * (1.0 - 0.63 * thickness / width)
    return steel.strands * easy, steel.strands * stiff, steel.strands * torsion


def stiffening(design: Design, hoop: int, line: HoopLine) -> Floats:
    """(bends,) factor on every stiffness where a join lies; 1 elsewhere.

    A bend that the join covers in part is two lengths in series, so flexibilities add.
    """
    count = len(line.fractions) if line.closed else len(line.fractions) - 2
    join = join_of(design, hoop)
    if join is None:
        return np.ones(count)
    factor = OVERLAP_STIFFENING if join.overlap is not None else TUBE_STIFFENING
    covered = join_shares(line, join_centre(design, hoop), join_length(join))
    return np.asarray(1.0 / (1.0 - covered + covered / factor))


def bend_stiffness(design: Design, lines: tuple[HoopLine, ...]) -> tuple[Floats, Floats, Floats]:
    """(easy, stiff, torsion), each (B,) N m2, hoop after hoop."""
    rows = []
    for hoop, line in enumerate(lines):
        factor = stiffening(design, hoop, line)
        rows.append([value * factor for value in section_stiffness(design.steel_of(hoop))])
    easy, stiff, torsion = (np.concatenate(column) for column in zip(*rows, strict=True))
    return easy, stiff, torsion
