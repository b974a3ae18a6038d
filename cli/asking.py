"""Measures from options, or asked for in turn on stderr."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TypeVar

from cage3d import units
from cage3d.errors import CommandError, Problem
from cage3d.units import UnitError

from .telling import say

Value = TypeVar("Value")


def answer(
    option: str, given: str | None, question: str, usual: str | None, read: Callable[[str], Value]
) -> Value:
    """What an option gives, or what is answered to its question; a wrong answer is asked again.

    usual: what an empty answer means; None where there must be one. Raises CommandError for a
    wrong option and where nobody answers.
    """
    if given is not None:
        try:
            return read(given)
        except UnitError as fault:
            raise CommandError(Problem(option, given[:60], fault.why, fault.try_this)) from fault
    while True:
        print(f"{question} [{usual}]: " if usual else f"{question}: ", end="", file=sys.stderr, flush=True)
        line = sys.stdin.readline()
        if not line:
            why = "this is needed and was neither given nor answered"
            raise CommandError(Problem(option, "", why, f"Give it, such as {option} {usual or '26'}"))
        try:
            return read(line.strip() or usual or "")
        except UnitError as fault:
            say(f"{fault.why}. {fault.try_this}", sys.stderr)


def length_in(unit: str) -> Callable[[str], float]:
    """Reads a length of more than nothing; a bare number is in `unit`."""

    def read(text: str) -> float:
        return more_than_nothing(units.length(text, unit))

    return read


def more_than_nothing(metres: float) -> float:
    """The length (m). Raises UnitError for 0 and less."""
    if metres <= 0.0:
        raise UnitError("a length is more than nothing", "Write 26 or 26 1/2, for instance")
    return metres


def length_or_none(unit: str) -> Callable[[str], float | None]:
    """Reads a length; 'none' where it was not measured."""
    return lambda text: None if text.strip().lower() in ("none", "") else length_in(unit)(text)


def least_and_most(unit: str) -> Callable[[str], tuple[float, float]]:
    """Reads '8 to 10' or '8-10', or one height as both."""

    def read(text: str) -> tuple[float, float]:
        low, high = units.length_range(text, unit)
        return more_than_nothing(low), more_than_nothing(high)

    return read


def part_of(text: str) -> float:
    """Reads a share: '60 %'. A bare number above one is meant as so many in a hundred."""
    number = text.strip().replace(",", ".")
    bare = number.replace(".", "", 1).isdecimal() and len(number) < 9
    return units.share(f"{number} %" if bare and float(number) > 1.0 else text)


def one_of(words: list[str]) -> Callable[[str], str]:
    """Reads one of some words."""

    def read(text: str) -> str:
        word = text.strip().lower()
        if word not in words:
            raise UnitError(f"{text.strip()} is not known", f"Write {', '.join(words[:-1])} or {words[-1]}")
        return word

    return read


def count(text: str) -> int:
    """Reads a whole number."""
    if not text.strip().isdecimal() or len(text) > 9:
        raise UnitError("a whole number belongs here", "Write 8, for instance")
    return int(text)
