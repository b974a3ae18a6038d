"""The steel's section: everything that follows from its outline, asked here and nowhere else.

A kind of section is one class (`section_kinds.py`): flat strip, rod and tube say the same things of themselves, and
neither mechanics nor report, model or sheets need to know which it is. What is called steel here may be cane or
plastic.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import NamedTuple

import numpy as np

from cage3d.design import stock
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
    round = False  # alike all round: drawn with one smooth side, and bent the same way however it is rolled
    own_join = stock.DEFAULT_JOIN  # how its ends meet where nothing is written
    socket = "tube"  # over both ends where they butt

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
    def fitted(self) -> float:
        """m, what the fittings of its ends go over, or into."""
        return self.along

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
    def size(self) -> str:
        """Its size as makers ask for it: '7 × 0.5 mm'."""

    @property
    @abstractmethod
    def cover(self) -> float:
        """m of cover all round the bare section, by the area of the cover's weight."""

    @abstractmethod
    def tube_mass(self, length: float) -> float:
        """kg of what holds two butting ends over this length (m): a tube over them, or a plug inside."""

    @property
    def pieces(self) -> int:
        """How many are cut for one hoop and threaded together."""
        return 1

    @property
    def piece(self) -> Section:
        """One of these, as it is bought."""
        return self

    @property
    def words(self) -> str:
        """Its size, with its material where that has a name: '7 × 0.5 mm', 'round cane Ø 6 mm'."""
        return f"{self.steel.material} {self.size}" if self.steel.material else self.size

    @property
    def mass(self) -> float:
        """kg/m of steel with its cover."""
        return self.area * self.steel.density + self.steel.coating

    @property
    def covered(self) -> tuple[float, float]:
        """(through, along) in m, cover included."""
        return self.through + 2.0 * self.cover, self.along + 2.0 * self.cover

    @property
    def yield_strain(self) -> float:
        """Strain at which the steel stays bent."""
        return self.steel.bears

    @property
    def set_curvature(self) -> float:
        """1/m, the easy way, in which the steel lies free; positive where it is threaded with it round her."""
        if self.steel.set_radius is None:
            return 0.0
        return (1.0 if self.steel.threaded == "with" else -1.0) / self.steel.set_radius

    @property
    def smallest_elastic_radius(self) -> float:
        """m; bent tighter round her the easy way the steel keeps a kink, or whatever else its material then does."""
        from_free = self.yield_strain / float(self.strain(np.ones(1), np.zeros(1))[0])
        return 1.0 / (from_free + self.set_curvature)
