"""cage3d vary: one figure of a design, or two, over a range."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cage3d.errors import CommandError, Problem

from .as_json import faults_as_json, print_json
from .options import File, Force, folder_named
from .telling import progress, say, show_view

if TYPE_CHECKING:
    from cage3d.results.varied import Swept
    from cage3d.study.sweeping.sweep import Sweep

MOST_UNASKED = 1000  # variants: some minutes
USUAL = 0.3  # s a variant on one core, of a cage of four to seven hoops


def vary(
    file: File,
    words: Annotated[
        list[str],
        typer.Argument(
            metavar="FIGURE LOW..HIGH by STEP",
            help="What varies: 'hoop 4 length' 66..78 by 2. Twice for a grid. With signs, "
            "-1/2..+1/2, what is written changes by so much.",
        ),
    ],
    into: Annotated[
        Path | None,
        typer.Option(
            "-o", "--into", metavar="DIR", parser=folder_named,
            help="Folder for table, curves, contact sheet and page. Default: none, the table is shown alone.",
        ),
    ] = None,
    jobs: Annotated[
        int | None,
        typer.Option("-j", "--jobs", min=1, max=1024, metavar="N", help="How many processes. Default: all cores."),
    ] = None,
    yes: Annotated[bool, typer.Option("--yes", help=f"More than {MOST_UNASKED} variants: do not ask.")] = False,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the figures as JSON (m, N, kg) and nothing else; faults too.")
    ] = False,
    force: Force = False,
) -> None:  # fmt: skip
    """Show how the cage answers while a figure of the design goes through a range: tighten the tie, watch the tilt.

    Any length, drop, tie, panel, weight, size of steel or measure of hers, by its name. Every variant is settled as
    check settles it. One that cannot be stands in its place with its reason; exit status 0 says that one at least
    hangs. With -o the same command, run again after it was stopped, goes on where it was.
    """
    from cage3d.results.varied import sweep_of, vary_file
    from cage3d.study.processes import cores
    from cage3d.write.folder import Folder

    with faults_as_json(as_json):
        refuse_options(words)
        sweep = sweep_of(file, words)
        count = jobs or cores()
        if sweep.count > MOST_UNASKED and not yes:
            ask(sweep, count)
        with counted(sweep, into) as told:
            swept = vary_file(file, sweep, None if into is None else Folder(into, force), count, told)
    tell_swept(swept, as_json)


def refuse_options(words: list[str]) -> None:
    """Ranges may begin with a sign, so the library takes what it does not know as a word."""
    for word in words:
        if (word.startswith("-") and word[1:2].isalpha()) or word.startswith("--"):
            raise CommandError(Problem(word, "", "there is no such option", "See cage3d vary --help"))


def ask(sweep: Sweep, jobs: int) -> None:
    """Whether so many are meant. Raises CommandError where nobody can be asked, or where they are not."""
    said = f"{sweep.count} variants, {long_time(USUAL * sweep.count / jobs)} or more"
    if not (sys.stdin and sys.stdin.isatty()):
        raise CommandError(
            Problem("FIGURE", said, "so many are asked about first", "Take larger steps, or say --yes")
        )
    if not typer.confirm(f"{said}. Go on?", err=True):
        raise CommandError(Problem("FIGURE", said, "they were not wanted", "Take larger steps"))


def long_time(seconds: float) -> str:
    """'5 minutes', '3 hours', '34 days'."""
    for unit, size in (("days", 86400.0), ("hours", 3600.0), ("minutes", 60.0)):
        if seconds >= 2.0 * size:
            return f"{seconds / size:.0f} {unit}"
    return f"{max(seconds, 1.0):.0f} s"


@contextmanager
def counted(sweep: Sweep, into: Path | None) -> Iterator[Callable[[int], object]]:
    """Tells on a terminal how many are done and how long the rest may take; after Ctrl-C, that they are kept."""
    began = time.monotonic()
    with progress().status(f"settling {sweep.count} variants") as status:

        def told(done: int) -> None:
            left = (time.monotonic() - began) / done * (sweep.count - done)
            status.update(f"{done} of {sweep.count} variants, {long_time(left)} left")

        try:
            yield told
        except Exception:
            raise
        except BaseException:
            if into is not None and keeps_some(into):
                say(
                    f"cage3d: stopped. {into} keeps what is settled; the same command goes on from there",
                    sys.stderr,
                )
            raise


def keeps_some(into: Path) -> bool:
    from cage3d.results.varied import KEPT

    return (into / KEPT).is_dir()


def tell_swept(swept: Swept, as_json: bool) -> None:
    from cage3d.study.sweeping.varied_json import varied_json
    from cage3d.study.sweeping.varied_view import varied_view

    if as_json:
        written = [str(path) for path in swept.written]
        print_json(varied_json(swept.varied, swept.sure) | {"written": written, "problems": []})
    else:
        show_view(lambda encoding: varied_view(swept.varied, swept.sure, encoding))
        for path in swept.written:
            say(str(path))
    for note in swept.notes:
        say(f"cage3d: {note}", sys.stderr)
