"""cage3d maquette: a miniature to print."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .options import Force, Into, folder_for
from .telling import progress, show_written


def maquette(
    file: Annotated[Path, typer.Argument(help="The written design, such as petticoat.yaml.")],
    scale: Annotated[str, typer.Option(help="1:4 to 1:12.")] = "1:6",
    process: Annotated[str, typer.Option(help="fdm, resin or powder: how it is printed.")] = "fdm",
    into: Into = None,
    force: Force = False,
) -> None:
    """Make a miniature to print: one solid with its stand, as thick as the printer needs (STL and 3MF).

    A display model: not to be worn, not a toy.
    """
    from cage3d import flow, outputs

    part = outputs.Part(
        "miniature", lambda settled, _report: outputs.miniature_files(settled, scale, process)
    )
    with progress().status("reading the design") as status:
        made = flow.make(file, folder_for(file, into, force), (part,), status.update)
    show_written(made)
