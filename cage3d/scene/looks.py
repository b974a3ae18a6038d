"""The one palette of the model: what every material looks like on the screen.

Chosen so that any two colours stay at least 15 apart (CIE 1976 distance in L*a*b*) for
usual sight and as seen with protanopia, deuteranopia and tritanopia, simulated with the
matrices of Machado, Oliveira and Fernandes (2009), doi 10.1109/TVCG.2009.113, at full
severity; a test measures it (16.0 at the closest pair).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Look:
    """A surface: colour as written on the web, how metallic and how rough it is, and how solid."""

    colour: str  # "#RRGGBB", sRGB
    metallic: float = 0.0
    roughness: float = 0.9
    opacity: float = 1.0
    both_sides: bool = False

    @property
    def srgb(self) -> tuple[float, float, float]:
        """Red, green, blue from 0 to 1 as screens take them."""
        red, green, blue = (int(self.colour[place : place + 2], 16) / 255.0 for place in (1, 3, 5))
        return red, green, blue

    @property
    def linear(self) -> tuple[float, float, float]:
        """Red, green, blue from 0 to 1 as light adds up (IEC 61966-2-1)."""
        red, green, blue = (linear_light(value) for value in self.srgb)
        return red, green, blue


def linear_light(value: float) -> float:
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


LOOKS: Mapping[str, Look] = {
    "steel": Look("#8E98A4", metallic=1.0, roughness=0.35),
    "covered steel": Look("#F7F6DC", roughness=0.5),
    "cane": Look("#E1B144", roughness=0.6),
    "plastic": Look("#97C7A8", roughness=0.5),
    "hardware": Look("#B97A29", metallic=1.0, roughness=0.4),  # joins, tips, buckle
    "tape": Look("#E8D29A", both_sides=True),
    "cloth": Look("#846C9C", opacity=0.38, both_sides=True),  # seen through, so that its hoops are seen
    "casing": Look("#A98F5A", both_sides=True),
    "band": Look("#2F3061", both_sides=True),
    "tie": Look("#BB372F", both_sides=True),
    "lace": Look("#147E6A", both_sides=True),
    "form": Look("#CBBEDF", roughness=0.95),
    "stand": Look("#4F3B2E", roughness=0.7),
    "skirt": Look("#5F92D4", roughness=1.0, opacity=0.35, both_sides=True),
    "floor": Look("#D4EEF0", roughness=1.0),
}
