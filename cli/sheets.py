"""cage3d sheets: what is taken to the bench."""

from __future__ import annotations

from typing import Annotated

import typer

from .options import File, Force, Into, folder_for
from .telling import progress, show_written


def sheets(
    file: File,
    into: Into = None,
    paper: Annotated[str, typer.Option(help="a4, letter or a3.")] = "a4",
    force: Force = False,
) -> None:
    """Make the making sheets (PDF and CSV).

    Cutting list, full-size marking strips, materials and order of assembly.

    Print the PDF at 100 %, and check its ruler before you mark a tape by it.
    """
    from cage3d import flow, outputs

    part = outputs.Part("making sheets", lambda settled, report: outputs.sheet_files(settled, report, paper))
    with progress().status("reading the design") as status:
        made = flow.make(file, folder_for(file, into, force), (part,), status.update)
    show_written(made)
