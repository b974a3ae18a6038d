"""The steel's section: everything that follows from its outline, asked here and nowhere else.

A kind of steel is one class: a flat strip today; a rod, a tube or a doubled strip says the same
things of itself, and neither mechanics nor report, model or sheets need to know which it is.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Steel
from cage3d.shape.arrays import Floats


class Stiffness(NamedTuple):
    """N m2 of one hoop's steel."""

    easy: float  # bending about the section's longer axis, the way a hoop is bent
    stiff: float  # bending square to it, within the strip's plane
    torsion: float


class Section(ABC):
    """The section of one hoop's steel. `along` is the casing's height, `through` the way out from the wearer."""

    steel: Steel
    round = False  # drawn with one smooth side all round

    @property
    @abstractmethod
    def through(self) -> float:
        """m through the bare steel, from its inner to its outer face."""

    @property
    @abstractmethod
    def along(self) -> float:
        """m of casing that the bare steel fills, from its lower to its upper edge."""

    @property
    @abstractmethod
    def width(self) -> float:
        """m, width of one strand; turns of the strip are weighed against moves by it."""

    @property
    @abstractmethod
    def area(self) -> float:
        """m2 of steel."""

    @property
    @abstractmethod
    def stiffness(self) -> Stiffness:
        """Bending the easy way and the stiff way, and torsion."""

    @abstractmethod
    def strain(self, easy: Floats, stiff: Floats) -> Floats:
        """Strain of the fibre that is bent most, for curvatures (1/m) beyond the free ones, easy and stiff way."""

    @abstractmethod
    def outline(self, wider: float = 0.0, outward: float = 0.0) -> Floats:
        """(k, 2) m along (normal, width), counter-clockwise, with the cover: for the model.

        wider: m added all round; outward: m by which it is moved along the normal.
        """

    @property
    @abstractmethod
    def words(self) -> str:
        """Its size as makers ask for it: '7 × 0.5 mm'."""

    @property
    def mass(self) -> float:
        """kg/m of steel with its cover."""
        return self.area * self.steel.density + self.steel.coating

    @property
    def cover(self) -> float:
        """m of cover all round a bare rectangle of this size: 4 c^2 + 2 c (b + t) is the cover's own area."""
        half_girth = self.along + self.through
        room = self.steel.coating / trade.COVER_DENSITY
        return float((np.sqrt(half_girth**2 + 4.0 * room) - half_girth) / 4.0)

    @property
    def covered(self) -> tuple[float, float]:
        """(through, along) in m, cover included."""
        return self.through + 2.0 * self.cover, self.along + 2.0 * self.cover

    @property
    def yield_strain(self) -> float:
        """Strain at which the steel stays bent."""
        return self.steel.yield_stress / self.steel.modulus

    @property
    def set_curvature(self) -> float:
        """1/m, the easy way, in which the steel lies free; positive where it is threaded with it round her."""
        if self.steel.set_radius is None:
            return 0.0
        return (1.0 if self.steel.threaded == "with" else -1.0) / self.steel.set_radius

    @property
    def smallest_elastic_radius(self) -> float:
        """m; bent tighter round her the easy way the steel keeps a kink."""
        from_free = self.yield_strain / float(self.strain(np.ones(1), np.zeros(1))[0])
        return 1.0 / (from_free + self.set_curvature)


@dataclass(frozen=True)
class FlatStrip(Section):
    """Flat strips of one size, side by side in the casing where there are several strands."""

    steel: Steel

    @property
    def through(self) -> float:
        return self.steel.thickness

    @property
    def along(self) -> float:
        return self.steel.strands * self.steel.width

    @property
    def width(self) -> float:
        return self.steel.width

    @property
    def area(self) -> float:
        return self.steel.strands * self.steel.width * self.steel.thickness

    @property
    def stiffness(self) -> Stiffness:
        """Strands slide along each other, so theirs add up (torsion: Roark, twist of a thin bar)."""
        steel, width, thickness = self.steel, self.steel.width, self.steel.thickness
        shear = steel.modulus / (2.0 * (1.0 + steel.poisson))
        return Stiffness(
            steel.strands * steel.modulus * width * thickness**3 / 12.0,
            steel.strands * steel.modulus * thickness * width**3 / 12.0,
            steel.strands * shear * width * thickness**3 / 3.0 * (1.0 - 0.63 * thickness / width),
        )

    def strain(self, easy: Floats, stiff: Floats) -> Floats:
        """At the corner of one strip, where both bendings add: t/2 and b/2 times the curvatures."""
        return np.asarray(self.steel.thickness / 2.0 * easy + self.steel.width / 2.0 * stiff)

    def outline(self, wider: float = 0.0, outward: float = 0.0) -> Floats:
        through, along = (size + 2.0 * wider for size in self.covered)
        low, top, high = outward - through / 2.0, outward + through / 2.0, along / 2.0
        return np.array([[low, -high], [top, -high], [top, high], [low, high]])

    @property
    def words(self) -> str:
        size = f"{self.steel.width * 1e3:g} × {self.steel.thickness * 1e3:g} mm"
        return size if self.steel.strands == 1 else f"{self.steel.strands} strips of {size}"


def section_of(steel: Steel) -> Section:
    """The section of a steel as it is written."""
    return FlatStrip(steel)
