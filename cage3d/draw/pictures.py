"""The pictures of a settled cage: five views with heights and widths on them, and one sheet of all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from cage3d.draw.dimensions import margins_of, write_on
from cage3d.draw.hung import Hung
from cage3d.draw.overlay import SOFT, Overlay
from cage3d.draw.render import Pixels, rendered
from cage3d.draw.sheet import laid_on_sheet, sheet_frames
from cage3d.draw.views import FRONT, THREE_QUARTER, VIEWS, Frame, View, fitted
from cage3d.errors import NotSettledError, Problem
from cage3d.mesh.part import KINDS
from cage3d.report.record import Report
from cage3d.scene.shown import ScenePart, scene_parts
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats

DRAWN = frozenset(KINDS) - {"skirt", "floor"}
TALL, WIDE = 2000, 2600  # px of a single picture: 17 and 22 cm at 300 dots an inch
TEXT = 46.0  # px on a single picture: 11 point on those 17 cm
HALF, HALF_TEXT = 900, 25.0  # px of each of a pair
NOT_A_CERTIFICATE = "Predicted, not a safety certificate"


def draw_pictures(settled: SettledCage, report: Report) -> dict[str, bytes]:
    """PNG bytes by name: 'front', 'side', 'back', 'three-quarter', 'above', and 'sheet' with all of them.

    Raises DrawError where no graphics library draws, NotSettledError for a cage that is no answer.
    """
    parts, hung = ready(settled, report)
    extent = extent_of(parts)
    frames = [*(single_frame(view, extent, hung) for view in VIEWS), *sheet_frames(extent, hung)]
    pixels = rendered(parts, frames)
    count = len(VIEWS)
    made = {
        frame.view.name: single(image, frame, hung)
        for frame, image in zip(frames[:count], pixels[:count], strict=True)
    }
    return {**made, "sheet": laid_on_sheet(pixels[count:], frames[count:], hung)}


def draw_picture(settled: SettledCage, report: Report, name: str = "three-quarter") -> bytes:
    """One of the pictures alone. Raises like draw_pictures, and KeyError for a name that is none."""
    view = {view.name: view for view in VIEWS}[name]
    parts, hung = ready(settled, report)
    frame = single_frame(view, extent_of(parts), hung)
    return single(rendered(parts, [frame])[0], frame, hung)


def draw_pair(settled: SettledCage, report: Report) -> bytes:
    """One small picture: three-quarter, and the front with its widths and heights. Raises like draw_pictures."""
    parts, hung = ready(settled, report)
    hung = replace(hung, ties_named=False)
    extent = extent_of(parts)
    frames = [
        fitted(view, extent, (HALF, HALF), margins_of(view, hung, HALF_TEXT))
        for view in (THREE_QUARTER, FRONT)
    ]
    pair = Overlay(np.hstack(rendered(parts, frames)), HALF_TEXT)
    for place, frame in enumerate(frames):
        half = Overlay(np.asarray(pair.image)[:, place * HALF : (place + 1) * HALF], HALF_TEXT)
        write_on(half, frame, hung)
        pair.paste(half.image, (place * HALF, 0))
    pair.words((HALF_TEXT, 0.9 * HALF_TEXT), report.design, "lt", 1.1, True)
    return pair.png(150)


def single_frame(view: View, extent: Floats, hung: Hung) -> Frame:
    """A picture's frame: square, and wider where names stand on both sides."""
    wide = WIDE if hung.report.ties and not (view.level or view.plan) else TALL
    return fitted(view, extent, (wide, TALL), margins_of(view, hung, TEXT))


def single(pixels: Pixels, frame: Frame, hung: Hung) -> bytes:
    """A rendered view with its title and measures, as PNG."""
    paper = Overlay(pixels, TEXT)
    write_on(paper, frame, hung)
    width, height = paper.size
    title = paper.shortened(hung.report.design, width - 13 * TEXT, 1.1, True)
    paper.words((TEXT, 0.9 * TEXT), title, "lt", 1.1, True)
    paper.words((width - TEXT, 0.9 * TEXT), frame.view.title, "rt", 1.0, colour=SOFT)
    paper.words((width - TEXT, height - 1.2 * TEXT), NOT_A_CERTIFICATE, "rs", 0.6, colour=SOFT)
    return paper.png()


def extent_of(parts: Sequence[ScenePart]) -> Floats:
    """(n, 3) m, everything that a picture must hold: the parts, and the floor from which heights are measured."""
    places = np.vstack([part.vertices for part in parts])
    middle = (places.min(axis=0) + places.max(axis=0)) / 2.0
    return np.vstack([places, middle * [1.0, 1.0, 0.0]])


def ready(settled: SettledCage, report: Report) -> tuple[list[ScenePart], Hung]:
    if not report.trusted:
        why = "the cage is not settled, so there is nothing to show"
        raise NotSettledError(Problem("pictures", report.design, why, "Run cage3d check to see why"))
    return scene_parts(settled, DRAWN), Hung.of(settled, report)
