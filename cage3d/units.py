"""Lengths, weights and the like as makers write them, to SI floats and back.

The only file that knows inches. Reading: 7 1/2, 7½, 7-1/2, 7.5, 7.5", 1' 6", 7 1/2 in,
19 cm, 17 to 18 1/2; weights as 1 lb 12 oz, weights a length or an area, pressures, shares and money likewise.
Writing: eighths and sixteenths as 7 1/2, or millimetres.
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from cage3d.steady import fixed, steady
from cage3d.wording import nearest

LONGEST = 200  # signs of anything but free text: what is longer is refused before any pattern sees it
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

LONG_DASHES = "‐‑‒–—−"  # what programs put where - was typed
TIDY = str.maketrans({
    "′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "⁄": "/", **dict.fromkeys(LONG_DASHES, "-"),
    "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " ",
})  # fmt: skip
DIGITS = r"[0-9]+"
NUMBER = (
    rf"(?:{DIGITS}(?: +|-){DIGITS} ?/ ?{DIGITS}|{DIGITS} ?/ ?{DIGITS}"
    rf"|(?:{DIGITS}\.?[0-9]*|\.{DIGITS})(?:[eE][+-]?{DIGITS})?)"
)
ONE = re.compile(rf"([+-]?) *({NUMBER}) *(.*)")
WORD = r"[a-z'\"]+\.?"
TWO_UNITS = re.compile(rf"([+-]?) *({NUMBER}) *({WORD}) *-? *({NUMBER}) *({WORD})?")
# What may follow a unit: 1 ft 6 in, 1 lb 12 oz; the first of them where none is written, as in 1' 6.
LESSER = {"ft": ("in",), "lb": ("oz",), "yd": ("in", "ft"), "m": ("cm", "mm"), "cm": ("mm",), "kg": ("g",)}
BARE_LESSER = {"ft", "lb"}
RANGE = re.compile(rf"({NUMBER}[^0-9]*?) *(?:-|\bto\b|\.\.+|…) *({NUMBER}.*)")
SECOND_OF_RANGE = re.compile(r"(?:-|\bto\b|\.\.|…) *[.0-9]")


def tidied(text: str) -> str:
    """Fraction signs, curly quotes and odd blanks in plain letters: '7½' becomes '7 1/2'."""
    out = []
    for sign in text:
        parts = unicodedata.normalize("NFKD", sign) if unicodedata.category(sign) == "No" else ""
        out.append(f" {parts}" if "\u2044" in parts else sign)
    plain = "".join(out).translate(TIDY).replace("''", '"')
    return re.sub(r" +", " ", plain).strip()


def number(text: str) -> float:
    """7 1/2, 7-1/2, 1/2 or 7.5 as a float. Raises UnitError on x/0 and on 7 3/2."""
    if "/" not in text:
        return float(text)
    whole, top, bottom = re.fullmatch(r"(?:([0-9]+)[ -]+)?([0-9]+) ?/ ?([0-9]+)", text).groups()  # type: ignore[union-attr]
    if max(map(len, (whole or "", top, bottom))) > 12:
        raise UnitError("the number is far too long", "Write it as 7 1/2 or 7.5")
    if int(bottom) == 0:
        raise UnitError(
            "a fraction cannot have 0 below the line", "Write it as 7 1/2, or 7 without a fraction"
        )
    if whole and int(top) >= int(bottom):
        raise UnitError(f"the fraction {top}/{bottom} is not smaller than one", "Write it as 7 1/2 or 7.5")
    return float(int(whole or 0) + Fraction(int(top), int(bottom)))


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


def quantity(written: object, kind: Kind, bare: float | None = None) -> float:
    """What was written, in SI.

    written: a number or text; kind: LENGTH, MASS, ...; bare: SI value of one where no unit is
    written (None: a unit must be written, except for 0).
    Raises UnitError (a ValueError) saying why and what to write instead.
    """
    if isinstance(written, bool) or not isinstance(written, (int, float, str)):
        raise UnitError(f"this is not {kind.name}", f"Write {kind.examples}")
    refuse_long(written, f"Write {kind.examples}")
    text = tidied(written if isinstance(written, str) else repr(written))
    refuse_no_number(text, kind)
    sign, value, word = in_two_units(text.lower(), kind) or in_one_unit(text, kind)
    if not math.isfinite(value):
        raise UnitError("the number is far too large", f"Write {kind.examples}")
    return (-value if sign == "-" else value) * scale(value, word, kind, bare)


def in_two_units(text: str, kind: Kind) -> tuple[str, float, str] | None:
    """(sign, value, unit) of 1 ft 6 in, 1' 6 or 1 lb 12 oz; None for anything else."""
    two = TWO_UNITS.fullmatch(text)
    if two is None:
        return None
    unit = unit_word(two[3])
    lesser = unit_word(two[5]) if two[5] else LESSER[unit][0] if unit in BARE_LESSER else ""
    if unit not in kind.units or lesser not in LESSER.get(unit, ()):
        return None
    return two[1], number(two[2]) * round(kind.units[unit] / kind.units[lesser]) + number(two[4]), lesser


def in_one_unit(text: str, kind: Kind) -> tuple[str, float, str]:
    """(sign, value, unit as written). Raises UnitError for what is not one number."""
    one = ONE.fullmatch(text)
    if one is None:
        raise UnitError(f"this is not {kind.name}", f"Write {kind.examples}")
    if SECOND_OF_RANGE.search(one[3]):
        raise UnitError("two numbers stand here, and one belongs here", f"Write {kind.examples}")
    return one[1], number(one[2]), one[3]


