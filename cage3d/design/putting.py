"""Values put at places of a design's plain data: "hoops[3].length", as faults name them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from cage3d.design.faults import place_of, printable
from cage3d.errors import DesignError, Problem

PLACE = re.compile(r"[^.\[\]]+(\[[0-9]{1,6}\]|\.[^.\[\]]+)*")


def plain(value: Any) -> Any:
    """A copy in plain dicts, lists and values, as YAML would give it; arrays and numbers of numpy too."""
    if isinstance(value, Mapping):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(item) for item in value]
    return plain(value.tolist()) if hasattr(value, "tolist") else value


def put(data: dict[str, Any], place: str, value: Any) -> None:
    """Puts a value at its place; None takes the key away, and one place past a list's end makes it longer.

    Groups on the way that were not written are begun. Raises DesignError where there is no such place.
    """
    if not isinstance(place, str) or not PLACE.fullmatch(place):
        raise no_place(str(place), "this is no place in a design", "Write hoops[0].length, for instance")
    steps = place_of(place)
    node: Any = data
    for step, after in pairwise(steps):
        held = held_at(node, step, place)
        if held is None:
            held = [] if isinstance(after, int) else {}
            put_at(node, step, held)
        node = held
    held_at(node, steps[-1], place)
    put_at(node, steps[-1], plain(value))


def held_at(node: Any, step: str | int, place: str) -> Any:
    """What stands there; None where nothing does and something may. Raises DesignError."""
    if isinstance(node, dict) and isinstance(step, str):
        return node.get(step)
    if isinstance(node, list) and isinstance(step, int):
        if step > len(node):
            why = f"the list holds {len(node)} values, and they are counted from 0 in a place"
            raise no_place(place, why, f"Write a number from 0 to {len(node)}")
        return node[step] if step < len(node) else None
    what = (
        "a group of keys" if isinstance(node, dict) else "a list" if isinstance(node, list) else "one value"
    )
    raise no_place(place, f"{what} stands above {step_text(step)}", "Put the whole of it there instead")


def put_at(node: Any, step: Any, value: Any) -> None:
    if isinstance(node, list) and step == len(node):
        node.append(value)
    elif value is not None:
        node[step] = value
    elif isinstance(node, dict):
        node.pop(step, None)
    elif isinstance(node, list):
        del node[step]


def step_text(step: str | int) -> str:
    return f"[{step}]" if isinstance(step, int) else step


def no_place(place: str, why: str, try_this: str) -> DesignError:
    return DesignError(Problem(printable(place), "", why, try_this))
