"""Whether a cage that is in question hangs the same with twice the nodes, and what is said where it does not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cage3d.design.hoop_materials import one_stuff
from cage3d.errors import Problem
from cage3d.foresee.finer import finer, in_question, nodes_round
from cage3d.report.foreseen import FinerReport, RangeReport
from cage3d.report.hoops import hoop_reports
from cage3d.report.record import HoopReport, Report, WarningReport
from cage3d.settle.state import SettledCage
from cage3d.steady import exceeds, first_largest, first_least
from cage3d.units import show_length

SAID = 0.001  # m, a figure that differs by more is said as a range
FIGURES = {
    "height_front_m": "at the front",
    "height_left_m": "at her left",
    "height_back_m": "at the back",
    "height_right_m": "at her right",
    "width_side_side_m": "wide",
    "width_front_back_m": "deep",
}
MIRRORED = {"height_left_m": "height_right_m", "height_right_m": "height_left_m"}


def with_finer(report: Report, settled: SettledCage) -> Report:
    """The report with what twice the nodes change, where the cage touches, snapped or can hang another way.

    As much work as settling three times; as it was where nothing puts the cage in question.
    """
    two_ways = any(warning.code == "two_ways" for warning in report.warnings)
    if not report.trusted or not (report.touching or two_ways or in_question(settled)):
        return report
    other = finer(settled)
    if not other.trusted:
        return replace(report, warnings=(*report.warnings, NO_REST))
    hoops = hoop_reports(other)
    # A cage that falls to one side falls as well to the other.
    ways = [list(differences(report.hoops, hoops, names)) for names in ({}, MIRRORED)]
    found = ways[first_least([largest(way) for way in ways])]
    ranges = tuple(one for one in found if exceeds(one.high_m - one.low_m, SAID))
    return replace(
        report, finer=FinerReport(nodes_round(settled), nodes_round(other), largest(found), ranges)
    )


NO_REST = WarningReport(
    "no_rest_with_more_nodes",
    "Settled again with twice the nodes the cage found no rest to compare with; trust the shape less than usual.",
)


def differences(
    here: tuple[HoopReport, ...], there: tuple[HoopReport, ...], names: dict[str, str]
) -> Iterator[RangeReport]:
    """Every height and width of every hoop, from the lower to the higher figure; names: which there is which here."""
    for one, other in zip(here, there, strict=True):
        for name in FIGURES:
            low, high = sorted((float(getattr(one, name)), float(getattr(other, names.get(name, name)))))
            yield RangeReport(one.number, name, low, high)


def largest(ranges: list[RangeReport]) -> float:
    """m."""
    return max((one.high_m - one.low_m for one in ranges), default=0.0)


def finer_lines(report: Report) -> list[str]:
    """A sentence on what differs; none where nothing differs by more than a millimetre."""
    if report.finer is None or not report.finer.ranges:
        return []
    said = ", ".join(range_in_words(report, one) for one in report.finer.ranges)
    return [f"With twice the nodes some figures differ, and lie between: {said}."]


def range_in_words(report: Report, one: RangeReport) -> str:
    """'hoop 3 24 1/8 in to 24 1/4 in at the back'."""
    low, high = (show_length(value, report.units) for value in (one.low_m, one.high_m))
    return f"hoop {one.hoop} {low} to {high} {FIGURES[one.figure]}"


def not_vouched_for(report: Report, where: str) -> Problem:
    """Why figures that hang on the number of nodes are no answer. where: the design's file."""
    found = report.finer
    if found is None:
        raise ValueError("this cage was not settled with more nodes")
    more = "" if report.on_cloth else "more tapes, "
    worst = found.ranges[first_largest([one.high_m - one.low_m for one in found.ranges])]
    return Problem(
        where,
        "",
        f"the cage came to rest, and otherwise with more nodes: {range_in_words(report, worst)}, with"
        f" {found.nodes} and {found.finer_nodes} nodes a hoop. How it hangs cannot be told. No model is shown",
        f"Give it {more}stiffer {one_stuff(report.stuff, 'hoops')} or less weight, so that it has one way to hang",
    )
