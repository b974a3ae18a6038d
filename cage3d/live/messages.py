"""What may come up from the page: read with care, since anything can be sent to a port."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any, NoReturn

from cage3d.units import LONGEST

MOST_VALUES = 5000  # of a design with thirty tapes and a hundred hoops there are fewer
LARGEST_COUNT = 2**53  # beyond, a browser's whole numbers are none


class MalformedError(ValueError):
    """What came is no message; why."""


@dataclass(frozen=True)
class Move:
    """All values that differ from the file, by place as she would write them; rest: the hand rests."""

    seq: int
    values: dict[str, str]
    rest: bool


@dataclass(frozen=True)
class Ask:
    """Something to be done, with what it is to be done with."""

    do: str
    id: int
    more: dict[str, Any]


def message_in(data: str | bytes) -> Move | Ask:
    """Raises MalformedError."""
    told = object_in(data)
    if "seq" in told:
        rest = told.get("rest", False)
        if not isinstance(rest, bool):
            raise MalformedError("rest is true or false")
        return Move(count_in(told, "seq"), values_in(told), rest)
    do = told.get("do")
    if not isinstance(do, str) or len(do) > LONGEST:
        raise MalformedError("a message has seq and values, or do and id")
    more = {key: value for key, value in told.items() if key not in ("do", "id")}
    if "values" in more:
        more["values"] = values_in(more)
    return Ask(do, count_in(told, "id"), more)


def object_in(data: str | bytes) -> dict[str, Any]:
    if not isinstance(data, str):
        raise MalformedError("messages are text, and this was none")
    try:
        told = json.loads(data, parse_constant=refuse_constant)
    except (ValueError, RecursionError):
        raise MalformedError("this is no JSON") from None
    if not isinstance(told, dict):
        raise MalformedError("a message is an object with keys")
    return told


def refuse_constant(name: str) -> NoReturn:
    raise ValueError(name)


def count_in(told: dict[str, Any], key: str) -> int:
    value = told.get(key)
    if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value < LARGEST_COUNT:
        raise MalformedError(f"{key} is a whole number")
    return value


def values_in(told: dict[str, Any]) -> dict[str, str]:
    values = told.get("values")
    if not isinstance(values, dict) or len(values) > MOST_VALUES:
        raise MalformedError("values are texts by place")
    for place, text in values.items():
        if not isinstance(text, str) or len(text) > LONGEST or len(place) > LONGEST:
            raise MalformedError("values are texts by place")
    return values
