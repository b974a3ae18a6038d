"""Marking strips in numbers: which stretch of which tape is on which page, and what stands beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor

from reportlab.lib.units import mm

from cage3d.sheets.paper.sizes import POINTS_PER_METRE, Paper
from cage3d.sheets.tapes import TapeSet
from cage3d.sheets.writing import Writing

BAND, FOOT = 17 * mm, 5 * mm  # heading and closing line of a page of strips
OVERLAP = 10 * mm
SIDE = 6 * mm  # on either side, for the crosses
RULER, LABELS = 9 * mm, 23.5 * mm  # beside each strip
WIDEST = 60 * mm  # of a strip as drawn; the width of a tape needs no marks


@dataclass(frozen=True)
class Tile:
    """One page: some strips side by side, and the stretch of tape it shows (pt from the zero)."""

    sets: tuple[TapeSet, ...]
    part: int  # from 1
    parts: int
    start: float
    step: float  # to the next page's start
    area: float  # height of the stretch, step and overlap

    @property
    def end(self) -> float:
        return self.start + self.area


def tiles(sets: tuple[TapeSet, ...], width: float, paper: Paper) -> Iterator[Tile]:
    """Sets in groups that stand side by side, each group's length cut into pages. width: m, of a tape."""
    own = min(width * POINTS_PER_METRE, WIDEST) + RULER + LABELS
    abreast = max(1, floor((paper.frame[2] - 2 * SIDE) / own))
    area = paper.frame[3] - BAND - FOOT - 1
    step = area - OVERLAP
    for first in range(0, len(sets), abreast):
        group = sets[first : first + abreast]
        start = -group[0].top * POINTS_PER_METRE
        end = max(one.finished + one.bottom for one in group) * POINTS_PER_METRE
        parts = max(1, ceil((end - start - OVERLAP) / step))
        for part in range(parts):
            yield Tile(group, part + 1, parts, start + part * step, step, area)


@dataclass(frozen=True)
class StripNote:
    """A text beside a line on the tape."""

    along: float  # pt from the zero
    text: str
    size: float  # pt
    bold: bool


def spread(levels: Sequence[float], apart: float, low: float, high: float) -> list[float]:
    """Falling levels moved until they are `apart` and between high and low: one pass down, one up."""
    out: list[float] = []
    for level in levels:
        ceiling = out[-1] - apart if out else high
        out.append(min(level, ceiling))
    floor = low
    for place in reversed(range(len(out))):
        out[place] = max(out[place], floor)
        floor = out[place] + apart
    return out


def notes_of(one: TapeSet, writing: Writing) -> list[StripNote]:
    """What stands beside a strip, from the top."""
    scale = POINTS_PER_METRE
    labels = [StripNote(-one.top * scale, "cut", 8, False), StripNote(0.0, "0 band", 11, True)]
    for casing in one.casings:
        labels.append(StripNote(casing.upper * scale, writing.figure(casing.upper), 12, True))
        labels.append(StripNote((casing.upper + casing.lower) / 2.0 * scale, f"hoop {casing.hoop}", 8, False))
        labels.append(StripNote(casing.lower * scale, writing.figure(casing.lower), 12, True))
    labels.append(StripNote((one.finished + one.bottom) * scale, f"cut {writing.figure(one.cut)}", 8, False))
    return labels
