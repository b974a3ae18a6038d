"""What a mark that is off does to the hem, as a table and in words."""

from __future__ import annotations

from cage3d import units
from cage3d.report.figure_table import FigureTable
from cage3d.report.foreseen import MarkReport, SlipReport
from cage3d.report.record import Report
from cage3d.report.tables import fine, fine_change, fine_unit, span
from cage3d.steady import first_largest

ALIKE = 0.5  # of the strongest mark's effect; above it marks count as equally strong


def settled_again(report: Report) -> list[MarkReport]:
    """The marks that were tried too low and too high."""
    return [mark for mark in report.marks if mark.low or mark.high]


def mark_table(report: Report) -> FigureTable:
    """The marks that matter most, each settled again with it too low and too high."""
    rows = []
    for mark in settled_again(report):
        moves = [*slip_moves(mark.low), *slip_moves(mark.high)]
        shown = ["no rest" if move is None else fine_change(report, move) for move in moves]
        rows.append([str(mark.tape), str(mark.hoop), *shown])
    ways = [f"{way} {side}" for way in ("Low:", "High:") for side in ("front", "left", "back", "right")]
    heads = [way if way.endswith("front") else way.split()[1] for way in ways]
    return FigureTable((report.says("Tape"), "Hoop", *heads), rows, keys=2)


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
        least, largest = (fine(report, move) for move in (min(most), max(most)))
        unit = fine_unit(report)
        if min(most) > ALIKE * max(most):
            each = f"{span(least, largest)} {unit}"
            lines.append(f"No mark matters much more than the others: each moves the hem by up to {each}.")
        else:
            worst = settled_again(report)[first_largest(most)]
            where = f"tape {worst.tape} at hoop {worst.hoop}"
            lines.append(f"Take most care with {where}: its mark moves the hem by up to {largest} {unit}.")
    return [report.says(line) for line in (*lines, *spread_lines(report))]


def spread_lines(report: Report) -> list[str]:
    """How level the hem comes out with the usual care."""
    if report.spread is None:
        return []
    unit, within = fine_unit(report), report.spread.level_within_m
    level = units.show_inches(within, 1 / 16) if unit == "in" else units.show_mm(within, 0)
    mark, hoop = fine(report, report.spread.mark_m), fine(report, report.spread.hoop_m)
    return [
        f"Sewn to {mark} {unit} a mark and {hoop} {unit} a hoop, the hem is level, or true to its planned slope, "
        f"within {level} {unit} nine times in ten."
    ]
