"""Faults found by the models, in plain sentences and at their place in the file."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from cage3d.design.keys import keys_at, no_such_key
from cage3d.design.node import Node, Place
from cage3d.design.slips import CURLY, colon_slip, known_words
from cage3d.errors import Problem
from cage3d.legible import legible
from cage3d.units import LONGEST, NoUnitsError, UnitError
from cage3d.wording import nearest

# Where one bare list stands for a list of each tape's, or of each seam's.
ONE_ROW_FOR_ALL = (("tapes", "drops"), ("cloth", "levels"))


def place_text(place: Place) -> str:
    """('hoops', 2, 'length') -> 'hoops[2].length'."""
    return "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in place).lstrip(".")


def place_of(text: str) -> Place:
    """'hoops[2].length' -> ('hoops', 2, 'length')."""
    steps = re.findall(r"\[([0-9]+)\]|([^.\[\]]+)", text)
    return tuple(int(number) if number else word for number, word in steps)


def without_tags(place: Place) -> Place:
    """The place as the maker wrote it: tags of forms left out."""
    return tuple(step for step in place if not str(step).startswith("@"))


def in_tree(root: Node, place: Place) -> tuple[Node, bool]:
    """(deepest node on the way to a place, whether it is the place itself)."""
    rows = root
    for step in place[:2]:
        rows = rows.child(step) or root
    bare = rows.kind == "list" and all(row.kind == "value" for row in rows.items)
    if bare and place[:2] in ONE_ROW_FOR_ALL and len(place) > 2:
        place = place[:2] + place[3:]
    node = root
    for step in place:
        below = node.child(step)
        if below is None or (below.kind == "value" and below.text is None):
            return node.key(step) or node, False
        node = below
    return node, True


def located(problem: Problem, root: Node, file: str, of_key: bool = False) -> Problem:
    """The same problem with file, line and column in place of the part of the design.

    of_key: point at the key and not at its value.
    """
    place = place_of(problem.where)
    node, whole = in_tree(root, place)
    if of_key and place:
        node = in_tree(root, place[:-1])[0].key(place[-1]) or node
    said = problem.said
    if whole and node.kind == "value" and not of_key:
        key = place[-1] if place and isinstance(place[-1], str) else None
        said = f"{key}: {node.text}" if key else str(node.text)
    why, try_this = problem.why, problem.try_this
    if whole and node.text and node.text[0] in CURLY and not of_key:
        why += "; curly quotes are part of what is written here"
        try_this += ", without quotes or in straight ones"
    return Problem(file, printable(said), why, try_this, node.line, node.column)


def printable(text: str, longest: int = 80) -> str:
    """Text that can be shown on one line of any terminal."""
    line = legible(text)
    return line if len(line) <= longest else line[: longest - 3] + "..."


def problems_of(errors: list[Any]) -> Iterator[Problem]:
    """One Problem for each of pydantic's errors; bare numbers without units make one together."""
    bare = [
        error
        for error in errors
        if isinstance(error.get("ctx", {}).get("error"), NoUnitsError) and is_length(error)
    ]
    if bare:
        yield no_units(bare)
    told = {id(error) for error in bare}
    for error in errors:
        if id(error) not in told:
            yield problem_of(error)


def is_length(error: Any) -> bool:
    return str(error["ctx"]["error"]).startswith("a length")


def no_units(errors: list[Any]) -> Problem:
    """All bare lengths are one fault: the design does not say its units."""
    first, others = errors[0], len(errors) - 1
    also = f", and so are {others} others" if others > 1 else ", and so is one other" if others else ""
    return Problem(
        place_text(without_tags(first["loc"])),
        shown(first["input"]),
        f"this is a bare number{also}, and the design does not say its units",
        "Write units: in (or cm, mm, m, ft) near the top, or a unit after each number",
    )


def shown(written: Any) -> str:
    """A plain value as it was written, cut where it is endless."""
    if isinstance(written, int) and abs(written) >= 10**LONGEST:
        return "a whole number without end"
    return str(written)[: LONGEST + 1] if isinstance(written, (str, int, float)) else ""


def problem_of(error: Any) -> Problem:
    place = without_tags(error["loc"])
    kind, ctx, written = error["type"], error.get("ctx", {}), error["input"]
    where, key = place_text(place), str(place[-1]) if place else ""
    said = shown(written)
    fault = ctx.get("error")
    if isinstance(fault, UnitError):
        return Problem(where, said, fault.why, fault.try_this)
    if kind == "missing":
        return missing(where, place, key)
    if kind == "extra_forbidden":
        return unknown(where, place, key)
    if kind == "literal_error":
        return not_a_word(where, said, ctx)
    why, try_this = PLAIN.get(kind, ("this cannot stand here", "Look at one of the samples"))
    if kind in (*GROUPS, *LISTS):
        try_this = instead(place, said) or try_this
    if kind == "too_long":
        why, try_this = (
            f"the list is too long: it holds {ctx.get('max_length')} values",
            "Leave the others out",
        )
    return Problem(where, said, why, try_this)


