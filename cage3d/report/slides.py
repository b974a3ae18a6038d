"""What a cage does whose joins slide: both ends of their range, in figures, sentences and warnings."""

from __future__ import annotations

from dataclasses import replace

from cage3d import units
from cage3d.foresee.slid import Slid, slid
from cage3d.foresee.stiffness import FARTHEST, PUSH_GRAMS, gives
from cage3d.report.foreseen import HoopMoves, SlidReport
from cage3d.report.hoops import hoop_figures
from cage3d.report.measure import measure
from cage3d.report.outlook import give_reports
from cage3d.report.record import Report, WarningReport
from cage3d.report.tables import span
from cage3d.settle.state import SettledCage
from cage3d.steady import first_largest
from cage3d.wording import capital, listed


def with_slides(report: Report, settled: SettledCage) -> Report:
    """The report with both ends of the joins that slide, each settled, and what is to be minded at one of them only."""
    ends = slid(settled) if report.trusted else ()
    if not ends:
        return report
    known = {warning.code for warning in report.warnings}
    more = [warning for end in ends for warning in warnings_at(end, known)]
    told = tuple(slid_report(settled, end) for end in ends)
    return replace(report, slid=told, warnings=(*report.warnings, *more))


def warnings_at(end: Slid, known: set[str]) -> list[WarningReport]:
    """Those of one end that are not of the cage as written."""
    where = f"With the hoops that slide {end.name}"
    if not end.settled.trusted:
        why = "the cage finds no rest that can be vouched for. Write an end that is nearer."
        return [WarningReport("slid_no_rest", f"{where} {why}")]
    found = measure(end.settled).warnings
    return [
        replace(warning, text=f"{where}: {warning.text}") for warning in found if warning.code not in known
    ]


def slid_report(settled: SettledCage, end: Slid) -> SlidReport:
    hoops = end.settled.cage.design.hoops
    lengths = tuple(hoop.length for hoop in hoops)
    if not end.settled.trusted:
        return SlidReport(end.name, lengths, False, None, None, None, None, None)
    told = measure(end.settled)
    moves = tuple(
        HoopMoves(hoop + 1, *map(float, hoop_figures(end.settled, hoop) - hoop_figures(settled, hoop)))
        for hoop in range(len(hoops))
    )
    return SlidReport(
        end.name, lengths, True, told.hem.lowest_m, told.hem.highest_m,
        told.width_side_side_m, told.width_front_back_m, moves, give_reports(gives(end.settled)),
    )  # fmt: skip


def slide_lines(report: Report) -> list[str]:
    """'Hoop 4 slides: ...'; nothing where no join does."""
    if not report.slid:
        return []

    def full(metres: float) -> str:
        return units.show_length(metres, report.units)

    shortest, longest = report.slid
    hoops = [
        (number, low, high)
        for number, (low, high) in enumerate(zip(shortest.lengths_m, longest.lengths_m, strict=True), start=1)
        if low < high
    ]
    ranges = [f"hoop {number} slides from {full(low)} to {full(high)}" for number, low, high in hoops]
    lines = [f"{capital(listed(ranges))}; all other figures are of the lengths written."]
    for end in report.slid:
        name = end.at if len(hoops) > 1 else end.at.replace("their", "its")
        lines.append(f"{capital(name)}: {at_an_end(report, end)}.")
    return lines


def at_an_end(report: Report, end: SlidReport) -> str:
    def full(metres: float) -> str:
        return units.show_length(metres, report.units)

    low, high, wide, deep = (
        end.hem_lowest_m, end.hem_highest_m, end.width_side_side_m, end.width_front_back_m,
    )  # fmt: skip
    if low is None or high is None or wide is None or deep is None:
        return "the cage finds no rest that can be vouched for"
    hem = span(full(low), full(high))
    told = f"the hem {hem} above the floor, the cage {full(wide)} wide and {full(deep)} front to back"
    return f"{told}; {under_a_hand(report, end)}" if end.gives else told


def under_a_hand(report: Report, end: SlidReport) -> str:
    """'pushed with 200 g the hoop itself gives up to 2 in, at the left': where it gives most."""
    far = [f"at the {one.side}" for one in end.gives if one.dent_m is None]
    if far:
        most, where = f"over {units.show_length(FARTHEST, report.units)}", listed(far)
    else:
        dents = [max(one.dent_m or 0.0, 0.0) for one in end.gives]
        largest = first_largest(dents)
        most = f"up to {units.show_length(dents[largest], report.units)}"
        where = f"at the {end.gives[largest].side}"
    return f"pushed with {PUSH_GRAMS} g the hoop itself gives {most}, {where}"
