"""cage3d sheets: what is taken to the bench."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .options import File, Force, Into, folder_for
from .telling import progress, show_written

Font = Annotated[
    Path | None, typer.Option(metavar="TTF", help="A TrueType font for letters that the built-in one lacks.")
]


def sheets(
    file: File,
    into: Into = None,
    paper: Annotated[str, typer.Option(help="a4, letter or a3.")] = "a4",
    font: Font = None,
    force: Force = False,
) -> None:
    """Make the making sheets (PDF and CSV).

    Cutting list, full-size marking strips, materials, order of assembly and fitting record.

    Print the PDF at 100 %, and measure its squares before you mark a tape by it.
    """
    from cage3d import flow, results
    from cage3d.sheets import refuse_options

    refuse_options(paper, font)  # before the cage is settled: a wrong option costs no wait
    part = results.Result(
        "making sheets",
        lambda settled, report: results.sheet_files(settled, report, paper, font),
        results.SHEETS,
    )
    with progress().status("reading the design") as status:
        made = flow.make(file, folder_for(file, into, force), (part,), status.update)
    show_written(made)
