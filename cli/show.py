"""cage3d show: the cage in a window."""

from __future__ import annotations

import sys

from cage3d.errors import CageError

from .options import File, Force, Into, folder_for
from .telling import progress, say, tell


def show(
    file: File,
    into: Into = None,
    force: Force = False,
) -> None:
    """Show the settled cage in a window that turns with the mouse; without a display, write a picture."""
    from cage3d.draw.pictures import draw_picture
    from cage3d.draw.window import display, open_window
    from cage3d.flow import proved, settle_file
    from cage3d.report import measure
    from cage3d.results import TO_FILL_IN, cage_print, named
    from cage3d.write.folder import Run
    from cage3d.write.places import refuse_file_as_folder

    folder = folder_for(file, into, force)
    refuse_file_as_folder(folder.path)  # before the work
    with progress().status("settling the cage"):
        settled = proved(settle_file(file), file)
        report = measure(settled)
    if display():
        try:
            open_window(settled, report.design)
            return
        except CageError as fault:
            tell(fault)
    with progress().status("drawing a picture, since there is no window"):
        picture = draw_picture(settled, report)
    design = settled.cage.design
    name = named("{stem}-three-quarter.png", design)
    run = Run(cage_print(design), {name: "picture"}, frozenset({"picture"}), TO_FILL_IN)
    for path in folder.put({name: picture}, run, lambda note: say(f"cage3d: {note}", sys.stderr)):
        say(str(path))
