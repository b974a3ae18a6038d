"""The vertical tapes: thin ribbons that run from the waistband over every hoop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from cage3d.design import trade
from cage3d.mesh.extras import Extras
from cage3d.mesh.frames import frames_from_widths
from cage3d.mesh.hanging import ribbon_runs
from cage3d.mesh.part import Part
from cage3d.mesh.strip_line import StripLine
from cage3d.mesh.sweep import rectangle, sweeps
from cage3d.mesh.vectors import cross, unit
from cage3d.mesh.wearer import drawn_form, laid_over
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.waist import waist_ring
from cage3d.steady import steady

SEGMENT_PARTS = 8  # of a tape between two hoops
BAND_SHARE = 0.8  # of the waistband's depth that a tape is let into
UP = np.array([0.0, 0.0, 1.0])
OVER_WEARER = 0.002  # m from the wearer's form to a tape's centre line, drawn only


@dataclass(frozen=True)
class TapeLines:
    """The centre lines of T tapes from the waistband down; n points each."""

    points: Floats  # (T, n, 3) m
    widths: Floats  # (T, n, 3) unit, across the tape, so that its face is outward
    along: Floats  # (T, n) m of tape from the waistband's lower edge; the first lies above it, in the band

    def at(self, tape: int, places: Floats) -> tuple[Floats, Floats]:
        """(points, widths), each (k, 3), at places (k,) m along a tape; past its ends, at them."""
        points, widths = (
            np.column_stack([np.interp(places, self.along[tape], column) for column in rows[tape].T])
            for rows in (self.points, self.widths)
        )
        return points, widths


def tape_lines(settled: SettledCage, lines: Sequence[StripLine]) -> TapeLines:
    """Every tape's line, each ending at its lowest casing's lower line of stitches."""
    cage, joined_to = settled.cage, settled.cage.connectivity
    across = -crossing_tangents(settled, lines)
    below = cage.marks.lower[:, -1] - cage.marks.steel[:, -1]
    tapes, hoops = joined_to.tape_count, joined_to.hoop_count
    ends = settled.positions[np.column_stack([joined_to.anchors, joined_to.crossing.T])]  # (T, H + 1, 3)
    lengths = cage.parameters.pull_length[: hoops * tapes].reshape(hoops, tapes).T
    into_band = min(cage.design.tapes.allowance.top, BAND_SHARE * cage.design.waistband.drawn_depth)
    # Sewn to the inside of the band, a tape comes out under its lower edge.
    top = ends[:, 0] + into_band * UP - trade.BELTING_THICKNESS * cross(across[:, 0], -UP)
    outward = cross((across[:, :-1] + across[:, 1:]) / 2.0, ends[:, 1:] - ends[:, :-1])
    runs = ribbon_runs(
        ends[:, :-1].reshape(-1, 3), ends[:, 1:].reshape(-1, 3), lengths.ravel(), outward.reshape(-1, 3),
        SEGMENT_PARTS,
    )[:, 1:].reshape(tapes, -1, 3)  # fmt: skip
    foot = ends[:, -1] - below[:, None] * UP
    points = np.concatenate([top[:, None], ends[:, :1], runs, foot[:, None]], axis=1)
    share = np.arange(1, SEGMENT_PARTS + 1)[:, None] / SEGMENT_PARTS
    wide = (1.0 - share) * across[:, :-1, None] + share * across[:, 1:, None]
    wide = np.concatenate([across[:, [0, 0]], wide.reshape(tapes, -1, 3), across[:, -1:]], axis=1)
    steps = np.column_stack(
        [
            np.tile([-into_band, into_band], (tapes, 1)),
            np.repeat(lengths / SEGMENT_PARTS, SEGMENT_PARTS, axis=1),
            below,
        ]
    )
    laid = laid_over(drawn_form(settled), points.reshape(-1, 3), OVER_WEARER).reshape(points.shape)
    return TapeLines(laid, unit(wide), np.cumsum(steps, axis=1))


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


def tape_parts(settled: SettledCage, tapes: TapeLines) -> list[Part]:
    """Every tape in one piece."""
    design = settled.cage.design
    thickness = trade.RIBBON_THICKNESS * (2 if design.tapes.doubled else 1)
    frames = frames_from_widths(tapes.points, tapes.widths, False)
    section = rectangle(thickness, design.tapes.width)
    bodies = sweeps(tapes.points, frames, np.broadcast_to(section, (len(tapes.points), *section.shape)))
    return [
        Part(
            f"tape {tape + 1}", "tapes", body, "tape", tape + 1,
            partial(tape_facts, settled, tape, float(tapes.along[tape, -1])),
        )
        for tape, body in enumerate(bodies)
    ]  # fmt: skip


def tape_facts(settled: SettledCage, tape: int, finished: float) -> dict[str, object]:
    """finished: length, m."""
    design = settled.cage.design
    rows = np.arange(len(design.hoops)) * design.tapes.count + tape
    measures = Extras(design.units)
    measures.add("finished_length", finished)
    measures.add("width", design.tapes.width)
    return measures.with_facts(
        drops_m=[steady(float(drop), 7) for drop in settled.cage.parameters.pull_length[rows]],
        tensions_N=[steady(float(force), 4) for force in settled.state.pull_force[rows]],
        slack_m=[steady(float(slack), 6) for slack in settled.slack[rows]],
    )
