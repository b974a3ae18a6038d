"""The options of `cage3d aim`, and what is read from their texts."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Annotated

import typer

from cage3d.errors import CommandError, Problem

from .options import length_of

Into = Annotated[Path, typer.Option("-o", "--into", metavar="NEW", help="The design to write.")]
Wanted = Annotated[
    Path | None,
    typer.Option(metavar="CSV", help="What is wanted, a line a hoop; instead of `wanted:` in the design."),
]
Outline = Annotated[
    Path | None,
    typer.Option(
        metavar="FILE",
        help="The shape as drawn: an SVG with a path named front, side or both, or a CSV with the columns view, "
        "across, height.",
    ),
]
Scale = Annotated[str | None, typer.Option(metavar="SCALE", help="Of the SVG that --outline names: 1:10.")]
Keep = Annotated[
    list[str] | None,
    typer.Option(
        metavar="NAME",
        help="What stays as it is: 'hoop 2', 'drop 3', 'tape 1', 'level 3', 'seam 1'. May be repeated.",
    ),
]
Free = Annotated[
    list[str] | None,
    typer.Option(
        metavar="NAME", help="What may change too: 'tie 1', 'panel 1', 'tie' for all. May be repeated."
    ),
]
EachTape = Annotated[
    bool,
    typer.Option(
        "--each-tape", "--each-seam", help="Drops may change on every tape for itself, levels on every seam."
    ),
]
To = Annotated[
    str | None,
    typer.Option(metavar="LENGTH", help="Round to this: '1/16 in', '2 mm'; 'none': do not round."),
]
Within = Annotated[str, typer.Option(metavar="LENGTH", help="How near every figure must come.")]
AsJson = Annotated[
    bool, typer.Option("--json", help="Print the answer as JSON (m) and nothing else; faults too.")
]
Force = Annotated[bool, typer.Option("--force", help="Write over a file that is there.")]


def step_of(text: str | None, file: Path) -> float | None:
    """m, to which lengths are rounded: as asked, or as the maker of this design cuts; None for 'none'.

    Raises CageError for what is no length, and where nothing is asked and the design is at fault.
    """
    from cage3d.design.read import read
    from cage3d.study.aiming.way_back import usual_step

    if text is None:
        return usual_step(read(file))
    return None if text.strip().lower() == "none" else length_of("--to", text)


def share_of(text: str | None) -> float | None:
    """0.1 of '1:10'; None where nothing was said. Raises CommandError."""
    if text is None:
        return None
    told = re.fullmatch(r"\s*([0-9]+(?:\.[0-9]+)?)\s*[:/]\s*([0-9]+(?:\.[0-9]+)?)\s*", text)
    drawn, real = (float(told[1]), float(told[2])) if told else (0.0, 0.0)
    if not (drawn and real and 1e-3 <= drawn / real <= 10.0):
        raise CommandError(Problem("--scale", text, "this is no scale of a drawing", "Write 1:10"))
    return drawn / real
