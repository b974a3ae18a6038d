"""The kinds of section that hoops are made of, and which of them a steel is as it is written."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from cage3d.design import stock, trade
from cage3d.design.models import Steel
from cage3d.shape.arrays import Floats
from cage3d.shape.section import Section, Stiffness

ROUND_SIDES = 12  # of a round section as it is drawn


@dataclass(frozen=True)
class FlatStrip(Section):
    """Flat strips of one size: strands side by side in the casing, layers one upon another."""

    steel: Steel
    own: tuple[float, float]  # (width, thickness) of one strip, m

    @property
    def strips(self) -> int:
        """How many, all told."""
        return self.steel.strands * self.steel.layers

    @property
    def pieces(self) -> int:
        """Bare strips are cut one by one; those in one cover are bought in it."""
        return 1 if self.steel.coating else self.strips

    @property
    def piece(self) -> Section:
        if self.pieces == 1:
            return self
        return replace(self, steel=self.steel.model_copy(update={"strands": 1, "layers": 1}))

    @property
    def through(self) -> float:
        return self.steel.layers * self.own[1]

    @property
    def along(self) -> float:
        return self.steel.strands * self.own[0]

    @property
    def width(self) -> float:
        return self.own[0]

    @property
    def area(self) -> float:
        return self.strips * self.own[0] * self.own[1]

    @property
    def stiffness(self) -> Stiffness:
        """Strips slide along each other, so theirs add up (torsion: Roark, twist of a thin bar)."""
        width, thickness = self.own
        modulus, shear = self.steel.modulus, shear_modulus(self.steel)
        return Stiffness(
            self.strips * modulus * width * thickness**3 / 12.0,
            self.strips * modulus * thickness * width**3 / 12.0,
            self.strips * shear * width * thickness**3 / 3.0 * (1.0 - 0.63 * thickness / width),
        )

    def strain(self, easy: Floats, stiff: Floats) -> Floats:
        """At the corner of one strip, where both bendings add: t/2 and b/2 times the curvatures."""
        width, thickness = self.own
        return np.asarray(thickness / 2.0 * easy + width / 2.0 * stiff)

    def outline(self, wider: float = 0.0, outward: float = 0.0) -> Floats:
        through, along = (size + 2.0 * wider for size in self.covered)
        low, top, high = outward - through / 2.0, outward + through / 2.0, along / 2.0
        return np.array([[low, -high], [top, -high], [top, high], [low, high]])

    @property
    def cover(self) -> float:
        """Of a rectangle: 4 c^2 + 2 c (b + t) is the cover's own area."""
        half_girth = self.along + self.through
        room = self.steel.coating / trade.COVER_DENSITY
        return float((np.sqrt(half_girth**2 + 4.0 * room) - half_girth) / 4.0)

    def tube_mass(self, length: float) -> float:
        return stock.tube_mass(length, self.along, self.through)

    @property
    def size(self) -> str:
        size = f"{self.own[0] * 1e3:g} × {self.own[1] * 1e3:g} mm"
        if self.steel.layers > 1:
            size = f"{self.steel.layers} layers of {size}"
        return size if self.steel.strands == 1 else f"{self.steel.strands} strips of {size}"


@dataclass(frozen=True)
class Round(Section):
    """A rod, or a hose with its bore."""

    steel: Steel
    diameter: float  # m
    bore: float = 0.0  # m, of a hose
    round = True
    own_join = stock.ROUND_JOIN

    @property
    def socket(self) -> str:  # type: ignore[override]
        return "plug" if self.bore else "tube"

    @property
    def through(self) -> float:
        return self.diameter

    @property
    def along(self) -> float:
        return self.diameter

    @property
    def width(self) -> float:
        return self.diameter

    @property
    def area(self) -> float:
        return float(np.pi / 4.0 * (self.diameter**2 - self.bore**2))

    @property
    def fitted(self) -> float:
        return self.bore or self.diameter

    @property
    def stiffness(self) -> Stiffness:
        """E pi (d^4 - bore^4) / 64 both ways, G pi (d^4 - bore^4) / 32."""
        second = float(np.pi / 64.0 * (self.diameter**4 - self.bore**4))
        bending = self.steel.modulus * second
        return Stiffness(bending, bending, 2.0 * shear_modulus(self.steel) * second)

    def strain(self, easy: Floats, stiff: Floats) -> Floats:
        """At its outside, wherever the bend points."""
        return np.asarray(self.diameter / 2.0 * np.hypot(easy, stiff))

    def outline(self, wider: float = 0.0, outward: float = 0.0) -> Floats:
        """A hose is drawn without its bore."""
        circle = rounded(self.covered[0] / 2.0 + wider, ROUND_SIDES)
        return np.asarray(circle + np.array([outward, 0.0]))

    @property
    def cover(self) -> float:
        """Of a disc: pi (d c + c^2) is the cover's own area."""
        room = self.steel.coating / trade.COVER_DENSITY / np.pi
        return float((np.sqrt(self.diameter**2 + 4.0 * room) - self.diameter) / 2.0)

    def tube_mass(self, length: float) -> float:
        if self.bore:
            return float(np.pi / 4.0 * self.bore**2 * length * trade.PLUG_DENSITY)
        outer = self.diameter + 2.0 * trade.TUBE_WALL
        return float(np.pi / 4.0 * (outer**2 - self.diameter**2) * length * trade.TUBE_DENSITY)

    @property
    def size(self) -> str:
        outer = f"Ø {self.diameter * 1e3:g} mm"
        return f"{outer}, wall {(self.diameter - self.bore) / 2.0 * 1e3:g} mm" if self.bore else outer


def rounded(radius: float, count: int = 8) -> Floats:
    """(count, 2) m, section of a round bar: the regular polygon of the same area."""
    turn = 2.0 * np.pi * np.arange(count) / count
    reach = radius * np.sqrt(2.0 * np.pi / (count * np.sin(2.0 * np.pi / count)))
    return np.asarray(reach * np.column_stack([np.cos(turn), np.sin(turn)]))


def shear_modulus(steel: Steel) -> float:
    """Pa, as if the material were alike all ways."""
    return steel.modulus / (2.0 * (1.0 + steel.poisson))


def section_of(steel: Steel) -> Section:
    """The section of a steel as it is written. Raises ValueError where a size of its form is not."""
    if not steel.sized:
        raise ValueError("a size is missing")
    if steel.made_of.form == "flat":
        return FlatStrip(steel, (steel.width or 0.0, steel.thickness or 0.0))
    return Round(steel, steel.diameter or 0.0, (steel.diameter or 0.0) - 2.0 * (steel.wall or 0.0)
                 if steel.made_of.form == "hollow" else 0.0)  # fmt: skip
