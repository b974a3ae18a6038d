"""cage3d aim: from the shape that is wanted to what is cut."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from . import aim_options as options
from .as_json import faults_as_json, print_json
from .options import File, length_of
from .telling import progress, say, show_view

if TYPE_CHECKING:
    from cage3d.study.aiming.answer import Answer

NOT_REACHED = 4  # the exit status


def aim(
    file: File,
    into: options.Into,
    wanted: options.Wanted = None,
    outline: options.Outline = None,
    scale: options.Scale = None,
    keep: options.Keep = None,
    free: options.Free = None,
    each_tape: options.EachTape = False,
    to: options.To = None,
    within: options.Within = "1/8 in",
    as_json: options.AsJson = False,
    force: options.Force = False,
) -> None:
    """Find the lengths and drops that give a wanted shape, and write the design that has it.

    The design says what is wanted of its hoops as they hang under the skirt: `wanted: [{hoop: 4, height: 17, width:
    24}]`. Every hoop's length may change, and every row of drops (of a cage on its own cloth: of levels) all round,
    front against back, and sides against both; on cloth first at those hoops of which something is wanted. Exit status
    0: reached; 4: not reached, and the nearest is written.
    """
    from cage3d.backward import aim_at
    from cage3d.study.aiming.way_back import Asked

    with faults_as_json(as_json):
        step, near = options.step_of(to, file), length_of("--within", within)
        asked = Asked(keep or (), free or (), each_tape, step, near, outline, options.share_of(scale))
        with progress().status("settling the cage") as status:
            answer, written = aim_at(file, into, wanted, asked, force, status.update)
    tell(answer, written, as_json)
    if not answer.reached:
        raise typer.Exit(NOT_REACHED)


def tell(answer: Answer, written: Sequence[Path], as_json: bool) -> None:
    """What was found, and the files that hold it."""
    from cage3d.study.aiming.answer import answer_json, answer_view

    if as_json:
        print_json(answer_json(answer) | {"written": [str(path) for path in written], "problems": []})
        return
    show_view(lambda encoding: answer_view(answer, encoding))
    for path in written:
        say(str(path))
