"""The pictures of a settled cage: five views with heights and widths, one sheet of all, and it under its skirt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from cage3d.draw.dimensions import how_sure, margins_of, write_on
from cage3d.draw.hung import Hung
from cage3d.draw.overlay import SOFT, Overlay
from cage3d.draw.render import Pixels, rendered
from cage3d.draw.sheet import laid_on_sheet, sheet_frames
from cage3d.draw.views import FRONT, SKIRT, THREE_QUARTER, VIEWS, Frame, Margins, View, fitted
from cage3d.errors import NotSettledError, Problem
from cage3d.mesh.part import CAGE_KINDS, USUAL_KINDS, with_wearer
from cage3d.report.record import Report
from cage3d.scene.shown import ScenePart, scene_parts
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats

DRAWN = USUAL_KINDS - {"skirt", "floor"}
TALL, WIDE = 2000, 2600  # px of a single picture: 17 and 22 cm at 300 dots an inch
TEXT = 46.0  # px on a single picture: 11 point on those 17 cm
HALF, HALF_TEXT = 900, 25.0  # px of each of a pair
NOT_A_CERTIFICATE = "Predicted, not a safety certificate"


def draw_pictures(settled: SettledCage, report: Report, wearer: bool = False) -> dict[str, bytes]:
    """PNG bytes by name: 'front', 'side', 'back', 'three-quarter', 'above', 'sheet' with all of them, and 'skirt'.

    wearer: she stands in them whole, instead of her form. 'skirt' is there where the design has one.
    Raises DrawError where no graphics library draws, NotSettledError for a cage that is no answer.
    """
    parts, hung = ready(settled, report, wearer)
    skirt = [replace(part, colour=(*part.colour[:3], 1.0)) for part in scene_parts(settled, {"skirt"})]
    extent = extent_of(parts)
    frames = [*(single_frame(view, extent, hung) for view in VIEWS), *sheet_frames(extent, hung)]
    frames += [skirt_frame(extent_of([*parts, *skirt]))] if skirt else []
    # Under its skirt nothing is seen of the cage, but where slack tapes would stand out through the cloth.
    without = [CAGE_KINDS if frame.view == SKIRT else frozenset({"skirt"}) for frame in frames]
    pixels = rendered([*parts, *skirt], frames, without)
    of_sheet = slice(len(VIEWS), len(frames) - len(skirt))
    made = {
        frame.view.name: single(image, frame, hung)
        for frame, image in zip(frames[: len(VIEWS)], pixels[: len(VIEWS)], strict=True)
    }
    made["sheet"] = laid_on_sheet(pixels[of_sheet], frames[of_sheet], hung)
    return made | ({SKIRT.name: single(pixels[-1], frames[-1], hung)} if skirt else {})


def draw_picture(
    settled: SettledCage, report: Report, name: str = "three-quarter", wearer: bool = False
) -> bytes:
    """One of VIEWS alone. Raises like draw_pictures, and KeyError for a name that is none of theirs."""
    view = {view.name: view for view in VIEWS}[name]
    parts, hung = ready(settled, report, wearer)
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
        how_sure(half, (HALF_TEXT, 2.3 * HALF_TEXT), frame, hung)
        pair.paste(half.image, (place * HALF, 0))
    pair.words((HALF_TEXT, 0.9 * HALF_TEXT), report.design, "lt", 1.1, True)
    return pair.png(150)


def single_frame(view: View, extent: Floats, hung: Hung) -> Frame:
    """A picture's frame: square, and wider where names stand on both sides."""
    wide = WIDE if hung.report.ties and not (view.level or view.plan) else TALL
    return fitted(view, extent, (wide, TALL), margins_of(view, hung, TEXT))


def skirt_frame(extent: Floats) -> Frame:
    """The frame of the picture with the skirt, on which no measures stand but a scale."""
    return fitted(SKIRT, extent, (TALL, TALL), Margins(2.0 * TEXT, 2.0 * TEXT, 3.0 * TEXT, 4.0 * TEXT))


def single(pixels: Pixels, frame: Frame, hung: Hung) -> bytes:
    """A rendered view with its title and measures, as PNG."""
    paper = Overlay(pixels, TEXT)
    write_on(paper, frame, hung)
    width, height = paper.size
    title = paper.shortened(hung.report.design, width - 13 * TEXT, 1.1, True)
    paper.words((TEXT, 0.9 * TEXT), title, "lt", 1.1, True)
    paper.words((width - TEXT, 0.9 * TEXT), frame.view.title, "rt", 1.0, colour=SOFT)
    how_sure(paper, (TEXT, 2.3 * TEXT), frame, hung)
    paper.words((width - TEXT, height - 1.2 * TEXT), NOT_A_CERTIFICATE, "rs", 0.6, colour=SOFT)
    return paper.png(few=not hung.report.on_cloth)


def extent_of(parts: Sequence[ScenePart]) -> Floats:
    """(n, 3) m, everything that a picture must hold: the parts, and the floor from which heights are measured."""
    places = np.vstack([part.vertices for part in parts])
    middle = (places.min(axis=0) + places.max(axis=0)) / 2.0
    return np.vstack([places, middle * [1.0, 1.0, 0.0]])


def ready(settled: SettledCage, report: Report, wearer: bool = False) -> tuple[list[ScenePart], Hung]:
    if not report.trusted:
        why = "the cage is not settled, so there is nothing to show"
        raise NotSettledError(Problem("pictures", report.design, why, "Run cage3d check to see why"))
    return scene_parts(settled, with_wearer(DRAWN) if wearer else DRAWN), Hung.of(settled, report)
