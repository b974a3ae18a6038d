"""cage3d make: everything into one folder."""

from __future__ import annotations

from .options import File, Force, Into, folder_for
from .telling import progress, show_written


def make(
    file: File,
    into: Into = None,
    force: Force = False,
) -> None:
    """Make everything that follows from a design, into one folder.

    3D model (GLB, STL), page, pictures, making sheets, miniature and report.

    A part that cannot be made, such as pictures on a machine without graphics, is told and left out;
    the exit status is then 1 and all the rest is written.
    """
    from cage3d import flow

    with progress().status("reading the design") as status:
        made = flow.make(file, folder_for(file, into, force), told=status.update)
    show_written(made)
