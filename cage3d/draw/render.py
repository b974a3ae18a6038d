"""Pixels of the cage's parts, made in a child process: a crash there becomes one clear line here."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import zlib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from zipfile import BadZipFile

import numpy as np

from cage3d.draw.views import Frame
from cage3d.errors import CageError, Problem
from cage3d.scene.shown import ScenePart

LONGEST_WAIT = 300.0  # s
PACKAGES = "libegl1 libgl1-mesa-dri"
CHILD = ("-m", "cage3d.draw.child")
Pixels = np.ndarray[Any, np.dtype[np.uint8]]


class DrawError(CageError):
    """The pictures could not be made; nothing else depends on them."""


def rendered(parts: Sequence[ScenePart], frames: Sequence[Frame]) -> list[Pixels]:
    """One (height, width, 3) picture a frame.

    Raises DrawError where the graphics libraries are missing or fail.
    """
    with job_folder() as folder:
        job, pixels = folder / "job.npz", folder / "pixels.npz"
        np.savez(job, **job_arrays(parts, frames))
        _run_child(job, pixels)
        pictures = _pictures_in(pixels, len(frames))
    if any(picture.min() == picture.max() for picture in pictures):
        raise _no_pictures("the graphics library drew nothing")
    return pictures


@contextmanager
def job_folder() -> Iterator[Path]:
    """A folder that is gone afterwards. Raises DrawError where none can be made or written to."""
    try:
        with tempfile.TemporaryDirectory(prefix="cage3d-", ignore_cleanup_errors=True) as folder:
            yield Path(folder)
    except OSError as fault:
        why = f"nothing can be written to the folder for temporary files ({fault.strerror or fault})"
        hint = "Make room there, or let TMPDIR name a folder of your own"
        raise DrawError(Problem("pictures", "", why, hint)) from fault


def _pictures_in(path: Path, count: int) -> list[Pixels]:
    """What draw.child left. Raises DrawError where it cannot be read."""
    try:
        with path.open("rb") as stream, np.load(stream, allow_pickle=False) as made:
            return [made[f"pixels_{place}"] for place in range(count)]
    except (OSError, ValueError, KeyError, EOFError, BadZipFile, zlib.error) as fault:
        raise _no_pictures("the drawing process left nothing to read") from fault


def job_arrays(parts: Sequence[ScenePart], frames: Sequence[Frame]) -> dict[str, Any]:
    """What draw.child reads."""
    arrays: dict[str, Any] = {}
    for place, part in enumerate(parts):
        arrays[f"vertices_{place}"] = part.vertices
        arrays[f"normals_{place}"] = part.normals
        arrays[f"faces_{place}"] = part.faces
        arrays[f"look_{place}"] = np.array([*part.colour, part.metal, part.rough])
    for place, frame in enumerate(frames):
        axes = frame.view.axes
        centre = frame.centre[0] * axes[0] + frame.centre[1] * axes[1]
        arrays[f"camera_{place}"] = np.array([*axes.ravel(), *centre, frame.scale, frame.width, frame.height])
    return arrays


def _run_child(job: Path, pixels: Path) -> None:
    command = [sys.executable, *CHILD, str(job), str(pixels)]
    try:
        done = subprocess.run(
            command,
            env=child_environment(off_screen=True),
            stdin=subprocess.DEVNULL,
            capture_output=True,
            timeout=LONGEST_WAIT,
            check=False,
        )
    except (OSError, subprocess.TimeoutExpired) as fault:
        raise _no_pictures(f"the drawing process did not finish ({type(fault).__name__})") from fault
    if done.returncode != 0 or not pixels.exists():
        raise _no_pictures(_why(done))


def child_environment(off_screen: bool) -> dict[str, str]:
    """This process's environment, so that the child finds this very package however this one was found."""
    found = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
    if off_screen:
        found |= {"VTK_DEFAULT_OPENGL_WINDOW": "vtkEGLRenderWindow", "PYVISTA_OFF_SCREEN": "true"}
    return found


def _why(done: subprocess.CompletedProcess[bytes]) -> str:
    if done.returncode < 0:
        return f"the graphics library crashed (signal {-done.returncode})"
    said = done.stderr.decode("utf-8", "replace").strip().splitlines()
    return f"the drawing process failed: {said[-1][:200]}" if said else "the drawing process failed"


def _no_pictures(why: str) -> DrawError:
    return DrawError(
        Problem(
            "pictures", "", why, f"On Debian and Ubuntu: apt install {PACKAGES}; everything else is written"
        )
    )
