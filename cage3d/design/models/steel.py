"""What the hoops are made of, as written: one for the design, and what a hoop has of its own (m, kg, Pa)."""

from __future__ import annotations

from typing import Any, ClassVar, Literal

from pydantic import ConfigDict

from cage3d.design.counts import Count, Poisson
from cage3d.design.forms import LaterKeys
from cage3d.design.hoop_materials import FLAT_STEEL, HOOP_MATERIALS, HoopMaterial, MaterialName
from cage3d.design.quantities import (
    Density,
    Length,
    MassPerLength,
    Pressure,
)
from cage3d.design.texts import Word

Threaded = Literal["with", "against"]
LATER = frozenset({"material", "diameter", "wall", "layers", "least_radius"})
SIZES = {
    "flat": ("width", "thickness"), "round": ("diameter",), "hollow": ("diameter", "wall"),
}  # fmt: skip
COUNTS = ("strands", "layers")  # of flat strip alone


class Steel(LaterKeys):
    """What a hoop is made of. Sizes in m; coating kg/m; modulus, yield_stress Pa; density kg/m3.

    material: None for flat spring steel with the numbers of old, whose doubt is not gone into. What is not written of
    coating, modulus, poisson, density and yield_stress is the material's. width, thickness: of flat strip; diameter: of
    what is round, with its wall where it is hollow. strands: strips side by side; layers: one upon another, that slide.
    least_radius: m, to which it may be bent, None where its yield stress or its material says so.
    set_radius: m, of the curve in which it lies free as it comes off its coil, None where it lies straight;
    threaded: with that curve round her, or against it.
    """

    later: ClassVar[frozenset[str]] = LATER
    model_config = ConfigDict(
        json_schema_extra={"anyOf": [{"required": ["width", "thickness"]}, {"required": ["diameter"]}]}
    )

    material: Word[MaterialName] | None = None
    width: Length | None = None
    thickness: Length | None = None
    diameter: Length | None = None
    wall: Length | None = None
    strands: Count = 1
    layers: Count = 1
    coating: MassPerLength = 0.0
    modulus: Pressure = 205e9
    poisson: Poisson = 0.29
    density: Density = 7850.0
    yield_stress: Pressure | None = 1200e6
    least_radius: Length | None = None
    set_radius: Length | None = None
    threaded: Word[Threaded] = "with"

    def model_post_init(self, context: Any) -> None:  # noqa: ARG002
        """What is not written is the material's; it does not count as written."""
        of = self.made_of
        usual = {
            "coating": of.cover.usual, "modulus": of.modulus.usual, "poisson": of.poisson,
            "density": of.density.usual, "yield_stress": of.yield_stress,
        }  # fmt: skip
        for key, value in usual.items():
            if key not in self.model_fields_set:
                object.__setattr__(self, key, value)

    @property
    def made_of(self) -> HoopMaterial:
        """What its material is known to be."""
        return HOOP_MATERIALS[self.material or FLAT_STEEL]

    @property
    def sized(self) -> bool:
        """Whether every size that its form needs is written."""
        return all(getattr(self, size) is not None for size in SIZES[self.made_of.form])

    @property
    def one_fills(self) -> float:
        """m of casing that one strand fills, bare; 0 where its sizes are not written."""
        return (self.width if self.made_of.form == "flat" else self.diameter) or 0.0

    @property
    def fills(self) -> float:
        """m of casing that all strands fill."""
        return self.strands * self.one_fills

    @property
    def bent_through(self) -> float:
        """m, through what is bent as one: the thickness of one strip, or the diameter; 0 where it is not written."""
        return (self.thickness if self.made_of.form == "flat" else self.diameter) or 0.0

    @property
    def bears(self) -> float:
        """Strain at which it no longer springs back: steel keeps a kink, cane cracks, plastic creases."""
        if self.least_radius is not None:
            return self.bent_through / (2.0 * self.least_radius)
        if self.yield_stress is not None:
            return self.yield_stress / self.modulus
        return 1.0 / (2.0 * self.made_of.least_radius)

    @property
    def yields(self) -> bool:
        """Whether its own limit is told, which leaves nothing for handling; a least radius is one to work to."""
        return self.least_radius is None and self.yield_stress is not None

    def over(self, own: dict[str, Any]) -> Steel:
        """This steel with a hoop's own figures (SI) over it; of another material only sizes of a like form are kept."""
        material: MaterialName | None = own.get("material", self.material)
        if (material or FLAT_STEEL) == (self.material or FLAT_STEEL):
            return self.model_copy(update=own)
        form = HOOP_MATERIALS[material or FLAT_STEEL].form
        keys = (*SIZES[form], *COUNTS) if form == "flat" else SIZES[form]
        kept = {key: value for key in keys if (value := getattr(self, key)) is not None}
        return Steel(**(kept | own))


class SteelOfHoop(LaterKeys):
    """The same keys in one hoop: what is not written is as in the design's `steel`."""

    later: ClassVar[frozenset[str]] = LATER

    material: Word[MaterialName] | None = None
    width: Length | None = None
    thickness: Length | None = None
    diameter: Length | None = None
    wall: Length | None = None
    strands: Count | None = None
    layers: Count | None = None
    coating: MassPerLength | None = None
    modulus: Pressure | None = None
    poisson: Poisson | None = None
    density: Density | None = None
    yield_stress: Pressure | None = None
    least_radius: Length | None = None
    set_radius: Length | None = None
    threaded: Word[Threaded] | None = None