GROUP = ("a group of keys belongs here", "Write {key: value, key: value}, or the keys indented below")
LIST = ("a list belongs here", "Write [first, second], or lines that begin with -")
GROUPS = ("model_type", "model_attributes_type", "dict_type", "union_tag_invalid")
LISTS = ("tuple_type", "list_type")
PLAIN = {
    **dict.fromkeys(GROUPS, GROUP),
    **dict.fromkeys(LISTS, LIST),
    "bool_parsing": ("this is neither true nor false", "Write true or false"),
    "bool_type": ("this is neither true nor false", "Write true or false"),
    "string_type": ("a text belongs here", "Write it in quotes"),
}
# What a single value was meant for where a group of keys belongs.
FIRST_KEY = {"hoops": "length", "skirt": "weight", "hem": "clearance", "stage": "door"}


def instead(place: Place, said: str) -> str | None:
    """What to write where a group or a list belongs and something else stands; None where nothing better is known."""
    words = [step for step in place if isinstance(step, str)]
    name = words[-1] if words else ""
    meant = known_words(said)[0]
    if said and meant in keys_at(place):
        after = said[re.match(r"[A-Za-z_]*", said).end() :]  # type: ignore[union-attr]
        return next((hint for _, hint in colon_slip(meant, after)), None)
    if name in FIRST_KEY and any(sign.isdigit() for sign in said):
        group = f"{{{FIRST_KEY[name]}: {said}}}"
        return f"Write - {group}, or {name}: [{group}, ...]" if name == "hoops" else f"Write {name}: {group}"
    return f"Write {name}: {EXAMPLES[name]}" if name in EXAMPLES else None


def missing(where: str, place: Place, key: str) -> Problem:
    if place and isinstance(place[-1], int):
        return Problem(where, "", f"the list is too short: value {place[-1] + 1} is missing", "Write it")
    return Problem(where, "", f"{key} is missing", f"Write {key}: {EXAMPLES.get(key, '...')}")


EXAMPLES = {
    "name": "Short petticoat", "wearer": "{waist: 26 in, waist_height: 41 1/2 in}", "waist": "26 in",
    "waist_height": "41 1/2 in", "steel": "{width: 7 mm, thickness: 0.5 mm}", "width": "7 mm",
    "thickness": "0.5 mm", "tapes": "{count: 8, drops: [8 1/4 in, 6 in]}", "count": "8",
    "drops": "[8 1/4 in, 6 in], one for each hoop", "levels": "[8 1/4 in, 14 1/4 in], one for each hoop",
    "gores": "6", "fabric": "cotton twill", "hoops": "and a line - {length: 48 in} for each hoop",
    "length": "48 in", "skirt": "{weight: 0.8 kg}", "hem": "{clearance: [8 in, 10 in]}",
    "ties": "and a line - {from: hoop 3 tape 3, to: hoop 3 tape 6, length: 18 in} for each tie",
    "stage": "{door: 34 in, riser: 6 3/4 in, tread: 11 1/2 in}", "from": "hoop 3 tape 3",
    "to": "hoop 3 tape 6", "tapes of": "[5, 6]",
}  # fmt: skip


def unknown(where: str, place: Place, key: str) -> Problem:
    return Problem(where, key, *no_such_key(key, keys_at(place[:-1])))


def not_a_word(where: str, said: str, ctx: Any) -> Problem:
    words = re.findall(r"'([^']*)'", str(ctx.get("expected", "")))
    near = nearest(said.lower(), words)
    hint = f"Did you mean {near}? The words are" if near else "Write one of"
    also = BESIDE_WORDS.get(where.rsplit(".", 1)[-1])
    choice = f"{', '.join(words)}, or {also}" if also else ", ".join(words)
    if len(words) == 1 and also:
        hint, choice = "Write", f"{words[0]}, {also}"
    return Problem(where, said, "this word has no meaning here", f"{hint} {choice}")


# What may stand where a word may stand too.
BESIDE_WORDS = {
    "join": "{tube: 1 1/4 in} or {overlap: 2 in}", "stations": "shares of the girth: [10 %, 35 %, 65 %, 90 %]",
    "seams": "shares of the girth: [10 %, 35 %, 65 %, 90 %]", "rest": "a height: 1/8 in",
}  # fmt: skip
