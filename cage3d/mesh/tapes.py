"""The tapes: thin ribbons that run from the waistband, or from a hoop, over the hoops that they pass."""

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
from cage3d.mesh.solid import Solid
from cage3d.mesh.strip_line import StripLine
from cage3d.mesh.sweep import rectangle, sweeps
from cage3d.mesh.vectors import cross, unit
from cage3d.mesh.wearer import drawn_form, rings_over
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
    """The centre lines of T tapes from where each begins down; n points each, as many as it has stretches."""

    points: tuple[Floats, ...]  # T x (n, 3) m
    widths: tuple[Floats, ...]  # T x (n, 3) unit, across the tape, so that its face is outward
    along: tuple[
        Floats, ...
    ]  # T x (n,) m of tape from where it begins; the first lies above, in the band or casing

    def at(self, tape: int, places: Floats) -> tuple[Floats, Floats]:
        """(points, widths), each (k, 3), at places (k,) m along a tape; past its ends, at them."""
        points, widths = (
            np.column_stack([np.interp(places, self.along[tape], column) for column in rows[tape].T])
            for rows in (self.points, self.widths)
        )
        return points, widths


def tape_lines(settled: SettledCage, lines: Sequence[StripLine]) -> TapeLines:
    """Every tape's line, each ending at its lowest casing's lower line of stitches; those alike in one go."""
    joins, across = settled.cage.connectivity, -crossing_tangents(settled, lines)
    alike: dict[tuple[bool, int], list[int]] = {}
    for tape in range(joins.tape_count):
        drawn = np.setdiff1d(joins.rows_of(tape), joins.meeting)
        alike.setdefault((bool(joins.anchors[tape] >= 0), len(drawn)), []).append(tape)
    found: dict[int, tuple[Floats, Floats, Floats]] = {}
    for tapes in alike.values():
        found |= dict(zip(tapes, zip(*lines_alike(settled, tapes, across), strict=True), strict=True))
    points, widths, along = zip(*(found[tape] for tape in range(joins.tape_count)), strict=True)
    return TapeLines(points, widths, along)


def lines_alike(
    settled: SettledCage, tapes: Sequence[int], tangents: Floats
) -> tuple[Floats, Floats, Floats]:
    """(points, widths, along), each (g, n, ...), of g tapes with as many stretches; tangents: `crossing_tangents`."""
    cage, joins = settled.cage, settled.cage.connectivity
    rows = np.array([np.setdiff1d(joins.rows_of(tape), joins.meeting) for tape in tapes])  # (g, k)
    starts = np.array([joins.nodes_of(tape)[0] for tape in tapes])
    ends = settled.positions[np.column_stack([starts, joins.pulls[rows, 1]])]  # (g, k + 1, 3)
    on_band = joins.anchors[tapes[0]] >= 0
    first = (
        np.zeros(len(tapes), dtype=np.intp)
        if on_band
        else np.array([joins.hoops_of(t)[0] for t in tapes]) + 1
    )
    own = np.column_stack([first, joins.segments[rows, 0] + 1])
    across = tangents[np.array(tapes)[:, None], own]
    last = np.array([joins.hoops_of(tape)[-1] for tape in tapes])
    below = cage.marks.lower[tapes, last] - cage.marks.steel[tapes, last]
    lengths = cage.parameters.pull_length[rows]
    count = len(tapes)
    if on_band:
        above = np.full(
            count, min(cage.design.tapes.allowance.top, BAND_SHARE * cage.design.waistband.drawn_depth)
        )
        # Sewn to the inside of the band, a tape comes out under its lower edge.
        top = ends[:, 0] + above[:, None] * UP - trade.BELTING_THICKNESS * cross(across[:, 0], -UP)
    else:
        above = -cage.marks.upper[tapes, first - 1]
        top = ends[:, 0] + above[:, None] * UP
    outward = cross((across[:, :-1] + across[:, 1:]) / 2.0, ends[:, 1:] - ends[:, :-1])
    runs = ribbon_runs(
        ends[:, :-1].reshape(-1, 3), ends[:, 1:].reshape(-1, 3), lengths.ravel(), outward.reshape(-1, 3),
        SEGMENT_PARTS,
    )[:, 1:].reshape(count, -1, 3)  # fmt: skip
    foot = ends[:, -1] - below[:, None] * UP
    points = np.concatenate([top[:, None], ends[:, :1], runs, foot[:, None]], axis=1)
    share = np.arange(1, SEGMENT_PARTS + 1)[:, None] / SEGMENT_PARTS
    wide = (1.0 - share) * across[:, :-1, None] + share * across[:, 1:, None]
    wide = np.concatenate([across[:, [0, 0]], wide.reshape(count, -1, 3), across[:, -1:]], axis=1)
    steps = np.column_stack([-above, above, np.repeat(lengths / SEGMENT_PARTS, SEGMENT_PARTS, axis=1), below])
    down = points.swapaxes(0, 1)
    laid = rings_over(drawn_form(settled), down, OVER_WEARER, OVER_WEARER / 2.0)
    # In the band, and under its edge, a tape stays where it is sewn in.
    laid[:2] = rings_over(drawn_form(settled), down[:2], OVER_WEARER, -np.inf)
    return laid.swapaxes(0, 1), unit(wide), np.cumsum(steps, axis=1)


