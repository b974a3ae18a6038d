"""The settled cage in a window that turns with the mouse; a process of its own, since VTK may crash.

    python -m cage3d.draw.window JOB.npz TITLE

JOB.npz as in draw.child, without pictures.
"""

from __future__ import annotations

import os
import subprocess
import sys
from typing import Any

import numpy as np

from cage3d.draw.render import DrawError, child_environment, job_arrays, job_folder
from cage3d.draw.views import THREE_QUARTER
from cage3d.errors import Problem
from cage3d.mesh.part import KINDS
from cage3d.scene.shown import scene_parts
from cage3d.settle.state import SettledCage

SHOWN = frozenset(KINDS) - {"skirt", "floor"}
WITHOUT_SCREEN = ("vtkEGLRenderWindow", "vtkOSOpenGLRenderWindow")  # what VTK falls back to, and shows nobody
AWAY = 3.0  # m, from the eye to the middle of the cage


def display() -> bool:
    """Whether there is a screen for a window."""
    return sys.platform in ("darwin", "win32") or bool(
        os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")
    )


def open_window(settled: SettledCage, title: str) -> None:
    """Shows the cage until the window is closed. Raises DrawError where no window comes up."""
    with job_folder() as folder:
        job = folder / "job.npz"
        np.savez(job, **job_arrays(scene_parts(settled, SHOWN), []))
        command = [sys.executable, "-m", "cage3d.draw.window", str(job), title]
        done = subprocess.run(
            command,
            env=child_environment(off_screen=False),
            stdin=subprocess.DEVNULL,
            capture_output=True,
            check=False,
        )
    if done.returncode != 0:
        why = "the window did not come up (no usable graphics)"
        raise DrawError(
            Problem("show", "", why, "A picture shows it too, and so does the page of cage3d make")
        )


def main() -> None:
    """The child: builds the scene and waits for the window to be closed."""
    import pyvista

    from cage3d.draw.child import add_parts

    job_path, title = sys.argv[1:]
    plotter: Any = pyvista.Plotter(title=title)
    if plotter.render_window.GetClassName() in WITHOUT_SCREEN:
        raise RuntimeError("there is no screen to open a window on")
    plotter.set_background("white")
    with np.load(job_path, allow_pickle=False) as job:
        add_parts(plotter, dict(job))
    middle = np.array(plotter.bounds).reshape(3, 2).mean(axis=1)
    _, up, out = THREE_QUARTER.axes
    plotter.camera_position = [middle + AWAY * out, middle, up]
    plotter.enable_terrain_style(mouse_wheel_zooms=True)  # she stays upright however it is turned
    plotter.show()


if __name__ == "__main__":
    main()
