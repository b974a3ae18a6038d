"""Plain numbers of a design as pydantic types: how many, what it costs, numbers without a unit."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema

from cage3d import units
from cage3d.units import Kind, UnitError


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
Friction = Annotated[
    float,
    BeforeValidator(plain_number(0.0, 2.0)),
    WithJsonSchema({"type": "number", "minimum": 0, "maximum": 2}),
]
Fullness = Annotated[
    float,
    BeforeValidator(plain_number(1.0, 20.0)),
    WithJsonSchema({"type": "number", "minimum": 1, "maximum": 20}),
]


def count(written: Any) -> int:
    """A whole number from 1."""
    units.refuse_long(written, units.WHOLE_NUMBER[1])
    text = written.strip() if isinstance(written, str) else repr(written)
    if isinstance(written, bool) or not re.fullmatch(r"[+-]?[0-9]{1,9}(\.0*)?", text):
        raise UnitError(*units.WHOLE_NUMBER)
    if float(text) < 1:
        raise UnitError("this must be at least 1", "Write 1 or more, or leave the line out")
    return int(float(text))


def money(written: Any) -> float:
    value = units.money(written)
    if value < 0:
        raise UnitError("a price cannot be less than zero", "Write 12.50, for instance")
    return value


TIME = Kind("a time", {"min": 1.0, "h": 60.0, "hour": 60.0, "hours": 60.0}, "12 min or 1.5 h", "min or h")
LONGEST_TIME = 6000.0  # min, a hundred hours


def minutes(written: Any) -> float:
    """Minutes; a bare number is of them."""
    value = units.quantity(written, TIME, 1.0)
    if not 0.0 <= value <= LONGEST_TIME:
        raise UnitError("this is not between 0 and 100 h", "Write 12 min or 1.5 h")
    return value


Count = Annotated[int, BeforeValidator(count), WithJsonSchema({"type": "integer", "minimum": 1})]
Time = Annotated[
    float,
    BeforeValidator(minutes),
    WithJsonSchema({
        "anyOf": [
            {"type": "number", "minimum": 0},
            {"type": "string", "pattern": r"^\s*[+]?[0-9.½¼¾⅛⅜⅝⅞⅓⅔]", "examples": ["12 min"]},
        ],
        "description": "a time, such as 12 min or 1.5 h",
    }),
]  # fmt: skip
Money = Annotated[float, BeforeValidator(money), WithJsonSchema({"type": "number", "minimum": 0})]