def crossing_tangents(settled: SettledCage, lines: Sequence[StripLine]) -> Floats:
    """(T, H + 1, 3) unit, along the waistband and along each hoop where each tape crosses it; nan where it does not."""
    joined_to, design = settled.cage.connectivity, settled.cage.design
    fractions = settled.cage.stations
    step = 1e-4
    waist = waist_ring(design, fractions + step, 0.0) - waist_ring(design, fractions - step, 0.0)
    columns = np.full((joined_to.tape_count, joined_to.hoop_count + 1, 3), np.nan)
    columns[:, 0] = waist / np.linalg.norm(waist, axis=1)[:, None]
    for hoop, line in enumerate(lines):
        tapes = joined_to.tapes_of(hoop)
        index = joined_to.crossing[hoop, tapes] - joined_to.hoop_nodes[hoop][0]
        columns[tapes, hoop + 1] = line.tangents(line.along[index])
    return columns


def tape_parts(settled: SettledCage, tapes: TapeLines) -> list[Part]:
    """Every tape in one piece."""
    return [
        Part(
            f"tape {tape + 1}", "tapes", body, "tape", tape + 1,
            partial(tape_facts, settled, tape, float(tapes.along[tape][-1])),
        )
        for tape, body in enumerate(tape_bodies(settled, tapes))
    ]  # fmt: skip


def tape_bodies(settled: SettledCage, tapes: TapeLines) -> list[Solid]:
    """Every tape's body, those of as many points in one go."""
    design = settled.cage.design
    thickness = trade.RIBBON_THICKNESS * (2 if design.tapes.doubled else 1)
    section = rectangle(thickness, design.tapes.width)
    counts = np.array([len(points) for points in tapes.points])
    bodies: dict[int, Solid] = {}
    for count in np.unique(counts):
        own = np.flatnonzero(counts == count)
        points, widths = (np.stack([rows[tape] for tape in own]) for rows in (tapes.points, tapes.widths))
        frames = frames_from_widths(points, widths, False)
        made = sweeps(points, frames, np.broadcast_to(section, (len(own), *section.shape)))
        bodies |= dict(zip(own.tolist(), made, strict=True))
    return [bodies[tape] for tape in range(len(counts))]


def tape_facts(settled: SettledCage, tape: int, finished: float) -> dict[str, object]:
    """finished: length, m."""
    design = settled.cage.design
    rows = settled.cage.connectivity.rows_of(tape)
    measures = Extras(design.units)
    measures.add("finished_length", finished)
    measures.add("width", design.tapes.width)
    return measures.with_facts(
        drops_m=[steady(float(drop), 7) for drop in settled.cage.parameters.pull_length[rows]],
        tensions_N=[steady(float(force), 4) for force in settled.state.pull_force[rows]],
        slack_m=[steady(float(slack), 6) for slack in settled.slack[rows]],
    )
