"""Options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cage3d.errors import CommandError, Problem

if TYPE_CHECKING:
    from cage3d.write.folder import Folder


def folder_named(text: str) -> Path:
    """The folder of `-o`. Raises CommandError for an empty name, which would be the current folder."""
    if not text.strip():
        raise CommandError(
            Problem("--into", text, "is no name of a folder", "Write -o petticoat, or -o . for here")
        )
    return Path(text)


File = Annotated[Path, typer.Argument(metavar="FILE", help="The written design, such as petticoat.yaml.")]
Into = Annotated[
    Path | None,
    typer.Option(
        "-o",
        "--into",
        metavar="DIR",
        parser=folder_named,
        help="Folder for the results. Default: the design's own name, beside it.",
    ),
]
Force = Annotated[
    bool, typer.Option("--force", help="Write over files that this tool did not make, or that were changed.")
]

Wearer = Annotated[
    bool, typer.Option("--wearer", help="Show her whole, torso and legs, instead of her form on a stand.")
]


def folder_for(file: Path, into: Path | None, force: bool) -> Folder:
    """The folder of results: as asked, or petticoat/ for petticoat.yaml."""
    from cage3d.write.folder import Folder

    return Folder(into if into is not None else file.with_suffix("") if file.name else file, force)
