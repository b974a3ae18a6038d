"""The values of a design as pydantic types: read as makers write them, kept in SI.

The units of bare lengths come with the validation context {"units": "in"}; without a
context (a design built in code) numbers are SI already.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from typing import Annotated, Any, TypeVar

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from cage3d import units
from cage3d.units import Kind, UnitError

LONGEST = 50.0  # m, beyond any part of a cage
LONGEST_COIL = 1000.0  # m
LONGEST_TEXT = 5000  # letters

# A number with an optional fraction, then anything: the unit words are judged when read.
MEASURE_PATTERN = r"^\s*[+]?[0-9.½¼¾⅛⅜⅝⅞⅓⅔]"


def bare(kind: Kind, info: ValidationInfo) -> float | None:
    """SI value of a bare number of this kind: None where a unit must be written."""
    if info.context is None:
        return 1.0
    if kind is units.LENGTH:
        written = info.context.get("units")
        return units.length(f"1 {written}") if written else None
    return 1.0 if kind in (units.SHARE, units.DENSITY) else None


def measure(
    kind: Kind, low: float, high: float, high_text: str, zero: bool
) -> Callable[[Any, ValidationInfo], float]:
    """A reader of one kind of quantity within [low, high] (SI); zero: whether 0 may be written."""

    def read(written: Any, info: ValidationInfo) -> float:
        value = units.quantity(written, kind, bare(kind, info))
        if value < 0:
            raise UnitError(f"{kind.name} cannot be less than zero", f"Write {kind.examples}")
        if value == 0 and not zero:
            raise UnitError(f"{kind.name} of zero cannot be used here", f"Write {kind.examples}")
        if value > high:
            raise UnitError(
                f"this is more than {high_text}", f"Check the number and its unit; write {kind.examples}"
            )
        if 0 < value < low:
            raise UnitError(
                "this is too small to be made", f"Check the number and its unit; write {kind.examples}"
            )
        return value

    return read


def json(kind: Kind, number: bool, **limits: Any) -> WithJsonSchema:
    """JSON Schema of a quantity: text with its unit, and a bare number where that is allowed."""
    text = {
        "type": "string",
        "pattern": MEASURE_PATTERN,
        "examples": [kind.examples.split(",")[0].split(" or ")[0]],
    }
    plain = {"type": "number", "minimum": 0, **limits} if number else {"const": 0}
    return WithJsonSchema({"anyOf": [plain, text], "description": f"{kind.name}, such as {kind.examples}"})


LENGTH_JSON = {
    "anyOf": [{"type": "number", "exclusiveMinimum": 0}, {"type": "string", "pattern": MEASURE_PATTERN}]
}

Length = Annotated[
    float,
    BeforeValidator(measure(units.LENGTH, 1e-5, LONGEST, "50 m", zero=False)),
    json(units.LENGTH, True, exclusiveMinimum=0),
]
LengthOrZero = Annotated[
    float,
    BeforeValidator(measure(units.LENGTH, 1e-5, LONGEST, "50 m", zero=True)),
    json(units.LENGTH, True),
]


def two_heights(written: Any, info: ValidationInfo) -> Any:
    """[8, 10] as it is; '8-10' and '8 to 10' as two heights in m, with their unit so that they are read once."""
    text = written[0] if isinstance(written, (list, tuple)) and len(written) == 1 else written
    if not isinstance(text, str):
        return written
    low, high = units.length_range(text, (info.context or {}).get("units"))
    if low == high:
        if text is written:
            raise UnitError(
                "one height stands here, and two belong here", "Write the least and the most: 8 to 10"
            )
        return written
    return [f"{low!r} m", f"{high!r} m"]


Heights = Annotated[
    tuple[LengthOrZero, LengthOrZero],
    BeforeValidator(two_heights),
    WithJsonSchema({
        "anyOf": [
            {"type": "array", "items": {"anyOf": [
                {"type": "number", "minimum": 0}, {"type": "string", "pattern": MEASURE_PATTERN}
            ]}, "minItems": 2, "maxItems": 2},
            {"type": "string", "pattern": MEASURE_PATTERN + ".*(-|to|–)"},
        ],
        "description": "two heights, such as [8, 10] or 8 to 10",
    }),
]  # fmt: skip
CoilLength = Annotated[
    float,
    BeforeValidator(measure(units.LENGTH, 1e-3, LONGEST_COIL, "1000 m", zero=False)),
    json(units.LENGTH, True, exclusiveMinimum=0),
]
Mass = Annotated[
    float, BeforeValidator(measure(units.MASS, 0.0, 1e4, "10 t", zero=True)), json(units.MASS, False)
]
MassPerLength = Annotated[
    float,
    BeforeValidator(measure(units.PER_LENGTH, 0.0, 10.0, "10 kg/m", zero=True)),
    json(units.PER_LENGTH, False),
]
Pressure = Annotated[
    float,
    BeforeValidator(measure(units.PRESSURE, 1e6, 1e15, "1000000 GPa", zero=False)),
    json(units.PRESSURE, False),
]
Density = Annotated[
    float,
    BeforeValidator(measure(units.DENSITY, 100.0, 25e3, "25000 kg/m3", zero=False)),
    json(units.DENSITY, True),
]
Fraction = Annotated[
    float,
    BeforeValidator(measure(units.SHARE, 0.0, 1.0, "the whole", zero=True)),
    json(units.SHARE, True, maximum=1),
]


def plain_number(low: float, high: float) -> Callable[[Any], float]:
    def read(written: Any) -> float:
        value = units.quantity(
            written, Kind("a plain number", {}, f"a number from {low:g} to {high:g}", ""), 1.0
        )
        if not low <= value <= high:
            raise UnitError(
                f"this is not between {low:g} and {high:g}", f"Write a number from {low:g} to {high:g}"
            )
        return value

    return read


Poisson = Annotated[
    float,
    BeforeValidator(plain_number(0.0, 0.5)),
    WithJsonSchema({"type": "number", "minimum": 0, "maximum": 0.5}),
]
Fullness = Annotated[
    float,
    BeforeValidator(plain_number(1.0, 20.0)),
    WithJsonSchema({"type": "number", "minimum": 1, "maximum": 20}),
]


def count(written: Any) -> int:
    """A whole number from 1."""
    units.refuse_long(written, "Write 8, for instance")
    text = written.strip() if isinstance(written, str) else repr(written)
    if isinstance(written, bool) or not re.fullmatch(r"[+-]?[0-9]{1,9}(\.0*)?", text):
        raise UnitError("a whole number belongs here", "Write 8, for instance")
    if float(text) < 1:
        raise UnitError("this must be at least 1", "Write 1 or more, or leave the line out")
    return int(float(text))


def money(written: Any) -> float:
    value = units.money(written)
    if value < 0:
        raise UnitError("a price cannot be less than zero", "Write 12.50, for instance")
    return value


Count = Annotated[int, BeforeValidator(count), WithJsonSchema({"type": "integer", "minimum": 1})]
Money = Annotated[float, BeforeValidator(money), WithJsonSchema({"type": "number", "minimum": 0})]


def known_units(written: Any) -> Any:
    """'inches' is as good as 'in'."""
    return units.unit_name(written) or written if isinstance(written, str) else written


AsUnit = BeforeValidator(known_units)


def plain_text(written: Any) -> str:
    """Any script, one line or more; control characters would garble sheets and terminals."""
    if isinstance(written, (bool, dict, list, tuple)) or written is None:
        raise UnitError("a text belongs here", "Write it in quotes if it holds : or #")
    if isinstance(written, int):
        units.refuse_long(written, "Write it shorter")
    if len(str(written)) > 2 * LONGEST_TEXT:  # a sign may be written as two that make one
        raise too_long()
    text = unicodedata.normalize("NFC", str(written)).strip()
    if any(unicodedata.category(sign) in ("Cc", "Cs", "Co", "Cn") and sign not in "\n\t" for sign in text):
        raise UnitError("the text holds control characters", "Write letters, digits and plain signs")
    if len(text) > LONGEST_TEXT:
        raise too_long()
    return text


def too_long() -> UnitError:
    return UnitError(f"the text is longer than {LONGEST_TEXT} letters", "Write it shorter")


def plain_name(written: Any) -> str:
    """A design's name: free text, but file names are made from it. Raises UnitError."""
    text = plain_text(written)
    if not text:
        raise UnitError("the name is empty", "Write name: Short petticoat, for instance")
    if any(sign in "\n\t" or unicodedata.category(sign) in ("Zl", "Zp") for sign in text):
        raise UnitError("the name must stand on one line", "Write it shorter; longer text belongs in notes")
    if "/" in text or "\\" in text:
        raise UnitError(
            "a name cannot hold a slash, because files are named after it", "Write a blank or - instead"
        )
    if ".." in text or text == ".":
        raise UnitError(
            "a name cannot hold '..', because files are named after it", "Write it without the dots"
        )
    if len(text) > 120:
        raise UnitError(
            "the name is longer than 120 letters", "Write it shorter; longer text belongs in notes"
        )
    return text


