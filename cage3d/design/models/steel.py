"""The steel as written: one strip for the design, and what a hoop has of its own (m, kg, Pa)."""

from __future__ import annotations

from typing import Literal

from cage3d.design.counts import Count, Poisson
from cage3d.design.forms import Written
from cage3d.design.quantities import (
    Density,
    Length,
    MassPerLength,
    Pressure,
)
from cage3d.design.texts import Word

Threaded = Literal["with", "against"]


class Steel(Written):
    """Flat strip. width, thickness in m; coating kg/m; modulus, yield_stress Pa; density kg/m3.

    set_radius: m, of the curve in which it lies free as it comes off its coil, None where it lies straight;
    threaded: with that curve round her, or against it.
    """

    width: Length
    thickness: Length
    strands: Count = 1
    coating: MassPerLength = 0.0
    modulus: Pressure = 205e9
    poisson: Poisson = 0.29
    density: Density = 7850.0
    yield_stress: Pressure = 1200e6
    set_radius: Length | None = None
    threaded: Word[Threaded] = "with"


class SteelOfHoop(Written):
    """The same keys in one hoop: what is not written is as in the design's `steel`."""

    width: Length | None = None
    thickness: Length | None = None
    strands: Count | None = None
    coating: MassPerLength | None = None
    modulus: Pressure | None = None
    poisson: Poisson | None = None
    density: Density | None = None
    yield_stress: Pressure | None = None
    set_radius: Length | None = None
    threaded: Word[Threaded] | None = None
