"""What is wrong, said so that a maker can put it right.

A fault is a `Problem`: where it is, what was written, why that cannot be, and
what to write instead. Problems are collected and raised together, so that one
run of the tool shows them all.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Problem:
    """One fault.

    where: the file, or the part of the design ("hoops[2].length")
    line, column: counted from 1; None where the fault has no place in a file
    said: what was written, as it was written
    why: why it cannot be
    try_this: what to write instead
    """

    where: str
    said: str
    why: str
    try_this: str
    line: int | None = None
    column: int | None = None

    @property
    def place(self) -> str:
        """file:line:column, as editors and terminals make clickable."""
        parts = [self.where, self.line, self.column]
        return ":".join(str(part) for part in parts if part is not None)

    def __str__(self) -> str:
        said = f"{self.said}: " if self.said else ""
        return f"{self.place}: {said}{self.why}. {self.try_this}"


class CageError(Exception):
    """Anything this library refuses to do; carries every Problem found at once."""

    def __init__(self, problems: Sequence[Problem] | Problem) -> None:
        self.problems = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class DesignError(CageError):
    """The written design is at fault (exit status 1)."""


class OutputError(CageError):
    """Something could not be written, or would have overwritten what is not ours (exit status 1)."""


class CommandError(CageError):
    """An option of the command line is at fault (exit status 2)."""


class NotSettledError(CageError):
    """No trustworthy equilibrium was found (exit status 3)."""


class CancelledError(Exception):
    """Settling was stopped by who asked for it; there is no answer, and nothing is wrong."""


class Interruption(BaseException):
    """The work is to end, because who began it says so: no fault of any part of it, and none that is told."""
