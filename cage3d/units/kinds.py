"""The kinds of quantity, their units in SI, and the words that makers write for them."""

from __future__ import annotations

import re
from dataclasses import dataclass

from cage3d.wording import nearest

LONGEST = 200  # signs of anything but free text: what is longer is refused before any pattern sees it
# Why not, and what to write.
WHOLE_NUMBER = ("a whole number belongs here", "Write it in figures: 2, for instance")
INCH = 0.0254  # m, exact
POUND = 0.45359237  # kg, exact
OUNCE = POUND / 16


class UnitError(ValueError):
    """A written value that cannot be read: why, and what to write instead."""

    def __init__(self, why: str, try_this: str) -> None:
        super().__init__(why)
        self.why, self.try_this = why, try_this


class NoUnitsError(UnitError):
    """A bare number where the unit is not known."""


@dataclass(frozen=True)
class Kind:
    """A kind of quantity: its name, its units in SI, and how one is written."""

    name: str
    units: dict[str, float]
    examples: str
    common: str


METRIC = {"mm": 1e-3, "cm": 1e-2, "m": 1.0}
LENGTHS = {**METRIC, "in": INCH, "ft": 12 * INCH, "yd": 36 * INCH}
IN_WORDS = {"in": "inches", "ft": "feet and inches", "mm": "millimetres", "cm": "centimetres", "m": "metres"}
SAME_WORD = {
    '"': "in", "inch": "in", "inches": "in", "ins": "in", "'": "ft", "foot": "ft", "feet": "ft",
    "yard": "yd", "yards": "yd", "yds": "yd", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm",
    "millimeters": "mm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "gram": "g", "grams": "g", "kilogram": "kg",
    "kilograms": "kg", "kilo": "kg", "kilos": "kg", "ounce": "oz", "ounces": "oz", "pound": "lb",
    "pounds": "lb", "lbs": "lb", "percent": "%", "per cent": "%",
}  # fmt: skip
MASSES = {"g": 1e-3, "kg": 1.0, "oz": OUNCE, "lb": POUND}
MASS_PER_LENGTH = {f"{m}/{u}": MASSES[m] / LENGTHS[u] for m in MASSES for u in ("m", "cm", "yd", "ft", "in")}
MASS_PER_AREA = {
    **{
        f"{m}/{u}{two}": MASSES[m] / LENGTHS[u] ** 2
        for m in MASSES
        for u in ("m", "yd")
        for two in ("2", "²")
    },
    "gsm": 1e-3,
}
LENGTH = Kind("a length", LENGTHS, "7 1/2 in, 19 cm or 5 mm", "in, ft, yd, mm, cm or m")
MASS = Kind("a weight", MASSES, "0.8 kg, 250 g or 2 lb", "g, kg, oz or lb")
PER_LENGTH = Kind("a weight a length", MASS_PER_LENGTH, "12 g/m", "g/m, kg/m, g/yd or oz/yd")
PER_AREA = Kind("a weight an area", MASS_PER_AREA, "120 g/m2 or 4 oz/yd2", "g/m2 or oz/yd2")
PRESSURE = Kind("a stress", {"pa": 1.0, "mpa": 1e6, "gpa": 1e9}, "1200 MPa or 205 GPa", "MPa or GPa")
DENSITY = Kind("a density", {"kg/m3": 1.0, "kg/m³": 1.0, "g/cm3": 1e3, "g/cm³": 1e3}, "7850 kg/m3", "kg/m3")
SHARE = Kind("a share", {"%": 0.01}, "10 % or 0.1", "%")
KINDS = (LENGTH, MASS, PER_LENGTH, PER_AREA, PRESSURE, DENSITY, SHARE)


def unit_word(word: str) -> str:
    """A unit in its one spelling: 'inches' and '"' become 'in'."""
    word = word.strip().rstrip(".").lower()
    word = re.sub(r" ?(/|per\b) ?", "/", word) if word not in SAME_WORD else word
    return "/".join(SAME_WORD.get(part, part) for part in word.split("/"))


def unit_name(word: str) -> str | None:
    """'inches' -> 'in': the one spelling of a unit of length, None if it is not one."""
    known = unit_word(word[: LONGEST + 1])
    return known if known in LENGTHS else None


def factor(word: str, kind: Kind) -> float:
    """SI value of one of this unit. Raises UnitError for a unit of another kind or an unknown one."""
    unit = unit_word(word)
    if unit in kind.units:
        return kind.units[unit]
    for other in KINDS:
        if unit in other.units:
            raise UnitError(
                f"{word.strip()} is the unit of {other.name}, and {kind.name} belongs here",
                f"Write {kind.examples}",
            )
    near = nearest(unit, [*kind.units, *SAME_WORD], 0.75)
    perhaps = f"did you mean {near}? " if near else ""
    raise UnitError(
        f"'{word.strip()}' is not a unit known here",
        f"{perhaps[:1].upper()}{perhaps[1:]}Write {kind.examples} (units: {kind.common})",
    )
