"""Tapes and ties: lengths, tensions, slack, and the marks on the tapes."""

from __future__ import annotations

import numpy as np

from cage3d.report.record import SegmentReport, TapeReport, TieReport
from cage3d.settle.state import SettledCage
from cage3d.settle.terms.meets import sewn_across
from cage3d.shape.arrays import Floats

BENT = 1e-4  # m, by which the way round her must be longer than the straight one


def tape_reports(settled: SettledCage) -> tuple[TapeReport, ...]:
    """Every tape from centre front by the wearer's left, with its segments from where it begins."""
    joined = settled.cage.connectivity
    return tuple(
        TapeReport(tape + 1, tuple(segment_report(settled, int(row)) for row in joined.rows_of(tape)))
        for tape in range(joined.tape_count)
    )


def segment_report(settled: SettledCage, row: int) -> SegmentReport:
    """One tape segment, by its row."""
    (hoop, tape), marks = settled.cage.connectivity.segments[row], settled.cage.marks
    upper, lower = settled.positions[settled.cage.connectivity.pulls[row]]
    return SegmentReport(
        to_hoop=int(hoop) + 1,
        length_m=float(settled.cage.parameters.pull_length[row]),
        tension_N=segment_pull(settled, row),
        slack_m=float(settled.slack[row]),
        stretched_m=stretched(settled, row),
        step_m=float(np.hypot(*(lower - upper)[:2])),
        drop_m=float(upper[2] - lower[2]),
        casing_upper_m=float(marks.upper[tape, hoop]),
        steel_at_m=float(marks.steel[tape, hoop]),
        casing_lower_m=float(marks.lower[tape, hoop]),
        on_wearer=bears_on_wearer(settled, row),
    )


def segment_pull(settled: SettledCage, row: int) -> float:
    """N in a tape segment; of cloth also what half of it to the seams on both sides pulls with.

    Of one of no length, what its stitches bear.
    """
    joined, forces = settled.cage.connectivity, settled.state.pull_force
    if row in joined.meeting:
        return float(np.linalg.norm(pull_in_seam(settled, row)))
    cloth = joined.cloth_shares
    beside = float(cloth[:, row] @ forces[len(forces) - len(cloth) :]) if len(cloth) else 0.0
    return float(forces[row]) + beside


def pull_in_seam(settled: SettledCage, row: int) -> Floats:
    """(3,) N on a hoop where it meets another or its end is sewn to the waistband; row: of that segment.

    The band holds a sewn end in its direction too, by two forces at the node beside it. How large those are hangs on
    how near that node is; what the stitches bear is the sum.
    """
    joined, forces = settled.cage.connectivity, settled.state.forces["meets"]
    place = int(np.flatnonzero(joined.meeting == row)[0])
    pull = forces[3 * place : 3 * place + 3].copy()
    anchor, end = joined.pulls[row]
    beside = np.flatnonzero(
        (joined.sewn[:, 0] == anchor) & (joined.edges[joined.sewn_edges] == end).any(axis=1)
    )
    if len(beside):
        turning = forces[3 * len(joined.meeting) :].reshape(2, len(joined.sewn))
        ways = sewn_across(joined)[:, beside[0]]
        pull += turning[:, beside[0]] @ ways
    return np.asarray(-pull)


def stretched(settled: SettledCage, row: int) -> float:
    """m by which a line is longer under its pull than at rest (Hooke)."""
    numbers = settled.cage.parameters
    return float(settled.state.pull_force[row] * numbers.pull_give[row] * numbers.pull_length[row])


def tie_reports(settled: SettledCage) -> tuple[TieReport, ...]:
    """Ties as written, then the laces of panels hoop by hoop."""
    joined = settled.cage.connectivity
    return tuple(
        TieReport(
            name=joined.pull_names[row],
            length_m=float(settled.cage.parameters.pull_length[row]),
            tension_N=float(settled.state.pull_force[row]),
            slack_m=float(settled.slack[row]),
            on_wearer=bears_on_wearer(settled, row),
        )
        for row in joined.tie_rows
    )


def bears_on_wearer(settled: SettledCage, row: int) -> bool:
    """Whether a tape segment or tie is bent round her by more than anybody could measure."""
    way = settled.state.ways.get(row)
    if way is None or settled.state.pull_force[row] <= 0.0:
        return False
    return bool(settled.pull_spans[row] - np.linalg.norm(way[-1] - way[0]) > BENT)
