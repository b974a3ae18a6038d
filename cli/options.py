"""Options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from cage3d.write.folder import Folder

File = Annotated[Path, typer.Argument(metavar="FILE", help="The written design, such as petticoat.yaml.")]
Into = Annotated[
    Path | None,
    typer.Option(
        "-o",
        "--into",
        metavar="DIR",
        help="Folder for the results. Default: the design's own name, beside it.",
    ),
]
Force = Annotated[
    bool, typer.Option("--force", help="Write over files that this tool did not make, or that were changed.")
]


def folder_for(file: Path, into: Path | None, force: bool) -> Folder:
    """The folder of results: as asked, or petticoat/ for petticoat.yaml."""
    from cage3d.write.folder import Folder

    return Folder(into if into is not None else file.with_suffix(""), force)
