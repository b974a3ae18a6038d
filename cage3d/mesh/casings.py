"""The casings in which the steels pass the tapes: a thicker patch of tape over each steel."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import numpy as np

from cage3d.design import trade
from cage3d.mesh.extras import Extras
from cage3d.mesh.frames import frames_from_widths
from cage3d.mesh.part import Part
from cage3d.mesh.solid import Solid, joined
from cage3d.mesh.sweep import rectangle, sweeps
from cage3d.mesh.tapes import TapeLines
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.steady import steady

CASING_MARGIN = 0.0005  # m a casing is drawn wider than its tape, so that their edges do not coincide


def casings_parts(settled: SettledCage, tapes: TapeLines) -> list[Part]:
    """The casings of every tape: a thicker patch over each steel, from stitches to stitches."""
    pieces = [casing_places(settled, tape, along) for tape, along in enumerate(tapes.along)]
    patches = patches_of(settled, tapes, pieces)
    count = len(settled.cage.steels)
    return [
        Part(
            f"casings of tape {tape + 1}", "casings", joined(patches[tape * count : (tape + 1) * count]),
            "casing", tape + 1, partial(casing_facts, settled, tape),
        )
        for tape in range(len(pieces))
    ]  # fmt: skip


def casing_places(settled: SettledCage, tape: int, along: Floats) -> list[Floats]:
    """m along a tape, the places that each of its casings is drawn through: stitches, steel, stitches."""
    marks = settled.cage.marks
    table = np.column_stack([marks.upper[tape], marks.steel[tape], marks.lower[tape]])
    return [np.unique(row) for row in np.clip(table, along[0], along[-1])]


def patches_of(settled: SettledCage, tapes: TapeLines, pieces: Sequence[Sequence[Floats]]) -> list[Solid]:
    """A body for every casing of every tape, those of as many points in one go.

    pieces: for every tape the places of each of its casings.
    """
    wide = settled.cage.design.tapes.width + CASING_MARGIN
    sections = np.array(
        [
            rectangle(steel.section.covered[0] + 4.0 * trade.RIBBON_THICKNESS, wide)
            for steel in settled.cage.steels
        ]
    )
    counts = np.array([[len(places) for places in row] for row in pieces])
    at = [tapes.at(tape, np.concatenate(row)) for tape, row in enumerate(pieces)]
    points, widths = (np.vstack(rows) for rows in zip(*at, strict=True))
    starts = np.cumsum(np.append(0, counts.ravel()[:-1])).reshape(counts.shape)
    bodies: dict[tuple[int, int], Solid] = {}
    for count in np.unique(counts):
        tape_of, hoop_of = np.nonzero(counts == count)
        rows = starts[tape_of, hoop_of][:, None] + np.arange(count)
        frames = frames_from_widths(points[rows], widths[rows], False)
        made = sweeps(points[rows], frames, sections[hoop_of])
        bodies |= dict(zip(zip(tape_of.tolist(), hoop_of.tolist(), strict=True), made, strict=True))
    return [bodies[place] for place in sorted(bodies)]


def casing_facts(settled: SettledCage, tape: int) -> dict[str, object]:
    design, marks = settled.cage.design, settled.cage.marks
    measures = Extras(design.units)
    measures.add("height", design.tapes.casing)
    marks_m = {
        f"{key}_marks_m": [steady(float(m), 7) for m in getattr(marks, key)[tape]]
        for key in ("upper", "lower")
    }
    return measures.with_facts(**marks_m)
