"""cage3d maquette: a miniature to print."""

from __future__ import annotations

from typing import Annotated

import typer

from .options import File, Force, Into, folder_for
from .telling import progress, show_written


def maquette(
    file: File,
    scale: Annotated[str, typer.Option(help="1:4 to 1:12.")] = "1:6",
    process: Annotated[str, typer.Option(help="fdm, resin or powder: how it is printed.")] = "fdm",
    part: Annotated[
        list[str] | None, typer.Option(help="Only this part; may be given several times.")
    ] = None,
    bed: Annotated[str | None, typer.Option(help="The printer's room in mm, such as 220x220x250.")] = None,
    split: Annotated[
        bool, typer.Option("--split", help="Cut it at tape lines where it is too large.")
    ] = False,
    into: Into = None,
    force: Force = False,
) -> None:
    """Make a miniature to print: one solid with its stand, as thick as the printer needs (STL and 3MF).

    A display model: not to be worn, not a toy.
    """
    from cage3d import flow, outputs
    from cage3d.mesh.maquette import build_maquette

    made = outputs.Part(
        "miniature",
        lambda settled, _report: outputs.miniature_files(
            build_maquette(settled, scale, process, part, bed, split)
        ),
    )
    with progress().status("reading the design") as status:
        show_written(flow.make(file, folder_for(file, into, force), (made,), status.update))
