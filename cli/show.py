"""cage3d show: the cage in a window, or as a page; two cages side by side in one page."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from cage3d.errors import CageError, CommandError, Problem

from .options import Force, Into, Wearer, folder_for
from .telling import progress, say, tell

Shown = Annotated[
    list[Path],
    typer.Argument(metavar="FILE", help="The written design; with --page a second one to compare it with."),
]


def show(
    files: Shown,
    page: Annotated[
        bool, typer.Option("--page", help="Write a page that opens in any browser, of one cage or of two.")
    ] = False,
    wearer: Wearer = False,
    into: Into = None,
    force: Force = False,
) -> None:
    """Show the settled cage in a window that turns with the mouse; without a display, write a picture.

    With --page one HTML file instead; of two designs side by side at one scale, with what differs.
    """
    refuse_files(files, page)
    if page:
        write_page(files, wearer, into, force)
    else:
        show_window(files[0], wearer, into, force)


def refuse_files(files: list[Path], page: bool) -> None:
    if len(files) > 2:
        said = " ".join(map(str, files))
        raise CommandError(
            Problem("FILE", said, "no more than two cages stand side by side", "Name one or two")
        )
    if len(files) == 2 and not page:
        raise CommandError(
            Problem("FILE", str(files[1]), "the window shows one cage", "Add --page to see two side by side")
        )


def write_page(files: list[Path], wearer: bool, into: Path | None, force: bool) -> None:
    from cage3d import flow

    first = files[0]
    beside = first.with_name("-and-".join(file.stem for file in files)) if len(files) > 1 else None
    with progress().status("reading the design") as status:
        folder = folder_for(first, into or beside, force)
        written, notes = flow.make_page(files, folder, status.update, wearer)
    for note in notes:
        say(f"cage3d: {note}", sys.stderr)
    for path in written:
        say(str(path))


def show_window(file: Path, wearer: bool, into: Path | None, force: bool) -> None:
    from cage3d.design.read import read
    from cage3d.draw.pictures import draw_picture
    from cage3d.draw.window import display, open_window
    from cage3d.flow import proved
    from cage3d.report import measure
    from cage3d.results import TO_FILL_IN, cage_print, named, refuse_wearer
    from cage3d.settle import settle
    from cage3d.shape.lay_out import lay_out
    from cage3d.write.folder import Run
    from cage3d.write.places import refuse_file_as_folder

    folder = folder_for(file, into, force)
    refuse_file_as_folder(folder.path)  # before the work
    with progress().status("settling the cage"):
        design = read(file)
        if wearer:
            refuse_wearer(design)
        settled = proved(settle(lay_out(design)), file)
        report = measure(settled)
    if display():
        try:
            open_window(settled, report.design, wearer)
            return
        except CageError as fault:
            tell(fault)
    with progress().status("drawing a picture, since there is no window"):
        picture = draw_picture(settled, report, wearer=wearer)
    name = named("{stem}-three-quarter.png", design)
    run = Run(cage_print(design), {name: "picture"}, frozenset({"picture"}), TO_FILL_IN)
    for path in folder.put({name: picture}, run, lambda note: say(f"cage3d: {note}", sys.stderr)):
        say(str(path))
