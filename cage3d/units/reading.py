"""Written quantities to SI floats: 7 1/2, 7½, 7-1/2, 7.5", 1' 6", 19 cm, 17 to 18 1/2, 1 lb 12 oz, 10 %, 12.50."""

from __future__ import annotations

import math
import re

from cage3d.units.kinds import INCH, LENGTH, LENGTHS, MASS, SHARE, Kind, NoUnitsError, UnitError, factor
from cage3d.units.written import NUMBER, ONE, in_one_unit, in_two_units, refuse_long, refuse_no_number, tidied

RANGE = re.compile(rf"({NUMBER}[^0-9]*?) *(?:-|\bto\b|\.\.+|…) *({NUMBER}.*)")


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
