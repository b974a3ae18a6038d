"""Figures and their ranges out of the words of a command line: 'hoop 4 length' 66..78 by 2."""

from __future__ import annotations

import re
from collections.abc import Sequence

from cage3d.design.faults import printable
from cage3d.design.models import Design
from cage3d.errors import CommandError, Problem
from cage3d.study.sweeping.spoken import varying_named
from cage3d.study.sweeping.steps import Steps, steps_over
from cage3d.units import UnitError, refuse_long
from cage3d.units.kinds import KINDS, SAME_WORD
from cage3d.units.written import NUMBER, tidied

MOST_FIGURES = 2
WORDS = sorted({*SAME_WORD, *(unit for kind in KINDS for unit in kind.units)}, key=len, reverse=True)
UNIT = rf"(?:{'|'.join(map(re.escape, WORDS))})(?![a-z0-9])\.?"
AMOUNT = rf"[+-]? ?{NUMBER}(?: ?{UNIT}(?: ?{NUMBER}(?: ?{UNIT})?)?)?"
BETWEEN = re.compile(r" *(?:\.\.+|…) *| +to +(?=[+-]? ?[.0-9])")
BY = re.compile(r" +(?:by|step) +", re.IGNORECASE)
HOW = "Write 'hoop 4 length' 66..78 by 2, for instance"


def steps_of(design: Design, words: Sequence[str]) -> tuple[Steps, ...]:
    """One figure or two with their ranges, each said in one text or in several words. Raises CommandError."""
    found: list[Steps] = []
    rest = [word for word in words if word.strip()]
    if not rest:
        raise CommandError(Problem("FIGURE", "", "no figure is named that should vary", HOW))
    while rest:
        if len(found) == MOST_FIGURES:
            why = "more than two figures make no table"
            raise CommandError(Problem("FIGURE", printable(" ".join(rest)), why, "Name one or two"))
        steps, rest = next_steps(design, rest)
        found.append(steps)
    if len(found) == MOST_FIGURES and set(found[0].figure.places) & set(found[1].figure.places):
        why = "both figures change the same number"
        raise CommandError(Problem("FIGURE", found[1].figure.name, why, "Name two that differ"))
    return tuple(found)


def next_steps(design: Design, words: list[str]) -> tuple[Steps, list[str]]:
    """The first figure with its range, and the words that are left."""
    text = read_words(words)
    between = BETWEEN.search(text)
    if between is None:
        raise CommandError(Problem("FIGURE", printable(text), "the range is missing", HOW))
    name, low = name_and_low(words, text[: between.start()])
    after = text[between.end() :]
    by, next_range = BY.search(after), BETWEEN.search(after)
    if by is None or (next_range is not None and next_range.start() < by.start()):
        said = printable(f"{low}..{after}")
        raise CommandError(
            Problem(printable(name), said, "the step is missing", "Write by 2 behind the range")
        )
    high, tail = after[: by.start()], after[by.end() :]
    step = re.match(rf"{AMOUNT}(?= |$)", tail, re.IGNORECASE)
    stride = step[0] if step and BETWEEN.search(tail) else tail
    steps = steps_over(varying_named(design, name), low, high, stride, design.units)
    return steps, words_left(words, tail[len(stride) :])


def read_words(words: list[str]) -> str:
    try:
        for word in words:
            refuse_long(word, HOW)
    except UnitError as fault:
        raise CommandError(Problem("FIGURE", printable(words[0]), fault.why, fault.try_this)) from None
    return tidied(" ".join(words))


def name_and_low(words: list[str], before: str) -> tuple[str, str]:
    """(name, the range's first end) of what stands before the dots. A name that was quoted is one word."""
    quoted = tidied(words[0])
    if " " in quoted and before.startswith(f"{quoted} "):
        return quoted, before[len(quoted) + 1 :]
    low = re.search(rf"(?:^| )({AMOUNT})$", before, re.IGNORECASE)
    if low is None:
        name, _, last = before.rpartition(" ")
        return name, last
    return before[: low.start()], low[1]


def words_left(words: list[str], rest: str) -> list[str]:
    """The words behind a range, parted as they were."""
    left = rest.strip()
    for place in range(1, len(words) + 1):
        if tidied(" ".join(words[place:])) == left:
            return words[place:]
    return [left] if left else []
