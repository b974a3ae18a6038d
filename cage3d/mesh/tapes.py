"""The vertical tapes and their casings: thin ribbons that run from the waistband over every hoop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cage3d.design import trade
from cage3d.mesh.extras import Extras
from cage3d.mesh.hanging import ribbon_run
from cage3d.mesh.part import Part
from cage3d.mesh.solid import Solid, joined
from cage3d.mesh.strip_line import StripLine
from cage3d.mesh.sweep import frames_from_widths, rectangle, sweep
from cage3d.mesh.wearer import drawn_form, laid_over
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.waist import waist_ring
from cage3d.steady import steady

SEGMENT_PARTS = 8  # of a tape between two hoops
BAND_SHARE = 0.8  # of the waistband's depth that a tape is let into
UP = np.array([0.0, 0.0, 1.0])
OVER_WEARER = 0.002  # m from the wearer's form to a tape's centre line, drawn only
CASING_MARGIN = 0.0005  # m a casing is drawn wider than its tape, so that their edges do not coincide


@dataclass(frozen=True)
class TapeLine:
    """The centre line of one tape from the waistband down; n points."""

    points: Floats  # (n, 3) m
    widths: Floats  # (n, 3) unit, across the tape, so that its face is outward
    along: Floats  # (n,) m of tape from the waistband's lower edge; the first lies above it, in the band

    def stretch(self, start: float, end: float, between: Sequence[float] = ()) -> tuple[Floats, Floats]:
        """(points, widths) of a piece of the tape, with the places in `between` (m) among its points."""
        places = np.unique(np.clip([start, *between, end], self.along[0], self.along[-1]))
        rows = [np.interp(places, self.along, column) for column in (*self.points.T, *self.widths.T)]
        return np.column_stack(rows[:3]), np.column_stack(rows[3:])


def tape_lines(settled: SettledCage, lines: Sequence[StripLine]) -> list[TapeLine]:
    """Every tape's line, each ending at its lowest casing's lower line of stitches."""
    cage = settled.cage
    across = crossing_tangents(settled, lines)
    below = cage.marks.lower[:, -1] - cage.marks.steel[:, -1]
    return [tape_line(settled, tape, -across[tape], float(below[tape])) for tape in range(len(across))]


def crossing_tangents(settled: SettledCage, lines: Sequence[StripLine]) -> Floats:
    """(T, H + 1, 3) unit, along the waistband and along each hoop where each tape crosses it."""
    joined_to, design = settled.cage.connectivity, settled.cage.design
    fractions = settled.cage.stations
    step = 1e-4
    waist = waist_ring(design, fractions + step, 0.0) - waist_ring(design, fractions - step, 0.0)
    columns = [waist / np.linalg.norm(waist, axis=1)[:, None]]
    for hoop, line in enumerate(lines):
        index = joined_to.crossing[hoop] - joined_to.hoop_nodes[hoop][0]
        columns.append(line.tangents(line.along[index]))
    return np.stack(columns, axis=1)


def tape_line(settled: SettledCage, tape: int, across: Floats, below: float) -> TapeLine:
    joined_to = settled.cage.connectivity
    nodes = np.concatenate([[joined_to.anchors[tape]], joined_to.crossing[:, tape]])
    ends = settled.positions[nodes]
    rows = np.arange(joined_to.hoop_count) * joined_to.tape_count + tape
    lengths = settled.cage.parameters.pull_length[rows]
    into_band = min(
        settled.cage.design.tapes.allowance.top, BAND_SHARE * settled.cage.design.waistband.drawn_depth
    )
    # Sewn to the inside of the band, a tape comes out under its lower edge.
    top = ends[0] + into_band * UP - trade.BELTING_THICKNESS * np.cross(across[0], -UP)
    points, widths = [np.stack([top, ends[0]])], [across[:1], across[:1]]
    for hoop, length in enumerate(lengths):
        middle = (across[hoop] + across[hoop + 1]) / 2.0
        outward = np.cross(middle, ends[hoop + 1] - ends[hoop])
        points.append(ribbon_run(ends[hoop], ends[hoop + 1], length, outward, SEGMENT_PARTS)[1:])
        share = np.arange(1, SEGMENT_PARTS + 1)[:, None] / SEGMENT_PARTS
        widths.append((1.0 - share) * across[hoop] + share * across[hoop + 1])
    steps = np.repeat(lengths / SEGMENT_PARTS, SEGMENT_PARTS)
    along = np.cumsum([-into_band, into_band, *steps, below])
    points.append(ends[-1:] - below * UP)
    wide = np.vstack([*widths, across[-1:]])
    line = laid_over(drawn_form(settled), np.vstack(points), OVER_WEARER)
    return TapeLine(line, wide / np.linalg.norm(wide, axis=1)[:, None], along)


def tape_part(settled: SettledCage, tape: int, line: TapeLine) -> Part:
    """Tape `tape` (from 0) in one piece."""
    design = settled.cage.design
    thickness = trade.RIBBON_THICKNESS * (2 if design.tapes.doubled else 1)
    body = sweep(
        line.points,
        frames_from_widths(line.points, line.widths, False),
        rectangle(thickness, design.tapes.width),
    )
    rows = np.arange(len(design.hoops)) * design.tapes.count + tape
    measures = Extras(design.units)
    measures.add("finished_length", float(line.along[-1]))
    measures.add("width", design.tapes.width)
    facts = measures.with_facts(
        drops_m=[steady(float(drop), 7) for drop in settled.cage.parameters.pull_length[rows]],
        tensions_N=[steady(float(force), 4) for force in settled.state.pull_force[rows]],
        slack_m=[steady(float(slack), 6) for slack in settled.slack[rows]],
    )
    return Part(f"tape {tape + 1}", "tapes", body, "tape", tape + 1, facts)


def casings_part(settled: SettledCage, tape: int, line: TapeLine) -> Part:
    """The casings of tape `tape` (from 0): a thicker patch over each steel, from stitches to stitches."""
    design = settled.cage.design
    marks = settled.cage.marks
    wide = design.tapes.width + CASING_MARGIN
    patches: list[Solid] = []
    for hoop in range(len(design.hoops)):
        upper, steel, lower = (float(row[tape, hoop]) for row in (marks.upper, marks.steel, marks.lower))
        points, widths = line.stretch(upper, lower, [steel])
        thick = settled.cage.steels[hoop].section.covered[0] + 4.0 * trade.RIBBON_THICKNESS
        patches.append(sweep(points, frames_from_widths(points, widths, False), rectangle(thick, wide)))
    measures = Extras(design.units)
    measures.add("height", design.tapes.casing)
    marks_m = {
        f"{key}_marks_m": [steady(float(m), 7) for m in getattr(marks, key)[tape]]
        for key in ("upper", "lower")
    }
    facts = measures.with_facts(**marks_m)
    return Part(f"casings of tape {tape + 1}", "casings", joined(patches), "casing", tape + 1, facts)