# Short and long words that makers write for a currency; the sheets print what was written.
CURRENCY_WORDS = (
    "kr", "kč", "zł", "ft", "fr", "lei", "euro", "euros", "pound", "pounds", "dollar", "dollars",
)  # fmt: skip


def currency(written: Any) -> str:
    """A currency's three letters (ISO 4217), its sign, or its sign with a country's letters as in US$."""
    text = plain_text(written)
    letters = text.rstrip(".")
    code = letters.isascii() and letters.isalpha() and len(letters) == 3
    signs = [sign for sign in text if unicodedata.category(sign) == "Sc"]
    lettered = text.strip("".join(signs) + " .") if len(signs) == 1 else "?"
    signed = not lettered or (lettered.isascii() and lettered.isalpha() and len(lettered) <= 3)
    if text and not (code or signed or letters.lower() in CURRENCY_WORDS):
        raise UnitError("this is no currency", "Write its three letters, such as EUR, or its sign, such as €")
    return text


Currency = Annotated[str, BeforeValidator(currency), WithJsonSchema({"type": "string", "maxLength": 8})]
Text = Annotated[str, BeforeValidator(plain_text), WithJsonSchema({"type": "string"})]
Name = Annotated[
    str,
    BeforeValidator(plain_name),
    WithJsonSchema({"type": "string", "minLength": 1, "maxLength": 120, "pattern": r"^[^/\\]*$"}),
]


