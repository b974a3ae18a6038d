"""cage3d grade: one design for many wearers, and one order for all their cages."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .as_json import faults_as_json, print_json
from .options import File, Force, Into
from .telling import progress, say, show_view, tell_problems

if TYPE_CHECKING:
    from cage3d.orders.run import Done


def grade(
    file: File,
    wearers: Annotated[
        Path | None,
        typer.Argument(metavar="WEARERS", help="Her code, waist and what else is known, a line each (CSV)."),
    ] = None,
    into: Into = None,
    waists: Annotated[
        str | None, typer.Option(metavar="RANGE", help="Instead of a table a range of waists: '24..36 by 2'.")
    ] = None,
    share: Annotated[
        bool,
        typer.Option("--share", help="Her height goes into all drops or levels, not into the first alone."),
    ] = False,
    refit: Annotated[
        bool,
        typer.Option("--refit", help="Every silhouette is aimed anew, hoops too; little steel is shared."),
    ] = False,
    designs_only: Annotated[
        bool,
        typer.Option("--designs-only", help="Of each wearer her design alone, without model and sheets."),
    ] = False,
    to: Annotated[
        str | None, typer.Option(metavar="LENGTH", help="Round drops or levels to this: '1/16 in', '2 mm'.")
    ] = None,
    paper: Annotated[str, typer.Option(help="Of the order's sheets: a4, letter or a3.")] = "a4",
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the order as JSON (m) and nothing else; faults too.")
    ] = False,
    force: Force = False,
) -> None:
    """Grade one design for many wearers: a folder for each, and one order for all.

    Hoops stay as they are where her hip allows; others are made longer. The first drops, or the cloth above the first
    casing, are worked out so that the hem hangs as high as the design's, or as her line says. WEARERS has a line for
    each with the columns code, waist and, where they were taken, hip, hip drop, waist height, hem, and any other
    measure of `wearer:`. What is missing is taken from the design's wearer by proportion, and told. Exit status 1
    where a wearer could not be served; the others are made.
    """
    from cage3d.orders.run import Ask, make_order
    from cage3d.orders.telling import order_json, order_view
    from cage3d.results import RESULTS
    from cage3d.study.grading.grade import How
    from cage3d.write.folder import Folder

    from .options import length_of

    with faults_as_json(as_json):
        how = How(refit, share, None if to is None else length_of("--to", to))
        ask = Ask(how, () if designs_only else RESULTS, paper)
        place = into if into is not None else file.with_name(f"{file.stem}-order")
        with progress().status("reading the design") as status:
            done = make_order(file, wearers, waists, Folder(place, force), ask, status.update)
    if as_json:
        from cage3d.report.as_json import problems_json

        told = {} if done.order is None else order_json(done.order)
        print_json(told | {"written": [str(path) for path in done.written]} | problems_json(done.failed))
    elif (order := done.order) is not None:
        show_view(lambda encoding: order_view(order, encoding))
    show_done(done, as_json)
    if done.failed:
        raise typer.Exit(1)


def show_done(done: Done, as_json: bool) -> None:
    """Files to stdout, the rest to stderr."""
    import sys

    if not as_json:
        for path in done.written:
            say(str(path))
    for cage in () if done.order is None else done.order.cages:
        for warning in cage.report.warnings:
            say(f"Warning: {cage.code}: {warning.text}", sys.stderr)
    for note in done.notes:
        say(f"cage3d: {note}", sys.stderr)
    tell_problems(done.failed)
