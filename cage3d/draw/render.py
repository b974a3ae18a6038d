"""Pixels of the cage's parts, made in a child process: a crash there becomes one clear line here."""

from __future__ import annotations

import subprocess
import sys
import zlib
from collections.abc import Sequence, Set
from dataclasses import replace
from io import BytesIO
from typing import Any
from zipfile import BadZipFile

import numpy as np

from cage3d.draw.advice import graphics_advice
from cage3d.draw.views import Frame
from cage3d.errors import CageError, Problem
from cage3d.process import how_it_ended, run_child
from cage3d.scene.shown import ScenePart
from cage3d.shape.arrays import Floats

LONGEST_WAIT = 300.0  # s
CHILD = ("-P", "-m", "cage3d.draw.child")  # -P: what lies in the folder it runs in is no library
ROUND_IT = 2  # px drawn round what a picture shows
Pixels = np.ndarray[Any, np.dtype[np.uint8]]
Box = tuple[int, int, int, int]  # px from the upper left corner: left, top, right, bottom


class DrawError(CageError):
    """The pictures could not be made; nothing else depends on them."""


def rendered(
    parts: Sequence[ScenePart], frames: Sequence[Frame], left_out: Sequence[Set[str]] | None = None
) -> list[Pixels]:
    """One (height, width, 3) picture a frame; left_out: kinds of part that each does without.

    Of each only as much is drawn as the parts take up of it: the rest is white paper, which takes as long to draw.
    Raises DrawError where the graphics libraries are missing or fail.
    """
    without = left_out or [frozenset[str]()] * len(frames)
    boxes = [
        box_of(frame, [part.vertices for part in parts if part.group not in kinds])
        for frame, kinds in zip(frames, without, strict=True)
    ]
    drawn = [part_of(frame, box) for frame, box in zip(frames, boxes, strict=True)]
    pictures = pictures_in(pixels(packed(job_arrays(parts, drawn, left_out))), len(frames))
    if any(picture.min() == picture.max() for picture in pictures):
        raise no_pictures("the graphics library drew nothing")
    return [on_white(frame, box, one) for frame, box, one in zip(frames, boxes, pictures, strict=True)]


def box_of(frame: Frame, places: Sequence[Floats]) -> Box:
    """The part of a frame in which places, each (n, 3) m, lie."""
    flat = frame.on_paper(np.vstack(places))
    low, high = np.floor(flat.min(axis=0)) - ROUND_IT, np.ceil(flat.max(axis=0)) + ROUND_IT
    most = [frame.width, frame.height]
    left, top = np.clip(low, 0, np.array(most) - 1).astype(int).tolist()
    right, bottom = np.clip(high, [left + 1, top + 1], most).astype(int).tolist()
    return left, top, right, bottom


def part_of(frame: Frame, box: Box) -> Frame:
    """A frame of what lies in a box of another, pixel for pixel."""
    left, top, right, bottom = box
    aside, up = (left + right - frame.width) / 2.0, (frame.height - top - bottom) / 2.0
    centre = (frame.centre[0] + aside / frame.scale, frame.centre[1] + up / frame.scale)
    return replace(frame, width=right - left, height=bottom - top, centre=centre)


def on_white(frame: Frame, box: Box, picture: Pixels) -> Pixels:
    """(height, width, 3) the whole of a frame of which a box was drawn."""
    left, top, right, bottom = box
    paper = np.full((frame.height, frame.width, 3), 255, dtype=np.uint8)
    paper[top:bottom, left:right] = picture
    return paper


def pictures_in(answer: bytes, count: int) -> list[Pixels]:
    """What draw.child answered. Raises DrawError where it cannot be read."""
    try:
        with np.load(BytesIO(answer), allow_pickle=False) as made:
            return [made[f"pixels_{place}"] for place in range(count)]
    except (OSError, ValueError, KeyError, EOFError, BadZipFile, zlib.error) as fault:
        raise no_pictures("the drawing process left nothing to read") from fault


def job_arrays(
    parts: Sequence[ScenePart], frames: Sequence[Frame], left_out: Sequence[Set[str]] | None = None
) -> dict[str, Any]:
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
        without = left_out[place] if left_out else frozenset()
        arrays[f"drawn_{place}"] = np.array([part.group not in without for part in parts])
    return arrays


def packed(arrays: dict[str, Any]) -> bytes:
    """Arrays as the bytes of an npz file."""
    file = BytesIO()
    np.savez(file, **arrays)
    return file.getvalue()


def pixels(job: bytes) -> bytes:
    try:
        done = run_child([sys.executable, *CHILD], job, off_screen=True, longest_wait=LONGEST_WAIT)
    except (OSError, subprocess.TimeoutExpired) as fault:
        raise no_pictures(f"the drawing process did not finish ({type(fault).__name__})") from fault
    if done.returncode != 0 or not done.stdout:
        raise no_pictures(how_it_ended(done.returncode, done.stderr))
    return done.stdout


def no_pictures(why: str) -> DrawError:
    return DrawError(Problem("pictures", "", why, graphics_advice()))
