"""What is written beside the cage in the page: hoop, tie and tape labels with the place each belongs to."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.design.baskets import has_baskets
from cage3d.design.models import Design
from cage3d.report.alike import SLACK
from cage3d.report.curves import POINTS_PER_EDGE, hoop_curve
from cage3d.report.record import HoopReport, Report, TieReport
from cage3d.report.tables import LEAST_TOLD
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.steady import first_largest
from cage3d.units import show_length
from cage3d.wording import capital

RIGHT, LEFT, AT_THE_PLACE = 1, -1, 0
LONGEST_NAME = 18  # letters of a tie's name beside the cage


@dataclass(frozen=True)
class Label:
    """One label. Its leader starts at a place of `path`: in the right column at the one furthest to the right in the
    picture, in the left one at the one furthest from her axis, where her form hides it least."""

    text: str
    more: str  # a second, smaller line
    short: str  # instead of both where there is little room
    path: Floats  # (n, 3) m
    side: int  # RIGHT or LEFT column of the picture, or AT_THE_PLACE itself
    group: str  # shown while a part of this group is,
    number: int  # and of this number: hoop, tape or tie counted from 1


def labels(settled: SettledCage, report: Report) -> tuple[Label, ...]:
    """Hoops with length, width and height; ties with their length; tapes with their number."""
    return (*hoop_labels(settled, report), *tie_labels(settled, report), *tape_numbers(settled))


def hoop_words(hoop: HoopReport, units: str | None) -> str:
    """'Hoop 3: 84 in', 'Hoop 1: 60 in open', of one beside her 'Hoop 2: 22 in right open'."""
    return f"Hoop {hoop.number}: {show_length(hoop.length_m, units)} {hoop.kind}".rstrip()


def tie_words(tie: TieReport, units: str | None) -> str:
    """'Upper tie: 22 1/2 in'; a long name is cut."""
    name = tie.name if len(tie.name) <= LONGEST_NAME else f"{tie.name[: LONGEST_NAME - 1].rstrip()}…"
    return f"{capital(name)}: {show_length(tie.length_m, units)}"


def hoop_labels(settled: SettledCage, report: Report) -> list[Label]:
    def show(metres: float) -> str:
        return show_length(metres, report.units, unit=False)

    found = []
    for hoop in report.hoops:
        low, high = show(hoop.lowest_m), show(hoop.highest_m)
        height = low if low == high else f"{low}–{high}"
        more = f"height {height}, width {show(hoop.width_side_side_m)}"
        path = hoop_curve(settled, hoop.number - 1).points[::POINTS_PER_EDGE]
        if hoop.beside is not None:  # where she never hides it
            path = path[[first_largest(np.abs(path[:, 0]))]]
        side = LEFT if hoop.beside == "right" else RIGHT
        short = show_length(hoop.length_m, report.units)
        found.append(Label(hoop_words(hoop, report.units), more, short, path, side, "hoops", hoop.number))
    return found


def tie_labels(settled: SettledCage, report: Report) -> list[Label]:
    """Ties and laces; a slack one says so. They stand at the left, of two baskets each beside its own."""
    joined = settled.cage.connectivity
    found = []
    owners = tie_owners(settled.cage.design)
    for row, (tie, owner) in enumerate(zip(report.ties, owners, strict=True), start=joined.segment_count):
        by = f" by {show_length(tie.slack_m, report.units)}" if tie.slack_m > LEAST_TOLD else ""
        more = f"slack{by}" if tie.slack_m > SLACK else ""
        short = show_length(tie.length_m, report.units)
        places = pointed_at(settled, row)
        at_her_left = has_baskets(settled.cage.design) and places[:, 0].mean() > 0.0
        side = RIGHT if at_her_left else LEFT
        found.append(Label(tie_words(tie, report.units), more, short, places, side, *owner))
    return found


def pointed_at(settled: SettledCage, row: int) -> Floats:
    """(k, 3) m, where the label of a tie or lace may point: at a tie's middle, at either end of a lace, which lies
    flat to her form and is hidden by it at its middle first."""
    if row < settled.cage.connectivity.segment_count + len(settled.cage.design.ties):
        return settled.pull_middle(row)[None]
    return settled.pull_way(row)[[0, -1]]


def tie_owners(design: Design) -> list[tuple[str, int]]:
    """(kind of part, its number from 1) for every tie, then for every lace of a panel, as the report has them."""
    owners = [("ties", number) for number in range(1, len(design.ties) + 1)]
    owners += [("panels", number) for number, panel in enumerate(design.panels, 1) for _ in panel.hoops]
    return owners


def tape_numbers(settled: SettledCage) -> list[Label]:
    lowest = settled.positions[settled.cage.connectivity.ends]
    below = lowest - np.array([0.0, 0.0, 0.03])
    group = "tapes" if settled.cage.design.cloth is None else "cloth"
    return [
        Label(str(i + 1), "", str(i + 1), place[None], AT_THE_PLACE, group, i + 1)
        for i, place in enumerate(below)
    ]
