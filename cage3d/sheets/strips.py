"""Marking strips in numbers: which stretch of which tape is on which page, and what is written on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from reportlab.lib.units import mm

from cage3d.sheets.paper.sizes import POINTS_PER_METRE, Paper
from cage3d.sheets.tapes import TapeSet
from cage3d.sheets.writing import Writing

BAND, FOOT = 10.5 * mm, 7 * mm  # headings of the strips and closing lines of a page
OVERLAP = 8 * mm
GAP = 1 * mm  # between two strips, for the scissors
WIDEST = 30 * mm  # of a strip as drawn; the width of a tape needs no marks
ROOMY = 18.5 * mm  # a narrower strip has its figures beside it
BESIDE = 20 * mm
APART = 4.4 * mm  # two lines of figures
FROM_LINE = 2.6 * mm  # a figure's middle from its line


@dataclass(frozen=True)
class Tile:
    """One stretch of one strip, as long as a page holds (pt from the zero of the tape)."""

    one: TapeSet
    part: int  # from 1
    parts: int
    start: float
    step: float  # to the next part's start
    area: float  # height of the stretch, step and overlap

    @property
    def end(self) -> float:
        return self.start + self.area

    @property
    def top(self) -> float:
        """Where the ribbon is cut above."""
        return float(-self.one.top * POINTS_PER_METRE)

    @property
    def bottom(self) -> float:
        """Where it is cut below."""
        return float((self.one.finished + self.one.bottom) * POINTS_PER_METRE)

    def shows(self, along: float) -> bool:
        return self.start - 0.01 <= along <= self.end + 0.01


def strip_width(width: float) -> float:
    """pt, of a strip as drawn. width: m, of the tape."""
    return float(min(width * POINTS_PER_METRE, WIDEST))


def pitch(width: float) -> float:
    """pt from one strip's left edge to the next one's. width: m, of the tape."""
    strip = strip_width(width)
    return float(strip + GAP + (0.0 if strip >= ROOMY else BESIDE))


def tiles_of(one: TapeSet, paper: Paper) -> list[Tile]:
    """A strip cut into stretches that a page holds."""
    area = paper.frame[3] - BAND - FOOT - 1
    step = area - OVERLAP
    length = (one.top + one.finished + one.bottom) * POINTS_PER_METRE
    parts = max(1, ceil((length - OVERLAP) / step))
    start = -one.top * POINTS_PER_METRE
    return [Tile(one, part + 1, parts, start + part * step, step, area) for part in range(parts)]


def pages_of_tiles(sets: Sequence[TapeSet], width: float, paper: Paper) -> list[list[Tile]]:
    """All stretches side by side, strip after strip; none over more pages than it needs, or two.

    width: m, of a tape.
    """
    abreast = max(1, floor((paper.frame[2] + GAP) / pitch(width)))
    pages: list[list[Tile]] = []
    for one in sets:
        tiles = tiles_of(one, paper)
        room = abreast - len(pages[-1]) if pages else 0
        spans = ceil((abreast - room + len(tiles)) / abreast)
        if room == 0 or spans > max(2, ceil(len(tiles) / abreast)):
            pages.append([])
        for tile in tiles:
            if len(pages[-1]) == abreast:
                pages.append([])
            pages[-1].append(tile)
    return pages


@dataclass(frozen=True)
class StripNote:
    """A text that belongs to a line on the tape."""

    along: float  # pt from the zero
    text: str
    size: float  # pt
    bold: bool
    side: int  # -1 above its line, 1 below it, 0 level with it


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


def zero_note(one: TapeSet) -> list[StripNote]:
    """At the zero of a strip; where that is the steel of a hoop, its casing says so."""
    return [StripNote(0.0, "0 band", 10, True, 1)] if one.from_band else []


def notes_of(one: TapeSet, writing: Writing) -> list[StripNote]:
    """What stands on a strip, from the top."""
    scale = POINTS_PER_METRE
    labels = [StripNote(-one.top * scale, "cut", 8, False, 1), *zero_note(one)]
    for casing in one.casings:
        upper, lower = casing.upper * scale, casing.lower * scale
        labels.append(StripNote(upper, writing.figure(casing.upper), 11, True, -1))
        named = f"0 at {casing.named}" if casing.steel == 0.0 else casing.named
        labels.append(StripNote((upper + lower) / 2.0, named, 8, False, 0))
        labels.append(StripNote(lower, writing.figure(casing.lower), 11, True, 1))
    end = (one.finished + one.bottom) * scale
    labels.append(StripNote(end, f"cut {writing.figure(one.cut)}", 8, False, -1))
    return labels