def cloth(written: Any, info: ValidationInfo) -> float | str:
    """kg/m2, or the name of a cloth as text."""
    units.refuse_long(written, "Write a cloth such as taffeta, or a weight such as 120 g/m2")
    if isinstance(written, str) and written and not any(sign.isdigit() for sign in written):
        return plain_text(written)
    return measure(units.PER_AREA, 0.0, 20.0, "20 kg/m2", zero=False)(written, info)


Cloth = Annotated[
    float | str,
    BeforeValidator(cloth),
    WithJsonSchema({"type": "string", "description": "a cloth by name, or its weight such as 120 g/m2"}),
]
ROW_JSON = {"type": "array", "items": LENGTH_JSON, "minItems": 1}
Drops = Annotated[
    tuple[tuple[Length, ...], ...],
    WithJsonSchema({
        "description": "along the tape, one a hoop from the top; a list of lists gives each tape its own",
        "anyOf": [
            ROW_JSON,
            {"type": "array", "items": ROW_JSON, "minItems": 2},
        ],
    }),
]  # fmt: skip

# Earlier designs name a way of printing by an abbreviation.
EARLIER_PROCESSES = {"fdm": "filament"}


def process_today(written: Any) -> Any:
    """A way of printing by its name of today, whichever was written; anything else as it is."""
    said = written.strip() if isinstance(written, str) else written
    return EARLIER_PROCESSES.get(said, said) if isinstance(said, str) else said


AsProcess = BeforeValidator(process_today)
Choice = TypeVar("Choice")
Word = Annotated[
    Choice, BeforeValidator(lambda written: written.strip() if isinstance(written, str) else written)
]
