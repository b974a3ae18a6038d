"""How much a miniature takes to print by filament: plastic of the part, plastic of its supports, hours.

Supports are counted as a slicer plans them. From the top down, what of a layer reaches out over the layer below
by more than a filament holds by itself wants a column under it; columns go down until the part is met, or the bed.
A column is printed sparse. Checked against a slicer that is not ours, at its usual settings.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from manifold3d import CrossSection, JoinType, Manifold, Mesh

from cage3d.miniature.body import PrintBody
from cage3d.steady import fixed

STEP = 0.5  # mm, of the layers that are looked at
OVERHANG = 1.0  # mm out for every mm up, which holds by itself: 45 degrees [common practice]
LEAST_OVERHANG = 0.05  # mm that the sides of two layers differ without hanging over
ROOM = 0.6  # mm that a column stands off the part and reaches out over what it carries
# Measured in a slicer at its usual settings: nozzle 0.4 mm, layers 0.2 mm, two lines round, a seventh of what is
# inside them filled, supports in lines 2.5 mm apart with dense layers under the part.
FILLED = 0.85  # of the part is plastic
SPARSE = 0.38  # of a column is plastic, its rafts and dense layers counted in
PART_PER_HOUR, SUPPORTS_PER_HOUR = 7.0, 14.0  # cm3


@dataclass(frozen=True)
class Printing:
    """What one miniature takes."""

    part: float  # cm3 of plastic
    supports: float  # cm3 of plastic

    @property
    def hours(self) -> float:
        return self.part / PART_PER_HOUR + self.supports / SUPPORTS_PER_HOUR

    @property
    def words(self) -> str:
        under = f"{fixed(self.supports, 0)} cm3 of supports" if self.supports >= 1.0 else "no supports"
        return (
            f"Takes about {fixed(self.part, 0)} cm3 of plastic and {under}, and about {fixed(self.hours, 0)} h with "
            "a nozzle of 0.4 mm in layers of 0.2 mm; your slicer knows it better"
        )


def printing_of(plates: Sequence[Sequence[PrintBody]]) -> Printing:
    """Of all plates together, each standing on the bed as it is."""
    part = sum(body.volume for plate in plates for body in plate)
    columns = sum(column_volume(body) for plate in plates for body in plate)
    return Printing(FILLED * part / 1e3, SPARSE * columns / 1e3)


def column_volume(body: PrintBody) -> float:
    """mm3 of the columns under what hangs free of one body."""
    mesh = Mesh(
        np.array(body.vertices, dtype=np.float32, order="C"),
        np.array(body.triangles, dtype=np.uint32, order="C"),
    )
    solid = Manifold(mesh)
    low, height = float(body.low[2]), float(body.size[2])
    layers = [solid.slice(low + STEP * (place + 0.5)) for place in range(max(int(height / STEP), 1))]
    columns, volume = CrossSection(), 0.0
    for upper, lower in zip(layers[:0:-1], layers[-2::-1], strict=True):
        holds = lower.offset(OVERHANG * STEP + LEAST_OVERHANG, JoinType.Round)
        hanging = (upper - holds).offset(ROOM, JoinType.Round)
        columns = ((columns + hanging) - lower.offset(ROOM, JoinType.Round)).simplify(0.05)
        volume += STEP * columns.area()
    return volume
