"""Marking strips at full size: the parts of a strip lie side by side and are laid together, cross on cross."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor

from reportlab.lib.units import inch, mm
from reportlab.platypus import Flowable, PageBreak

from cage3d.sheets.making import Making
from cage3d.sheets.paper.drawing import HAIR, PALE, THICK, THIN, draw_text, ink
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter
from cage3d.sheets.paper.sizes import POINTS_PER_METRE, Paper
from cage3d.sheets.strips import (
    APART,
    BAND,
    BESIDE,
    FOOT,
    FROM_LINE,
    OVERLAP,
    ROOMY,
    StripNote,
    Tile,
    notes_of,
    pages_of_tiles,
    pitch,
    spread,
    strip_width,
)

HEADING = "4 Tapes: marking strips at full size"
TICK, NUMBER = 3.2 * mm, 3.7 * mm  # on a strip's left edge: a long tick, and where its number starts
TEXT = 6.6 * mm  # where a figure on the strip starts, clear of the ruler
SMALLEST = 5.0  # pt, of words on a narrow strip
JOINING = (
    "Cut the strips out. Cut part 2 off above its top dashed line and lay it on the lower dashed line of part 1,"
    " cross on cross; so on down."
)


def strip_pages(making: Making, paper: Paper, letters: Letters) -> list[Flowable]:
    """All strips; each set of equal tapes once."""
    story: list[Flowable] = []
    for number, tiles in enumerate(pages_of_tiles(making.tapes, making.design.tapes.width, paper)):
        story.append(PageBreak())
        if number == 0:
            story.append(Chapter(HEADING))
        story.append(StripPage(tiles, making, paper, letters))
    return story


class StripPage(Flowable):  # type: ignore[misc]
    """One page of strips; its own units are points, and a strip's length is the tape's own."""

    def __init__(self, tiles: Sequence[Tile], making: Making, paper: Paper, letters: Letters) -> None:
        super().__init__()
        self.tiles, self.making, self.letters = tiles, making, letters
        self.width, self.height = paper.frame[2], paper.frame[3] - 1

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        ink(self.canv)
        casing, stuff = self.making.writing.full(self.making.design.tapes.casing), self.making.design.stuff
        note = f"Full size. Casings {casing} high, shaded; dashed across a casing: the {stuff} at rest."
        own = pitch(self.making.design.tapes.width)
        for number, tile in enumerate(self.tiles):
            OneStrip(self, tile, number * own).draw()
        draw_text(self.canv, self.letters, 0, 10, note, 6.5)
        if any(tile.parts > 1 for tile in self.tiles):
            draw_text(self.canv, self.letters, 0, 1, JOINING, 6.5)


class OneStrip:
    """One stretch of one strip, its left edge at `x` of the page."""

    def __init__(self, page: StripPage, tile: Tile, x: float) -> None:
        self.canvas, self.letters, self.writing = page.canv, page.letters, page.making.writing
        self.tile, self.one, self.x, self.page_height = tile, tile.one, x, page.height
        self.width = strip_width(page.making.design.tapes.width)
        self.roomy = self.width >= ROOMY
        self.top, self.end = max(tile.start, tile.top), min(tile.end, tile.bottom)

    def level(self, along: float) -> float:
        """y on the page of a place on the tape (pt from the zero)."""
        return float(self.page_height - BAND - (along - self.tile.start))

    def draw(self) -> None:
        self._heading()
        self._casings()
        ink(self.canvas)
        self.canvas.setLineWidth(THIN)
        for edge in (self.x, self.x + self.width):
            self.canvas.line(edge, self.level(self.top), edge, self.level(self.end))
        for along in (self.tile.top, 0.0, self.tile.bottom):
            self._across(along, THICK)
        self._joins()
        labels = self._placed()
        taken = [level for _, _, level in labels if self.roomy] + self._letter() + self._dashes()
        self._ruler(taken)
        if self.one.from_band:
            self._allowance(self.tile.top, 0.0, "into the band")
        else:
            self._allowance(self.tile.top, self.one.casings[0].upper * POINTS_PER_METRE, "fold under")
        self._allowance(self.one.fold * POINTS_PER_METRE, self.tile.bottom, "fold under")
        for label, place, level in labels:
            self._label(label, place, level)

    def _heading(self) -> None:
        one, top = self.one, self.page_height
        used = draw_text(self.canvas, self.letters, self.x, top - 16, one.letter, 17, bold=True)
        beside = self.x + used + 5  # a word of its own to whoever reads the page by machine
        part = f"part {self.tile.part} of {self.tile.parts}" if self.tile.parts > 1 else "whole"
        draw_text(self.canvas, self.letters, beside, top - 7, part, 6.5)
        draw_text(self.canvas, self.letters, beside, top - 15.5, f"cut {len(one.tapes)} × {one.layers}", 6.5)
        room = self.width + (0.0 if self.roomy else BESIDE)
        tapes = f"{'tape' if len(one.tapes) == 1 else 'tapes'} {one.names}"
        draw_text(
            self.canvas, self.letters, self.x, top - 25.5, *self.letters.smaller(tapes, 6.5, SMALLEST, room)
        )

    def _casings(self) -> None:
        for casing in self.one.casings:
            upper, steel, lower = (v * POINTS_PER_METRE for v in (casing.upper, casing.steel, casing.lower))
            high, low = max(upper, self.tile.start), min(lower, self.tile.end)
            if low > high:
                self.canvas.setFillColor(PALE)
                self.canvas.rect(self.x, self.level(low), self.width, low - high, stroke=0, fill=1)
            ink(self.canvas)
            for along in (upper, lower):
                self._across(along, THIN)
            if self.tile.shows(steel):
                self._dashed(steel, 4, 3)

    def _across(self, along: float, width: float) -> None:
        if self.tile.shows(along):
            self.canvas.setLineWidth(width)
            self.canvas.line(self.x, self.level(along), self.x + self.width, self.level(along))

    def _dashed(self, along: float, dash: float, blank: float) -> None:
        self.canvas.setDash(dash, blank)
        self.canvas.setLineWidth(HAIR)
        self.canvas.line(self.x, self.level(along), self.x + self.width, self.level(along))
        self.canvas.setDash()

    def _dashes(self) -> list[float]:
        """Levels of the dashed lines: of the steel, and where parts meet."""
        steels = [casing.steel * POINTS_PER_METRE for casing in self.one.casings]
        return [self.level(along) for along in (*steels, self.tile.start, self.tile.start + self.tile.step)]

    def _ruler(self, taken: Sequence[float]) -> None:
        """Ticks from the zero along the left edge, to check the paper; numbers where nothing else stands."""
        inches = self.writing.inches
        tick, per_number = (inch / 4, 4) if inches else (5 * mm, 4)
        ink(self.canvas)
        self.canvas.setLineWidth(HAIR)
        for count in range(ceil(self.top / tick - 1e-6), floor(self.end / tick + 1e-6) + 1):
            whole, y = count % per_number == 0, self.level(count * tick)
            self.canvas.line(self.x, y, self.x + (TICK if whole else TICK / 2.0), y)
            inside = self.level(self.end) + 4 < y < self.level(self.top) - 4
            if whole and inside and all(abs(y - level) > 4.2 * mm for level in taken):
                number = str(count // per_number) if inches else str(count * 5)
                draw_text(self.canvas, self.letters, self.x + NUMBER, y - 2.2, number, 6, grey=0.3)
                ink(self.canvas)

    def _letter(self) -> list[float]:
        """The strip's letter and an arrow up, in the longest stretch without a casing; the levels they take."""
        lines = [v * POINTS_PER_METRE for c in self.one.casings for v in (c.upper, c.lower)]
        edges = [self.top, *lines, self.end]
        free = [(max(a, self.top), min(b, self.end)) for a, b in zip(edges[::2], edges[1::2], strict=True)]
        high, low = max(free, key=lambda pair: pair[1] - pair[0])
        if low - high < 34 * mm:
            return []
        middle, centre = self.level((high + low) / 2.0), self.x + self.width / 2.0
        draw_text(self.canvas, self.letters, centre, middle - 4, self.one.letter, 20, True, "middle")
        draw_text(self.canvas, self.letters, centre, middle + 18, "↑", 14, align="middle")
        words = self.letters.shortened(self.one.begins, 6.5, self.width - 2)
        draw_text(self.canvas, self.letters, centre, middle - 14, words, 6.5, align="middle")
        return [middle - 12, middle, middle + 20]

    def _allowance(self, high: float, low: float, words: str) -> None:
        """What becomes of the ribbon beyond the marks, written on it where it is long enough."""
        middle = (high + low) / 2.0
        if low - high < (17 if self.roomy else 5) * mm or not (
            self.tile.shows(middle - 6) and self.tile.shows(middle + 6)
        ):
            return
        left = TEXT if self.roomy else 2.0
        text, size = self.letters.smaller(words, 6.5, SMALLEST, self.width - left - 1)
        draw_text(self.canvas, self.letters, self.x + left, self.level(middle) - 2.5, text, size)

    def _placed(self) -> list[tuple[StripNote, float, float]]:
        """(what is written, the level of its line, its own level) of all that stands on this stretch."""
        away = FROM_LINE if self.roomy else 0.0
        half = 1.6 * mm if self.roomy else 0.0
        shown = []
        for note in notes_of(self.one, self.writing):
            middle = note.along + note.side * away
            if note.side and self._hidden(middle, half):
                middle = note.along - note.side * away
            if self.tile.shows(note.along) and self.tile.start + half <= middle <= self.tile.end - half:
                shown.append((note, self.level(note.along), self.level(middle)))
        levels = spread(
            [level for _, _, level in shown], APART, FOOT + 1 * mm, self.page_height - BAND - 1 * mm
        )
        return [(note, place, level) for (note, place, _), level in zip(shown, levels, strict=True)]

    def _hidden(self, middle: float, half: float) -> bool:
        """Whether this part begins within a figure there, or the next one would be laid over half of it."""
        begins = self.tile.part > 1 and middle < self.tile.start + half
        return begins or abs(middle - self.tile.start - self.tile.step) < half + 1

    def _label(self, note: StripNote, place: float, level: float) -> None:
        left, room = self.x + TEXT, self.width - TEXT - 1
        if not self.roomy:
            left, room = self.x + self.width + 4 * mm, BESIDE - 4 * mm
            self.canvas.setLineWidth(HAIR)
            self.canvas.line(self.x + self.width, place, left - 1.5, level)
        words, size = note.text, note.size
        while self.letters.width(words, size, note.bold) > room and size > 6.5:
            size -= 0.5
        words = self.letters.shortened(words, size, room, note.bold)
        draw_text(self.canvas, self.letters, left, level - size * 0.36, words, size, note.bold)

    def _joins(self) -> None:
        """Where parts meet: a dashed line to cut or to lay on, and a cross in the overlap."""
        if self.tile.part > 1:
            self._join(self.tile.start)
        if self.tile.part < self.tile.parts:
            self._join(self.tile.start + self.tile.step)

    def _join(self, along: float) -> None:
        self._dashed(along, 6, 4)
        x, y = self.x + self.width - 2.6 * mm, self.level(along + OVERLAP / 2.0)
        self.canvas.circle(x, y, 1.3 * mm)
        self.canvas.line(x - 2 * mm, y, x + 2 * mm, y)
        self.canvas.line(x, y - 2 * mm, x, y + 2 * mm)
