"""cage3d true: from a hung cage as measured to what is wrong with it, and what to mend."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .as_json import faults_as_json, print_json
from .options import File, length_of
from .telling import progress, say, show_view

NOT_EXPLAINED = 4  # the exit status


def true(
    file: File,
    measured: Annotated[
        Path, typer.Argument(metavar="CSV", help="The fitting record (tables/fitting-record.csv), filled in.")
    ],
    keep: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME",
            help="What cannot be moved any more: 'hoop 2', 'tape 5' or 'seam 5', 'hoop 2 tape 5'. May be repeated.",
        ),
    ] = None,
    level: Annotated[
        str, typer.Option(metavar="LENGTH", help="How far the hem may lie out of its line.")
    ] = "1/4 in",
    bare: Annotated[bool, typer.Option("--bare", help="It was measured without its skirt.")] = False,
    into: Annotated[
        Path | None,
        typer.Option(
            "-o", "--into", metavar="NEW", help="Write the design of the cage once mended, and a new record."
        ),
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Write over files that are there.")] = False,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the answer as JSON (m) and nothing else; faults too.")
    ] = False,
) -> None:
    """Find what was cut or sewn otherwise than written, from the cage as it hangs, and what to mend.

    Measure as many heights and widths as you like on the hanging cage, write them into the fitting record that
    `cage3d sheets` makes, and which tapes feel loose or taut. Every mark, drop, hoop and tie that may be off is settled
    at several sizes, which takes some minutes the first time and is kept beside the design for the next.
    Mended, measure it again: into the record that -o writes, with the design beside it.
    Exit status 0: answered; 4: nothing explains what was measured.
    """
    from cage3d.backward import true_of, write_mended
    from cage3d.steady import steady
    from cage3d.study.truing.answer_json import answer_json
    from cage3d.study.truing.told import answer_view, written_view
    from cage3d.study.truing.truing import Limits

    with faults_as_json(as_json):
        limits = Limits(keep or (), length_of("--level", level))
        with progress().status("reading") as status:
            answer = true_of(file, measured, limits, bare, status.update)
        mended = write_mended(file, into, answer, force) if into else None
    written = [str(one) for one in mended.written] if mended else []
    if as_json:
        hem = {} if mended is None else {"written_hem_off_m": steady(mended.hem_off, 5)}
        print_json(answer_json(answer) | hem | {"written": written, "problems": []})
    else:
        show_view(lambda encoding: answer_view(answer, encoding))
        if mended is not None:
            kept = (mended.mark, mended.hem_off, mended.as_before)
            show_view(lambda encoding: written_view(answer.design, *kept, encoding))
        for path in written:
            say(path)
    if not answer.explained:
        raise typer.Exit(NOT_EXPLAINED)
