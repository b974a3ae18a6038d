"""cage3d sheets: what is taken to the bench."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .options import Force, Into, folder_for
from .telling import progress, say, show_written

Font = Annotated[
    Path | None, typer.Option(metavar="TTF", help="A TrueType font for letters that the built-in one lacks.")
]


Design = Annotated[
    Path | None, typer.Argument(metavar="FILE", help="The written design, such as petticoat.yaml.")
]
Measuring = Annotated[
    bool, typer.Option("--measuring", help="Only the sheet to measure a wearer by; no design is needed.")
]


def sheets(
    file: Design = None,
    into: Into = None,
    paper: Annotated[str, typer.Option(help="a4, letter or a3.")] = "a4",
    font: Font = None,
    measuring: Measuring = False,
    force: Force = False,
) -> None:
    """Make the making sheets (PDF and CSV).

    Cutting list, full-size marking strips, waistband marks, materials, order of assembly, fitting record,
    measures for the draper, and a card to go with the cage. With --measuring the sheet to print before
    there is a design.

    Print the PDF at 100 %, and measure its squares before you mark a tape by it.
    """
    from cage3d import flow, results
    from cage3d.sheets import refuse_options

    refuse_options(paper, font)  # before the cage is settled: a wrong option costs no wait
    refuse_both_or_neither(file, measuring)
    if file is None:
        say(str(write_measuring(into, paper, font, force)))
        return
    part = results.Result(
        "making sheets",
        lambda settled, report: results.sheet_files(settled, report, paper, font),
        results.SHEETS,
    )
    with progress().status("reading the design") as status:
        made = flow.make(file, folder_for(file, into, force), (part,), status.update)
    show_written(made)


def refuse_both_or_neither(file: Path | None, measuring: bool) -> None:
    """Raises CommandError where the sheet to measure by is asked of a design, or a design's sheets of none."""
    from cage3d.errors import CommandError, Problem

    if file is not None and measuring:
        why = "the sheet to measure by is made without a design"
        raise CommandError(Problem("FILE", str(file), why, "Leave the file out, or leave --measuring out"))
    if file is None and not measuring:
        why = "the sheets of a cage need its design"
        raise CommandError(
            Problem("FILE", "", why, "Name it, or add --measuring for the sheet to measure by")
        )


def write_measuring(into: Path | None, paper: str, font: Path | None, force: bool) -> Path:
    """The measuring sheet, in a folder or here. Raises CommandError where one lies there already."""
    from cage3d.errors import CommandError, Problem
    from cage3d.sheets import measuring_sheet
    from cage3d.write.files import write_whole

    path = (into or Path()) / "measuring-sheet.pdf"
    if path.exists() and not force:
        why = "there is such a file already"
        raise CommandError(
            Problem("--into", str(path), why, "Name another folder, or add --force to replace it")
        )
    return write_whole(path, measuring_sheet(paper, font))
