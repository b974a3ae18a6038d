"""A plain settled cage with figures of its report set by hand, and what is warned of them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hung import plain

from cage3d.report import Report
from cage3d.report.record import SegmentReport, TieReport, TouchReport
from cage3d.report.warnings import warnings_of
from cage3d.report.warnings.case import Case

INCH = 0.0254


def hoop(number: int, **figures: Any) -> Report:
    """The plain report with figures of one hoop set."""
    report, _ = plain()
    hoops = tuple(replace(own, **figures) if own.number == number else own for own in report.hoops)
    return replace(report, hoops=hoops)


def segment(tape: int, to_hoop: int, **figures: Any) -> Report:
    """The plain report with figures of one stretch of tape set."""

    def set_in(part: SegmentReport) -> SegmentReport:
        return replace(part, **figures) if part.to_hoop == to_hoop else part

    report, _ = plain()
    tapes = tuple(
        replace(own, segments=tuple(map(set_in, own.segments))) if own.tape == tape else own
        for own in report.tapes
    )
    return replace(report, tapes=tapes)


def hem(lowest: float | None = None, highest: float | None = None) -> Report:
    report, _ = plain()
    kept = report.hem
    return replace(report, hem=replace(
        kept,
        lowest_m=kept.lowest_m if lowest is None else lowest,
        highest_m=kept.highest_m if highest is None else highest,
    ))  # fmt: skip


def near_floor(lowest: float, spacing: float) -> Report:
    """The two lowest hoops so far apart at tape 5, and 0.1 m elsewhere."""
    report = plain()[0]
    tapes = tuple(
        replace(
            own,
            segments=(
                *own.segments[:-1],
                replace(own.segments[-1], drop_m=spacing if own.tape == 5 else 0.1),
            ),
        )
        for own in report.tapes
    )
    return replace(report, tapes=tapes, hem=hem(lowest).hem)


def whole(**figures: Any) -> Report:
    return replace(plain()[0], **figures)


def tie(slack: float) -> Report:
    return whole(ties=(TieReport("tie 1", 0.3, 0.0, slack, False),))


def touched(number: int, what: str) -> Report:
    """The top hoop 10 mm from her, and something touching."""
    return replace(hoop(1, clearance_m=0.010), touching=(TouchReport(number, what, "front", 1.0),))


def texts(report: Report, code: str) -> list[str]:
    return [one.text for one in warnings_of(Case(report, plain()[1])) if one.code == code]
