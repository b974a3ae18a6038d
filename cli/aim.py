"""cage3d aim: from the shape that is wanted to what is cut."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Annotated

import typer

from .as_json import faults_as_json, print_json
from .options import File
from .telling import progress, say, show_view

NOT_REACHED = 4  # the exit status


def aim(
    file: File,
    into: Annotated[Path, typer.Option("-o", "--into", metavar="NEW", help="The design to write.")],
    wanted: Annotated[
        Path | None,
        typer.Option(
            metavar="CSV", help="What is wanted, a line a hoop; instead of `wanted:` in the design."
        ),
    ] = None,
    outline: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="The shape as drawn: an SVG with a path named front, side or both, or a CSV with the columns view, "
            "across, height.",
        ),
    ] = None,
    scale: Annotated[
        str | None, typer.Option(metavar="SCALE", help="Of the SVG that --outline names: 1:10.")
    ] = None,
    keep: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME", help="What stays as it is: 'hoop 2', 'drop 3', 'tape 1'. May be repeated."
        ),
    ] = None,
    free: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME", help="What may change too: 'tie 1', 'panel 1', 'tie' for all. May be repeated."
        ),
    ] = None,
    each_tape: Annotated[
        bool, typer.Option("--each-tape", help="Drops may change on every tape for itself.")
    ] = False,
    to: Annotated[
        str | None,
        typer.Option(metavar="LENGTH", help="Round to this: '1/16 in', '2 mm'; 'none': do not round."),
    ] = None,
    within: Annotated[
        str, typer.Option(metavar="LENGTH", help="How near every figure must come.")
    ] = "1/8 in",
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the answer as JSON (m) and nothing else; faults too.")
    ] = False,
    force: Annotated[bool, typer.Option("--force", help="Write over a file that is there.")] = False,
) -> None:
    """Find the lengths and drops that give a wanted shape, and write the design that has it.

    The design says what is wanted of its hoops as they hang under the skirt: `wanted: [{hoop: 4, height: 17,
    width: 24}]`. Every hoop's length may change, and every row of drops all round, front against back, and sides
    against both. Exit status 0: reached; 4: not reached, and the nearest is written.
    """
    from cage3d.design.read import read
    from cage3d.flow import aim_at
    from cage3d.study.answer import answer_json, answer_view
    from cage3d.study.way_back import Asked, usual_step

    with faults_as_json(as_json):
        step = step_of(to) if to is not None else usual_step(read(file))
        asked = Asked(
            keep or (), free or (), each_tape, step, length_of("--within", within), outline, share_of(scale)
        )
        with progress().status("settling the cage") as status:
            answer, written = aim_at(file, into, wanted, asked, force, status.update)
    if as_json:
        print_json(answer_json(answer) | {"written": [str(path) for path in written], "problems": []})
    else:
        show_view(lambda encoding: answer_view(answer, encoding))
        for path in written:
            say(str(path))
    if not answer.reached:
        raise typer.Exit(NOT_REACHED)


def step_of(text: str) -> float | None:
    """m; None for 'none'. Raises CommandError."""
    return None if text.strip().lower() == "none" else length_of("--to", text)


def share_of(text: str | None) -> float | None:
    """0.1 of '1:10'; None where nothing was said. Raises CommandError."""
    from cage3d.errors import CommandError, Problem

    if text is None:
        return None
    told = re.fullmatch(r"\s*([0-9]+(?:\.[0-9]+)?)\s*[:/]\s*([0-9]+(?:\.[0-9]+)?)\s*", text)
    drawn, real = (float(told[1]), float(told[2])) if told else (0.0, 0.0)
    if not (drawn and real and 1e-3 <= drawn / real <= 10.0):
        raise CommandError(Problem("--scale", text, "this is no scale of a drawing", "Write 1:10"))
    return drawn / real


def length_of(option: str, text: str) -> float:
    """m. Raises CommandError for what is no length, or none that one could sew to."""
    from cage3d.errors import CommandError, Problem
    from cage3d.units import UnitError, length

    try:
        metres = length(text)
    except UnitError as fault:
        raise CommandError(Problem(option, text, fault.why, fault.try_this)) from None
    if not 1e-4 <= metres <= 0.1:
        why = "nobody cuts to so little" if metres < 1e-4 else "this is coarser than the cage"
        raise CommandError(Problem(option, text, why, "Write 1/8 in, or 3 mm"))
    return metres
