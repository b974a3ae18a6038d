"""Tapes and ties: lengths, tensions, slack, and the marks on the tapes."""

from __future__ import annotations

import numpy as np

from cage3d.report.record import SegmentReport, TapeReport, TieReport
from cage3d.settle.state import SettledCage

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

    Of one of no length, with what the casing in which two hoops meet pulls them together.
    """
    joined, forces = settled.cage.connectivity, settled.state.pull_force
    if row in joined.meeting:
        place = int(np.flatnonzero(joined.meeting == row)[0])
        return float(np.linalg.norm(settled.state.forces["meets"][3 * place : 3 * place + 3]))
    cloth = joined.cloth_shares
    beside = float(cloth[:, row] @ forces[len(forces) - len(cloth) :]) if len(cloth) else 0.0
    return float(forces[row]) + beside


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
