"""The settled cage in a window that turns with the mouse; a process of its own, since VTK may crash.

    python -m cage3d.draw.window

The job as in draw.child, without pictures and with a `title`.
"""

from __future__ import annotations

import os
import sys
from io import BytesIO
from typing import Any

import numpy as np

from cage3d.draw.render import DrawError, job_arrays, packed
from cage3d.draw.views import THREE_QUARTER
from cage3d.errors import Problem
from cage3d.mesh.part import USUAL_KINDS, with_wearer
from cage3d.process import (
    GIVEN_UP,
    LOOKS_EVERY,
    end_with_parent,
    how_it_ended,
    parent_gone,
    received,
    run_child,
)
from cage3d.scene.shown import scene_parts
from cage3d.settle.state import SettledCage

CHILD = ("-P", "-m", "cage3d.draw.window")
SHOWN = USUAL_KINDS - {"skirt", "floor"}
WITHOUT_SCREEN = ("vtkEGLRenderWindow", "vtkOSOpenGLRenderWindow")  # what VTK falls back to, and shows nobody
AWAY = 3.0  # m, from the eye to the middle of the cage


def display() -> bool:
    """Whether there is a screen for a window."""
    return sys.platform in ("darwin", "win32") or bool(
        os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")
    )


def open_window(settled: SettledCage, title: str, wearer: bool = False) -> None:
    """Shows the cage until the window is closed; wearer: on her, and not on her form.

    Raises DrawError where no window comes up.
    """
    job = packed(
        job_arrays(scene_parts(settled, with_wearer(SHOWN) if wearer else SHOWN), [])
        | {"title": np.array(title)}
    )
    try:
        done = run_child([sys.executable, *CHILD], job, off_screen=False)
        why = how_it_ended(done.returncode, done.stderr) if done.returncode else ""
    except OSError as fault:
        why = f"no process could be started ({fault.strerror})"
    if why:
        raise DrawError(
            Problem(
                "show", "", f"no window: {why}", "A picture shows it too, and so does the page of cage3d make"
            )
        )


def main() -> None:
    """The child: builds the scene and waits for the window to be closed."""
    import pyvista

    from cage3d.draw.actors import actors_of

    with np.load(BytesIO(received()), allow_pickle=False) as arrays:
        job = dict(arrays)
    end_with_parent()
    plotter: Any = pyvista.Plotter(title=str(job["title"]))
    if plotter.render_window.GetClassName() in WITHOUT_SCREEN:
        raise RuntimeError("there is no screen to open a window on")
    plotter.set_background("white")
    for actor in actors_of(job):
        plotter.add_actor(actor, reset_camera=False, render=False)
    middle = np.array(plotter.bounds).reshape(3, 2).mean(axis=1)
    _, up, out = THREE_QUARTER.axes
    plotter.camera_position = [middle + AWAY * out, middle, up]
    plotter.enable_terrain_style(mouse_wheel_zooms=True)  # she stays upright however it is turned
    # While the window waits for the mouse no other thread of Python runs: it has to look itself.
    plotter.iren.add_observer("TimerEvent", lambda *_: os._exit(GIVEN_UP) if parent_gone() else None)
    plotter.iren.initialize()
    plotter.iren.create_timer(round(1000 * LOOKS_EVERY), repeating=True)
    plotter.show()
    os._exit(0)  # some drivers crash while they are taken down


if __name__ == "__main__":
    main()