def length_range(written: str, units: str | None = None) -> tuple[float, float]:
    """(m, m) of '8-10', '17 to 18 1/2' or '20 to 25 cm'; one length stands for both. Raises UnitError."""
    refuse_long(written, "Write 8 to 10")
    text = tidied(written)
    low, high = text, text
    if re.fullmatch(NUMBER, text) is None and (two := RANGE.fullmatch(text)):
        low, high = two[1], two[2]
        unit = ONE.fullmatch(high)
        if unit and unit[3] and re.fullmatch(NUMBER, low):
            low = f"{low} {unit[3]}"
    return length(low, units), length(high, units)


def refuse_long(written: object, try_this: str) -> None:
    """Raises UnitError for a text or a whole number of more than LONGEST signs."""
    long_text = isinstance(written, str) and len(written) > LONGEST
    if long_text or (isinstance(written, int) and abs(written) >= 10**LONGEST):
        raise UnitError(f"this is far too long, more than {LONGEST} signs", try_this)


def refuse_no_number(text: str, kind: Kind) -> None:
    """NaN, infinity, a decimal comma and an empty text have their own messages."""
    plain = text.lower().lstrip("+-.")
    if plain == "nan":
        raise UnitError("NaN is not a number", f"Write {kind.examples}")
    if plain in ("inf", "infinity"):
        raise UnitError(f"{kind.name} cannot be infinite", f"Write {kind.examples}")
    if re.search(r"[0-9],[0-9]|^,[0-9]", text):
        raise UnitError("a comma in a number can be read in two ways", with_point(text))
    if not plain:
        raise UnitError(f"{kind.name} is missing here", f"Write {kind.examples}")


def with_point(text: str) -> str:
    """What to write instead of 7,5 cm or 1,000 mm."""
    point, none = text.replace(",", "."), text.replace(",", "")
    if text.count(",") > 1:
        return f"Write {none}"
    thousands = re.search(r",[0-9]{3}(?![0-9])", text)
    return f"Write {none} or {point}" if thousands else f"Write {point} with a point"


def scale(value: float, word: str, kind: Kind, bare: float | None) -> float:
    if word:
        return factor(word, kind)
    if bare is not None:
        return bare
    if value == 0.0:
        return 1.0
    raise NoUnitsError(f"{kind.name} needs its unit", f"Write {kind.examples}")


def length(written: object, units: str | None = None) -> float:
    """m; a bare number is in `units` (in, ft, mm, cm, m). Raises UnitError."""
    return quantity(written, LENGTH, LENGTHS[units] if units else None)


def inches(count: float) -> float:
    """m of so many inches, to a nanometre, so that 6 in are 0.1524 m as they are written."""
    return round(count * INCH, 9)


def mass(written: object) -> float:
    """kg. Raises UnitError, also for a bare number other than 0."""
    return quantity(written, MASS)


def share(written: object) -> float:
    """10 %, 0.1 or 1/10 as 0.1. Raises UnitError."""
    return quantity(written, SHARE, 1.0)


def money(written: object) -> float:
    """An amount without its currency. Raises UnitError."""
    try:
        return quantity(written, Kind("an amount of money", {}, "12.50", ""), 1.0)
    except UnitError as fault:
        raise UnitError(
            fault.why, "Write the number alone, such as 12.50; the currency is written once, as currency: EUR"
        ) from None


def show_inches(metres: float, step: float = 1 / 8) -> str:
    """'7 1/2': inches to the nearest `step` (in), without the unit."""
    parts = Fraction(step).limit_denominator(64)
    whole = int(steady(metres / INCH / float(parts), 0)) * parts
    sign, whole = ("-", -whole) if whole < 0 else ("", whole)
    inches, rest = divmod(whole, 1)
    text = " ".join(str(part) for part in (inches, rest) if part) or "0"
    return sign + text


def show_mm(metres: float, digits: int = 1) -> str:
    """'190.5': millimetres, without the unit and without trailing noughts."""
    return short(metres * 1e3, digits)


def short(value: float, digits: int) -> str:
    text = fixed(value, digits)
    return text.rstrip("0").rstrip(".") if "." in text else text


def show_length(metres: float, units: str | None, step: float = 1 / 8, unit: bool = True) -> str:
    """A length in the design's units, rounded: '7 1/2 in', '19.1 cm', '191 mm', '0.191 m', "1' 6 1/2\\"".

    metres: m; step: rounding of inches (in); unit: False leaves the unit away.
    Design units of None read as mm.
    """
    if units == "in":
        return show_inches(metres, step) + (" in" if unit else "")
    if units == "ft":
        sign, size = ("-" if metres < 0 else ""), abs(metres)
        feet = int(steady(size / INCH / step, 0) * step / 12)
        return f"{sign}{feet}' {show_inches(max(size - feet * 12 * INCH, 0.0), step)}\""
    digits = {"mm": 0, "cm": 1, "m": 3}[units or "mm"]
    return short(metres / LENGTHS[units or "mm"], digits) + (f" {units or 'mm'}" if unit else "")


def both(metres: float, step: float = 1 / 8) -> str:
    """'7 1/2 in (190.5 mm)': inches to `step` (in) and millimetres to a tenth."""
    return f"{show_inches(metres, step)} in ({show_mm(metres)} mm)"
