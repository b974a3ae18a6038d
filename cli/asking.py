"""Measures from options, or asked for in turn on stderr."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from cage3d import units
from cage3d.errors import CommandError, DesignError, Problem
from cage3d.units import UnitError

from .telling import say

Value = TypeVar("Value")
NEAR_ENOUGH = {
    "in": units.INCH / 2,
    "cm": 0.01,
    "mm": 0.01,
}  # m by which a hem may hang off one height [common practice]


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


def known_length(unit: str, why: str, try_this: str) -> Callable[[str], float]:
    """Reads a length that must have been measured; 'none' is told why not."""

    def read(text: str) -> float:
        if length_or_none(unit)(text) is None:
            raise UnitError(why, try_this)
        return length_in(unit)(text)

    return read


def least_and_most(unit: str) -> Callable[[str], tuple[float, float]]:
    """Reads '8 to 10' or '8-10'; one height is meant to half an inch or a centimetre."""
    near = NEAR_ENOUGH[unit]

    def read(text: str) -> tuple[float, float]:
        low, high = map(more_than_nothing, units.length_range(text, unit))
        return (low, high) if low != high else (max(low - near, low / 2.0), high + near)

    return read


def weight_or_none(text: str) -> float:
    """Reads a weight (kg); 0 or 'none' where there is none."""
    weight = 0.0 if text.strip().lower() == "none" else units.mass(text)
    if weight < 0.0:
        raise UnitError("a weight is not less than nothing", "Write 0.8 kg, 250 g or 2 lb, or 0 for none")
    return weight


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
        raise UnitError(*units.WHOLE_NUMBER)
    return int(text)


def told_by_option(fault: DesignError, given: dict[str, str | None]) -> DesignError:
    """The same faults by the option that asks for each, and in the words that were written there."""
    return DesignError([of_option(problem, given) for problem in fault.problems])


def of_option(problem: Problem, given: dict[str, str | None]) -> Problem:
    if problem.where not in given:
        return problem
    written = given[problem.where]
    said = problem.said if written is None else written[:60]
    return replace(problem, where=option_of(problem.where), said=said)


def option_of(key: str) -> str:
    """'waist_height' -> '--waist-height'."""
    return f"--{key.replace('_', '-')}"
