"""Decimal commas inside lists: [7,5 cm, 8] is three values where two were meant."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from cage3d.design.faults import printable
from cage3d.design.models.around import Hem
from cage3d.design.node import Node
from cage3d.errors import Problem
from cage3d.units import with_point

DIGITS = re.compile(r"[0-9]+")
REST = re.compile(r"[0-9]+ *[A-Za-z\"']*")  # what may stand after the comma of one number


def decimal_commas(root: Node, where: str) -> list[Problem]:
    """A Problem for each comma that ended a number in a list; the list then holds what was meant.

    Told only where joining the two makes the list as long as it should be, so that [7, 5 cm] of two hoops is two drops.
    """
    return [problem for values, wanted in lists_of_lengths(root) for problem in joined(values, wanted, where)]


def lists_of_lengths(root: Node) -> Iterator[tuple[Node, int]]:
    """(list, how many values it should hold): every tape's drops, and what is wanted of the hem."""
    drops, hoops = at(root, "tapes", "drops"), at(root, "hoops")
    if drops is not None and drops.kind == "list" and hoops is not None and hoops.kind == "list":
        rows = [item for item in drops.items if item.kind == "list"]
        yield from ((row, len(hoops.items)) for row in rows or [drops])
    for key in Hem.model_fields:
        wish = at(root, "hem", key)
        if wish is not None and wish.kind == "list":
            yield wish, 2


def at(node: Node | None, *steps: str) -> Node | None:
    """The node that these keys lead to."""
    for step in steps:
        node = None if node is None else node.child(step)
    return node


def joined(values: Node, wanted: int, where: str) -> list[Problem]:
    """Puts the numbers of one list together again; a Problem each, none where it stays unclear which."""
    excess = len(values.items) - wanted
    pairs = touching_pairs(values.items) if excess > 0 else []
    if len(pairs) > excess:  # 7,5 cm rather than 8,6 where one of both is a slip
        pairs = [first for first in pairs if values.items[first + 1].text not in bare(values.items)]
    if not pairs or len(pairs) != excess:
        return []
    problems = []
    for first in reversed(pairs):
        whole = values.items[first]
        text = f"{whole.text},{values.items[first + 1].text}"
        # A copy takes its place: an alias may show the value elsewhere too.
        values.items[first : first + 2] = [replace(whole, text=text.replace(",", "."))]
        why = "a comma in a number ends it inside [ ]"
        problems.append(Problem(where, printable(text), why, with_point(text), whole.line, whole.column))
    return problems[::-1]


def touching_pairs(items: list[Node]) -> list[int]:
    """Places of whole numbers that the next value follows with nothing but the comma between, none in two pairs."""
    places: list[int] = []
    for place, (whole, rest) in enumerate(pairwise(items)):
        free = not places or places[-1] < place - 1
        if free and is_number(whole, DIGITS) and is_number(rest, REST) and touch(whole, rest):
            places.append(place)
    return places


def touch(whole: Node, rest: Node) -> bool:
    return rest.line == whole.line and rest.column == whole.column + len(whole.text or "") + 1


def is_number(item: Node, shape: re.Pattern[str]) -> bool:
    return item.kind == "value" and shape.fullmatch(item.text or "") is not None


def bare(items: list[Node]) -> set[str]:
    """The values that are digits alone."""
    return {item.text or "" for item in items if is_number(item, DIGITS)}
