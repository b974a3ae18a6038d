"""Keys that were meant and not quite written: told, and read as meant so that all the rest is judged too."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from cage3d.design.faults import printable
from cage3d.design.keys import keys_at, meant_key, no_such_key
from cage3d.design.node import Node, Place
from cage3d.design.slips import colon_slip, known_words, slip_in, slips_from
from cage3d.errors import Problem
from cage3d.units import with_point

MOST_MENDED = 200  # each costs a search for the key that was meant


def groups(node: Node, place: Place = (), done: set[int] | None = None) -> Iterator[tuple[Node, Place]]:
    """Every mapping of a tree with its place, each once although aliases may show it often."""
    done = set() if done is None else done
    if id(node) in done:
        return
    done.add(id(node))
    if node.kind == "mapping":
        yield node, place
        for key, item in zip(list(node.keys), list(node.items), strict=True):
            yield from groups(item, (*place, key.text or ""), done)
    for number, item in enumerate(node.items if node.kind == "list" else ()):
        yield from groups(item, (*place, number), done)


def lookalike_lines(root: Node, lines: list[str], where: str) -> list[Problem]:
    """Lines whose key is none because a sign in them only looks right: a blank, a dash, a colon.

    Nothing of what stands below such a line is where it was meant to be, so these are told alone.
    """
    found: dict[str, list[Problem]] = {}
    lone: list[Problem] = []
    for group, place in groups(root):
        known = keys_at(place)
        for key in group.keys if known else ():
            if key.text in known or not begins_its_line(key, lines):
                continue
            slip = slip_in(lines[key.line - 1], where, key.line)
            if slip:
                found.setdefault(slip.why, []).append(slip)
        for key, item in zip(group.keys, group.items, strict=True):
            # Lines without any colon run together to one text where a group belongs.
            if (
                item.kind == "value"
                and item.text
                and item.line > key.line
                and keys_at((*place, key.text or ""))
            ):
                lone += slips_from(lines, item.line, where)
    return [*(with_others(slips) for slips in found.values()), *lone]


def begins_its_line(key: Node, lines: list[str]) -> bool:
    return key.line <= len(lines) and not lines[key.line - 1][: key.column - 1].strip(" -")


def with_others(slips: list[Problem]) -> Problem:
    first, others = slips[0], len({slip.line for slip in slips}) - 1
    also = (
        f"; so it is in {others} more lines"
        if others > 1
        else "; so it is in one more line"
        if others
        else ""
    )
    return replace(first, why=first.why + also)


def mended(root: Node, where: str) -> list[Problem]:
    """A Problem for each key that was meant and not written so; the tree then holds what was meant."""
    problems: list[Problem] = []
    for group, place in groups(root):
        known = keys_at(place)
        strangers = (
            [number for number, key in enumerate(group.keys) if key.text not in known] if known else []
        )
        for number in reversed(strangers):
            if len(problems) <= MOST_MENDED and (problem := mend(group, number, known, where)):
                problems.append(problem)
    return problems


def mend(group: Node, number: int, known: list[str], where: str) -> Problem | None:
    """Puts one stranger among the keys right, if it can be told what was meant."""
    key, item = group.keys[number], group.items[number]
    written = key.text or ""
    empty = item.kind == "value" and item.text is None
    if empty and number and written[:1].isdigit() and (problem := decimal_comma(group, number, where)):
        return problem
    if empty:
        meant, after = known_words(written)
        for why, try_this in colon_slip(meant, after) if meant in known and after else ():
            rename(group, key, meant)
            item.text = after.lstrip(" :;=") or None
            return Problem(where, printable(written), why, try_this, key.line, key.column)
    near = meant_key(written, known)
    if empty or near is None or group.key(near) or written == "<<":
        return None  # a key without a value says nothing; of the others the models tell
    rename(group, key, near)
    why, try_this = no_such_key(written, known)
    return Problem(where, printable(written), why, try_this, key.line, key.column)


def rename(group: Node, key: Node, meant: str) -> None:
    """A copy of the key takes its place: an alias may show the key elsewhere too."""
    group.keys[group.keys.index(key)] = replace(key, text=meant)


def decimal_comma(group: Node, number: int, where: str) -> Problem | None:
    """{length: 7,5 cm}: the comma ended the value, and 5 cm stands there as a key of its own."""
    key, before = group.keys[number - 1], group.items[number - 1]
    rest = group.keys[number].text or ""
    if before.kind != "value" or not re.fullmatch(r"[0-9]+", before.text or ""):
        return None
    text = f"{before.text},{rest}"
    said, line, column = f"{key.text}: {text}", before.line, before.column
    before.text = text.replace(",", ".")
    del group.keys[number], group.items[number]
    return Problem(
        where, printable(said), "a comma in a number ends it inside { }", with_point(text), line, column
    )
