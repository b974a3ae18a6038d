"""The quantities of a design as pydantic types: read as makers write them, kept in SI.

The units of bare lengths come with the validation context {"units": "in"}; without a
context (a design built in code) numbers are SI already.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from cage3d import units
from cage3d.units import Kind, UnitError

LONGEST = 50.0  # m, beyond any part of a cage
LONGEST_COIL = 1000.0  # m
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


def a_share_that_was_meant(written: Any, share: float) -> str:
    """20 is meant as so many in a hundred; 1.2 and 120 % may be anything."""
    bare = "%" not in str(written) and "cent" not in str(written)
    return f"{share:g} %" if bare and 2.0 <= share <= 100.0 else "10 % or 0.1, and 100 % at most"


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
            instead = a_share_that_was_meant(written, value) if kind is units.SHARE else kind.examples
            raise UnitError(
                f"this is more than {high_text}", f"Check the number and its unit; write {instead}"
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


DROP_JSON = {"anyOf": [{"type": "number", "minimum": 0}, {"type": "string", "pattern": MEASURE_PATTERN}]}
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
ROW_JSON = {"type": "array", "items": DROP_JSON, "minItems": 1}
Drops = Annotated[
    tuple[tuple[LengthOrZero, ...], ...],
    WithJsonSchema({
        "description": "along the tape, one a hoop from the top, 0 where hoops meet; a list of lists gives each tape"
        " its own",
        "anyOf": [
            ROW_JSON,
            {"type": "array", "items": ROW_JSON, "minItems": 2},
        ],
    }),
]  # fmt: skip
