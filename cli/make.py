"""cage3d make: everything into one folder."""

from __future__ import annotations

from typing import Annotated

import typer

from .options import File, Force, Into, Wearer, folder_for
from .telling import progress, show_written


def make(
    file: File,
    into: Into = None,
    parts: Annotated[
        str | None,
        typer.Option(help="Only these in model and page: hoops,tapes; or all but these: no-skirt,no-form."),
    ] = None,
    fine: Annotated[bool, typer.Option("--fine", help="Hoops of the model in smaller steps.")] = False,
    wearer: Wearer = False,
    usdz: Annotated[
        bool, typer.Option("--usdz", help="A model for telephones too; needs the extra: cage3d[usdz].")
    ] = False,
    force: Force = False,
) -> None:
    """Make everything that follows from a design, into one folder.

    3D model (GLB, STL), page, pictures, making sheets, miniature and report.

    A part that cannot be made, such as pictures on a machine without graphics, is told and left out;
    the exit status is then 1 and all the rest is written.
    """
    from cage3d import flow, results
    from cage3d.mesh.part import wanted_kinds

    chosen = results.results_showing(wanted_kinds(parts), fine, wearer, usdz)
    with progress().status("reading the design") as status:
        made = flow.make(file, folder_for(file, into, force), chosen, status.update)
    show_written(made)
