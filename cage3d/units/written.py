"""A quantity as it is written, tidied and taken apart: its number, its unit, and what it cannot be."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

from cage3d.units.kinds import LONGEST, Kind, UnitError, unit_word

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
