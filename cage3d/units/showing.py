"""Metres as text: eighths and sixteenths as 7 1/2, or millimetres."""

from __future__ import annotations

from fractions import Fraction

from cage3d.steady import fixed, steady
from cage3d.units.kinds import INCH, LENGTHS


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
