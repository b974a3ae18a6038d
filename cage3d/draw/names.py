"""Names beside a slanting view: hoops and ties, each with a leader from where it is seen."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from cage3d.draw.hung import Hung, extreme
from cage3d.draw.overlay import ACCENT, Overlay, Place, width_of
from cage3d.draw.views import Frame
from cage3d.report.record import HoopReport
from cage3d.scene.labels import hoop_words, pointed_at, tie_words
from cage3d.settle.state import SettledCage
from cage3d.steady import first_largest, rising
from cage3d.units import show_length

TIE_NAME = BESIDE_NAME = 0.85  # height of the letters that name ties, and hoops at either side of her
SIDE_OF = {"left": 1, "right": -1}  # of the picture, seen from before her


class Name(NamedTuple):
    """Where its leader starts (px), its words, and the height of their letters against the others."""

    start: Place
    words: str
    size: float


def hoop_name(hoop: HoopReport, units: str | None) -> tuple[int, str, float]:
    """(the side of the picture, the words, their size): at the right, of those beside her each at its own side.

    Where names stand on both sides they are short, and say neither which side that is nor what is seen.
    """
    if hoop.beside is None:
        return 1, hoop_words(hoop, units), 1.0
    return SIDE_OF[hoop.beside], f"Hoop {hoop.number}: {show_length(hoop.length_m, units)}", BESIDE_NAME


def names_beside(hung: Hung, text: float, bare: float) -> tuple[float, float]:
    """px at the left and right of a slanting view, for names and their leaders."""
    units, wide = hung.report.units, {-1: bare, 1: bare}
    for hoop in hung.report.hoops:
        side, words, size = hoop_name(hoop, units)
        wide[side] = max(wide[side], width_of(words, size * text) + (2.6 if side > 0 else 2.0) * text)
    for tie in hung.report.ties if hung.ties_named else ():
        wide[-1] = max(wide[-1], width_of(tie_words(tie, units), TIE_NAME * text) + 2.0 * text)
    return wide[-1], wide[1]


def names(paper: Overlay, frame: Frame, hung: Hung) -> None:
    """Every hoop's number and length at the right, or at its own side of her; ties and laces at the left."""
    columns: dict[int, list[Name]] = {1: [], -1: []}
    for hoop, curve in zip(hung.report.hoops, hung.curves, strict=True):
        side, words, size = hoop_name(hoop, hung.report.units)
        columns[side].append(Name(extreme(frame.on_paper(curve), side), words, size))
    if hung.ties_named:
        for tie, row in zip(hung.report.ties, hung.settled.cage.connectivity.tie_rows, strict=False):
            words = tie_words(tie, hung.report.units)
            columns[-1].append(Name(leader_start(frame, hung.settled, row), words, TIE_NAME))
    for side, column in columns.items():
        named(paper, frame, hung, side, column)


def named(paper: Overlay, frame: Frame, hung: Hung, side: int, column: Sequence[Name]) -> None:
    """One column of names, at the right (1) or left (-1)."""
    reach = max(side * extreme(frame.on_paper(curve), side)[0] for curve in hung.curves)
    edge = side * (reach + (1.6 if side > 0 else 1.0) * paper.text)
    step = (1.35 if side > 0 else 1.3) * paper.text
    places = spread([name.start[1] for name in column], step, paper.size[1] - 3.0 * paper.text)
    for name, text_y in zip(column, places, strict=True):
        paper.straight([name.start, (edge, text_y)], ACCENT, 0.6)
        paper.dot(name.start)
        at = (edge + side * 0.3 * paper.text, text_y)
        paper.words(at, name.words, "lm" if side > 0 else "rm", name.size)


def leader_start(frame: Frame, settled: SettledCage, row: int) -> Place:
    """px, of the places that the label of a tie or lace may point at the one furthest from her axis."""
    flat = frame.on_paper(pointed_at(settled, row))
    axis = float(frame.on_paper(np.zeros((1, 3)))[0, 0])
    x, y = flat[first_largest(np.abs(flat[:, 0] - axis))]
    return float(x), float(y)


def spread(places: Sequence[float], step: float, bottom: float) -> list[float]:
    """Places from the top down, moved so that no two stand nearer than `step` and none below `bottom`."""
    order = rising(places)
    moved = np.array(places, dtype=float)[order]
    for i in range(1, len(moved)):
        moved[i] = max(moved[i], moved[i - 1] + step)
    limit = bottom
    for i in reversed(range(len(moved))):
        moved[i] = min(moved[i], limit)
        limit = moved[i] - step
    back = np.empty_like(moved)
    back[order] = moved
    return [float(value) for value in back]
