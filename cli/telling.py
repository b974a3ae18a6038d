"""What goes to stderr: problems, one a line, and progress."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable
from contextlib import suppress
from traceback import extract_tb
from typing import TYPE_CHECKING, TextIO

import typer
from rich.console import Console, RenderableType

from cage3d.errors import CageError, CommandError, NotSettledError, Problem
from cage3d.legible import in_signs_of, legible

from .ending import Unprinted

if TYPE_CHECKING:
    from cage3d.flow import Made
    from cage3d.report import Report

PLEASE_REPORT = "Please report this line together with the design file."
NARROWEST = 40  # columns; in fewer a name of a row and one figure might not stand side by side
AT_FAULT = {CommandError: 2, NotSettledError: 3}  # all others: 1


def progress() -> Console:
    """A console on stderr; on a pipe its spinners say nothing."""
    return Console(stderr=True)


def status_of(fault: CageError) -> int:
    """1 the design (or the output) is at fault, 2 the command line, 3 the cage would not settle."""
    return next((status for kind, status in AT_FAULT.items() if isinstance(fault, kind)), 1)


def say(text: str, stream: TextIO | None = None) -> None:
    """One line to a stream (None: stdout), its signs such that no file and no name can steer the terminal."""
    stream = stream or sys.stdout
    print(in_signs_of(getattr(stream, "encoding", None) or "utf-8", legible(text)), file=stream)


def tell(fault: CageError) -> None:
    tell_problems(fault.problems)


def tell_problems(problems: Iterable[Problem]) -> None:
    """Problems, one a line."""
    for problem in problems:
        say(f"cage3d: {problem}", sys.stderr)


def tell_unexpected(fault: Exception) -> None:
    """A fault of this tool: one line."""
    say(f"cage3d: {what_happened(fault)}. {PLEASE_REPORT}", sys.stderr)


def what_happened(fault: Exception) -> str:
    """What the makers of this tool need to find a fault of its own."""
    place = extract_tb(fault.__traceback__)[-1]
    where = f"{place.filename.replace(chr(92), '/').rsplit('/', 1)[-1]}:{place.lineno}"
    said = f"{type(fault).__name__}: {' '.join(str(fault).split())[:300]}; {where}"
    return f"this should not have happened ({said}). It is a fault of the tool, not of your design"


def tell_unprinted(fault: Unprinted) -> None:
    """Output that did not get out; nothing where its reader left, as `| head` does."""
    if not fault.reader_left and sys.stderr is not None:
        with suppress(OSError):
            print(
                f"cage3d: what was to be printed did not get out ({fault}). Make room, or send it elsewhere.",
                file=sys.stderr,
            )


def show_report(report: Report) -> None:
    """The tables of a report to stdout."""
    from cage3d.report import report_view

    show_view(lambda encoding: report_view(report, encoding))


def show_view(view: Callable[[str], RenderableType]) -> None:
    """Tables to stdout: in colour on a terminal and as wide as it is, as plain text into a file or a pipe.

    view: what to show, for a terminal or file of this encoding.
    """
    from cage3d.report.view import as_text

    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    if sys.stdout.isatty():
        screen = Console(highlight=False)
        screen.width = max(columns(), NARROWEST)
        screen.print(view(encoding))
    else:
        print(as_text(view(encoding), encoding), end="")


def columns() -> int:
    """How wide the terminal of stdout is; 80 where it does not say."""
    try:
        return os.get_terminal_size(sys.stdout.fileno()).columns or 80
    except OSError:
        return 80


def show_written(made: Made) -> None:
    """Files written to stdout, the rest to stderr; ends with status 1 where a part could not be made."""
    for path in made.written:
        say(str(path))
    for warning in made.report.warnings:
        say(f"Warning: {warning.text}", sys.stderr)
    for note in made.notes:
        say(f"cage3d: {note}", sys.stderr)
    tell_problems(made.failed)
    if made.failed:
        raise typer.Exit(1)
