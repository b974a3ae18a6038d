"""What a mark that is off does to the hem, as a table and in words."""

from __future__ import annotations

from cage3d import units
from cage3d.report.figure_table import FigureTable
from cage3d.report.record import MarkReport, Report, SlipReport
from cage3d.report.tables import span
from cage3d.steady import first_largest, fixed, steady

ALIKE = 0.5  # of the strongest mark's effect; above it marks count as equally strong


def settled_again(report: Report) -> list[MarkReport]:
    """The marks that were tried too low and too high."""
    return [mark for mark in report.marks if mark.low or mark.high]


def mark_table(report: Report) -> FigureTable:
    """The marks that matter most, each settled again with it too low and too high."""
    rows = []
    for mark in settled_again(report):
        moves = [*slip_moves(mark.low), *slip_moves(mark.high)]
        shown = ["no rest" if move is None else signed(1000.0 * move) for move in moves]
        rows.append([str(mark.tape), str(mark.hoop), *shown])
    ways = [f"{way} {side}" for way in ("Low:", "High:") for side in ("front", "left", "back", "right")]
    heads = [way if way.endswith("front") else way.split()[1] for way in ways]
    return FigureTable(("Tape", "Hoop", *heads), rows, keys=2)


def slip_moves(slip: SlipReport | None) -> tuple[float | None, ...]:
    """m up at front, left, back and right."""
    return (None,) * 4 if slip is None else (slip.front_m, slip.left_m, slip.back_m, slip.right_m)


def sewing_lines(report: Report) -> list[str]:
    """What the marks say together, and how level the hem comes out."""
    most = [
        max(abs(move) for slip in (mark.low, mark.high) for move in slip_moves(slip) if move is not None)
        for mark in settled_again(report)
    ]
    lines = []
    if most:
        least, largest = (fixed(1000.0 * move, 1) for move in (min(most), max(most)))
        if min(most) > ALIKE * max(most):
            each = span(f"{least} mm", f"{largest} mm")
            lines.append(f"No mark matters much more than the others: each moves the hem by up to {each}.")
        else:
            worst = settled_again(report)[first_largest(most)]
            where = f"tape {worst.tape} at hoop {worst.hoop}"
            lines.append(f"Take most care with {where}: its mark moves the hem by up to {largest} mm.")
    if report.spread is not None:
        mark, hoop, level = (
            units.show_length(length, report.units, 1 / 16)
            for length in (report.spread.mark_m, report.spread.hoop_m, report.spread.level_within_m)
        )
        lines.append(
            f"Sewn to {mark} a mark and {hoop} a hoop, the hem is level, or true to its planned slope, within {level} "
            "nine times in ten."
        )
    return lines


def signed(millimetres: float) -> str:
    """'+1.2', and 0 for what rounds to it."""
    shown = steady(millimetres, 1)
    return f"{shown:+.1f}" if shown else "0"
