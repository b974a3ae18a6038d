"""The casings in which the steels pass the tapes: a thicker patch of tape over each steel."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
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
    return [
        Part(
            f"casings of tape {tape + 1}", "casings", joined(patches[tape]),
            "casing", tape + 1, partial(casing_facts, settled, tape),
        )
        for tape in range(len(pieces))
    ]  # fmt: skip


def casing_places(settled: SettledCage, tape: int, along: Floats) -> dict[int, Floats]:
    """m along a tape, the places that its casing of each hoop is drawn through: stitches, steel, stitches.

    Hoops that meet lie in one casing, which is drawn as that of the highest; an end on the waistband has none.
    """
    marks, joins = settled.cage.marks, settled.cage.connectivity
    met = joins.segments[joins.meeting]
    hoops = np.setdiff1d(joins.hoops_of(tape), met[met[:, 1] == tape, 0])
    table = np.column_stack([marks.upper[tape, hoops], marks.steel[tape, hoops], marks.lower[tape, hoops]])
    places = [np.unique(row) for row in np.clip(table, along[0], along[-1])]
    return dict(zip(hoops.tolist(), places, strict=True))


def patches_of(
    settled: SettledCage, tapes: TapeLines, pieces: Sequence[Mapping[int, Floats]]
) -> list[list[Solid]]:
    """T x a body for every casing of a tape, those of as many points in one go.

    pieces: for every tape the places of its casing of each hoop.
    """
    wide = settled.cage.design.tapes.width + CASING_MARGIN
    sections = np.array(
        [
            rectangle(steel.section.covered[0] + 4.0 * trade.RIBBON_THICKNESS, wide)
            for steel in settled.cage.steels
        ]
    )
    keys = np.array([(tape, hoop) for tape, row in enumerate(pieces) for hoop in row])
    counts = np.array([len(pieces[tape][hoop]) for tape, hoop in keys])
    at = [tapes.at(tape, np.concatenate(list(row.values()))) for tape, row in enumerate(pieces)]
    points, widths = (np.vstack(rows) for rows in zip(*at, strict=True))
    starts = np.cumsum(np.append(0, counts[:-1]))
    bodies: dict[tuple[int, int], Solid] = {}
    for count in np.unique(counts):
        own = counts == count
        (tape_of, hoop_of), rows = keys[own].T, starts[own][:, None] + np.arange(count)
        frames = frames_from_widths(points[rows], widths[rows], False)
        made = sweeps(points[rows], frames, sections[hoop_of])
        bodies |= dict(zip(zip(tape_of.tolist(), hoop_of.tolist(), strict=True), made, strict=True))
    return [[bodies[tape, hoop] for hoop in row] for tape, row in enumerate(pieces)]


def casing_facts(settled: SettledCage, tape: int) -> dict[str, object]:
    design, marks = settled.cage.design, settled.cage.marks
    measures = Extras(design.units)
    measures.add("height", design.tapes.casing)
    marks_m = {
        f"{key}_marks_m": [
            steady(float(m), 7) for m in getattr(marks, key)[tape, settled.cage.connectivity.hoops_of(tape)]
        ]
        for key in ("upper", "lower")
    }
    return measures.with_facts(**marks_m)
