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


def length_of(option: str, text: str) -> float:
    """m. Raises CommandError for what is no length, or none that one could sew to."""
    from cage3d.units import UnitError, length

    try:
        metres = length(text)
    except UnitError as fault:
        raise CommandError(Problem(option, text, fault.why, fault.try_this)) from None
    if not 1e-4 <= metres <= 0.1:
        why = "nobody cuts to so little" if metres < 1e-4 else "this is coarser than the cage"
        raise CommandError(Problem(option, text, why, "Write 1/8 in, or 3 mm"))
    return metres


def folder_for(file: Path, into: Path | None, force: bool) -> Folder:
    """The folder of results: as asked, or petticoat/ for petticoat.yaml."""
    from cage3d.write.folder import Folder

    return Folder(into if into is not None else file.with_suffix("") if file.name else file, force)
