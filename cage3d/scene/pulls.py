"""Where tapes, ties and laces pull or hang slack, and where a hoop lies on something: lines, places and words."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.design.trade import SEEN_SLACK
from cage3d.report.curves import off_the_band
from cage3d.report.record import Report, SegmentReport, TieReport, TouchReport
from cage3d.report.tables import tension
from cage3d.scene.labels import tie_owners
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.weights import GRAVITY
from cage3d.steady import exceeds, first_least

LEAST_PULL = 0.0005 * GRAVITY  # N, half a gram: less is told as slack, as in the table of pulls


@dataclass(frozen=True)
class PullLine:
    """One stretch of tape, tie or lace, straight from end to end."""

    line: Floats  # (k, 3) m, from end to end
    pull: float  # N
    slack: float  # m longer than what it spans, 0 where it pulls
    words: str  # "382 g" or "slack 1/4 in"
    group: str  # the kind of part it belongs to,
    number: int  # and which of them, from 1


@dataclass(frozen=True)
class Contact:
    """Where a hoop lies on the wearer or the floor."""

    place: Floats  # (3,) m
    words: str


def pull_lines(settled: SettledCage, report: Report) -> tuple[PullLine, ...]:
    """Every stretch between two steels, then ties and laces; of the cage that the report is of."""
    joined = settled.cage.connectivity
    lines = "cloth" if report.on_cloth else "tapes"
    told: list[tuple[SegmentReport | TieReport, tuple[str, int]]] = [
        (segment, (lines, tape + 1))
        for hoop, tape in joined.segments.tolist()
        if (segment := report.tapes[tape].to(hoop + 1)) is not None
    ]
    told += list(zip(report.ties, tie_owners(settled.cage.design), strict=True))
    found = []
    for row, (line, (group, number)) in enumerate(told):
        # A seam hangs loose where the cloth beside it bears, whose pull is told with it.
        loose = group == "cloth" and exceeds(line.slack_m, SEEN_SLACK)
        slack = line.slack_m if line.tension_N < LEAST_PULL or loose else 0.0
        words = tension(report, 0.0 if loose else line.tension_N, line.slack_m)
        words = words if words.startswith("slack") else f"{words} g"
        if isinstance(line, SegmentReport) and not line.length_m:
            words = f"sewn, {words}"
        found.append(PullLine(settled.pull_way(row), line.tension_N, slack, words, group, number))
    return tuple(found)


def contacts(settled: SettledCage, report: Report) -> tuple[Contact, ...]:
    """Every hoop that touches, at the place where it lies closest."""
    return tuple(
        Contact(closest(settled, touch), f"hoop {touch.hoop} lies on the {touch.what}, {touch.where}")
        for touch in report.touching
    )


def closest(settled: SettledCage, touch: TouchReport) -> Floats:
    points, form = off_the_band(settled, touch.hoop - 1), settled.cage.form
    on_floor = touch.what == "floor" or form is None
    distance = points[:, 2] if on_floor or form is None else form.clearance(points)
    return np.asarray(points[first_least(distance)])
