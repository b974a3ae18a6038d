"""Marking strips at full size, tiled over pages that are laid together."""

from __future__ import annotations

from math import ceil, floor

from reportlab.lib.units import inch, mm
from reportlab.platypus import Flowable, PageBreak

from cage3d.sheets.making import Making
from cage3d.sheets.paper.drawing import HAIR, PALE, THICK, THIN, draw_text, ink
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter
from cage3d.sheets.paper.sizes import POINTS_PER_METRE, Paper
from cage3d.sheets.strips import (
    BAND,
    FOOT,
    LABELS,
    OVERLAP,
    RULER,
    SIDE,
    WIDEST,
    Tile,
    notes_of,
    spread,
    tiles,
)
from cage3d.sheets.tapes import TapeSet

HEADING = "4 Tapes: marking strips at full size"


def strip_pages(making: Making, paper: Paper, letters: Letters) -> list[Flowable]:
    """All strips; each set of equal tapes once."""
    story: list[Flowable] = []
    for number, tile in enumerate(tiles(making.tapes, making.design.tapes.width, paper)):
        story.append(PageBreak())
        if number == 0:
            story.append(Chapter(HEADING))
        story.append(StripPage(tile, making, paper, letters))
    return story


class StripPage(Flowable):  # type: ignore[misc]
    """One page of strips; its own units are points, and a strip's length is the tape's own."""

    def __init__(self, tile: Tile, making: Making, paper: Paper, letters: Letters) -> None:
        super().__init__()
        self.tile, self.making, self.letters = tile, making, letters
        self.width, self.height = paper.frame[2], paper.frame[3] - 1
        self.strip = min(making.design.tapes.width * POINTS_PER_METRE, WIDEST)
        own = self.strip + RULER + LABELS
        self.pitch = (self.width - 2 * SIDE) / max(1, floor((self.width - 2 * SIDE) / own))

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def level(self, along: float) -> float:
        """y on the page of a place on the tape (pt from the zero)."""
        return float(self.height - BAND - (along - self.tile.start))

    def draw(self) -> None:
        ink(self.canv)
        self._heading()
        for number, one in enumerate(self.tile.sets):
            self._strip(SIDE + number * self.pitch + RULER, one)
        self._joins()
        for number, one in enumerate(self.tile.sets):
            self._labels(SIDE + number * self.pitch + RULER, one)

    def _heading(self) -> None:
        tile, letters, top = self.tile, self.letters, self.height
        part = f"Part {tile.part} of {tile.parts}"
        used = draw_text(self.canv, letters, 0, top - 12, part, 13, bold=True)
        casing = self.making.writing.both(self.making.design.tapes.casing)
        note = f"Full size. Casings {casing} high, shaded; dashed across a strip: the steel at rest."
        note = letters.shortened(note, 8, self.width - used - 10)
        draw_text(self.canv, letters, self.width, top - 12, note, 8, align="right")
        for number, one in enumerate(tile.sets):
            x = SIDE + number * self.pitch
            room = self.pitch - 3 * mm
            used = draw_text(self.canv, letters, x, top - 39, one.letter, 20, bold=True) + 6
            names = letters.shortened(f"tapes {one.names}", 8.5, room - used, True)
            draw_text(self.canv, letters, x + used, top - 29, names, 8.5, bold=True)
            cut = f"cut {len(one.tapes)} × {one.layers} of {self.making.writing.full(one.cut)}"
            draw_text(self.canv, letters, x + used, top - 40, letters.shortened(cut, 8, room - used), 8)

    def _strip(self, x: float, one: TapeSet) -> None:
        """One strip with its ruler, casing lines and figures."""
        top = max(self.tile.start, -one.top * POINTS_PER_METRE)
        end = min(self.tile.end, (one.finished + one.bottom) * POINTS_PER_METRE)
        if end <= top:
            return
        self._casings(x, one)
        ink(self.canv)
        self.canv.setLineWidth(THIN)
        for edge in (x, x + self.strip):
            self.canv.line(edge, self.level(top), edge, self.level(end))
        for along in (-one.top * POINTS_PER_METRE, (one.finished + one.bottom) * POINTS_PER_METRE):
            self._across(x, along, THICK)
        self._across(x, 0.0, THICK)
        self._ruler(x, top, end)
        self._letter(x, one, top, end)
        self._allowance(x, -one.top * POINTS_PER_METRE, 0.0, "into the waistband")
        self._allowance(
            x, one.fold * POINTS_PER_METRE, (one.finished + one.bottom) * POINTS_PER_METRE, "fold under"
        )

    def _allowance(self, x: float, high: float, low: float, words: str) -> None:
        """What becomes of the ribbon beyond the marks, written on it where it is long enough."""
        middle = (high + low) / 2.0
        if low - high < 4 * mm or not (self.shows(middle - 3) and self.shows(middle + 3)):
            return
        text = self.letters.shortened(words, 7, self.strip - 4)
        draw_text(
            self.canv, self.letters, x + self.strip / 2.0, self.level(middle) - 2.5, text, 7, align="middle"
        )

    def shows(self, along: float) -> bool:
        return self.tile.start - 0.01 <= along <= self.tile.end + 0.01

    def _across(self, x: float, along: float, width: float) -> None:
        if self.shows(along):
            self.canv.setLineWidth(width)
            self.canv.line(x, self.level(along), x + self.strip + 1.5 * mm, self.level(along))

    def _casings(self, x: float, one: TapeSet) -> None:
        for casing in one.casings:
            upper, steel, lower = (v * POINTS_PER_METRE for v in (casing.upper, casing.steel, casing.lower))
            high, low = max(upper, self.tile.start), min(lower, self.tile.end)
            if low > high:
                self.canv.setFillColor(PALE)
                self.canv.rect(x, self.level(low), self.strip, low - high, stroke=0, fill=1)
            ink(self.canv)
            for along in (upper, lower):
                self._across(x, along, THIN)
            if self.shows(steel):
                self.canv.setDash(4, 3)
                self.canv.setLineWidth(HAIR)
                self.canv.line(x, self.level(steel), x + self.strip, self.level(steel))
                self.canv.setDash()

    def _ruler(self, x: float, top: float, end: float) -> None:
        """Ticks from the zero along the strip's left edge, to check the paper and to count by."""
        inches = self.making.writing.inches
        tick, per_number = (inch / 4, 4) if inches else (5 * mm, 4)
        for count in range(ceil(top / tick - 1e-6), floor(end / tick + 1e-6) + 1):
            whole = count % per_number == 0
            self.canv.setLineWidth(HAIR)
            self.canv.line(
                x - (3.2 if whole else 1.6) * mm, self.level(count * tick), x, self.level(count * tick)
            )
            low_enough = FOOT + 5 < self.level(count * tick) < self.height - BAND - 4
            if whole and low_enough:
                number = str(count // per_number) if inches else str(count * 5)
                draw_text(
                    self.canv,
                    self.letters,
                    x - 4 * mm,
                    self.level(count * tick) - 2.5,
                    number,
                    7,
                    align="right",
                )

    def _letter(self, x: float, one: TapeSet, top: float, end: float) -> None:
        """The strip's letter and an arrow up, in the longest stretch without a casing."""
        edges = [top, *(v * POINTS_PER_METRE for c in one.casings for v in (c.upper, c.lower)), end]
        free = [(max(a, top), min(b, end)) for a, b in zip(edges[::2], edges[1::2], strict=True)]
        high, low = max(free, key=lambda pair: pair[1] - pair[0])
        if low - high < 24 * mm:
            return
        middle, centre = self.level((high + low) / 2.0), x + self.strip / 2.0
        draw_text(self.canv, self.letters, centre, middle - 4, one.letter, 22, bold=True, align="middle")
        draw_text(self.canv, self.letters, centre, middle + 18, "↑", 14, align="middle")
        words = self.letters.shortened("waistband", 6.5, self.strip - 2)
        draw_text(self.canv, self.letters, centre, middle - 14, words, 6.5, align="middle")

    def _labels(self, x: float, one: TapeSet) -> None:
        shown = [label for label in notes_of(one, self.making.writing) if self.shows(label.along)]
        places = [self.level(label.along) for label in shown]
        levels = spread(places, 4.6 * mm, FOOT + 1 * mm, self.height - BAND - 1 * mm)
        side, text = x + self.strip + 1.5 * mm, x + self.strip + 4.5 * mm
        room = self.pitch - RULER - self.strip - 5 * mm
        for label, place, level in zip(shown, places, levels, strict=True):
            if abs(level - place) > 0.5:
                self.canv.setLineWidth(HAIR)
                self.canv.line(side, place, text - 1.5, level)
            words = self.letters.shortened(label.text, label.size, room, label.bold)
            # White behind, where a dashed line would run through the figure.
            wide = self.letters.width(words, label.size, label.bold)
            self.canv.setFillGray(1.0)
            self.canv.rect(text - 1, level - label.size * 0.45, wide + 2, label.size * 0.95, stroke=0, fill=1)
            draw_text(self.canv, self.letters, text, level - label.size * 0.36, words, label.size, label.bold)

    def _joins(self) -> None:
        """Where the pages meet: a dashed line to cut or to lay on, and crosses in the overlap."""
        tile, notes = self.tile, []
        if tile.part > 1:
            self._join(tile.start)
            notes.append(
                f"Cut off above the top dashed line; lay it on the dashed line of part {tile.part - 1}"
            )
        if tile.part < tile.parts:
            self._join(tile.start + tile.step)
            notes.append(f"lay part {tile.part + 1} on the lower dashed line")
        if notes:
            text = ", ".join(notes) + ", cross on cross."
            text = self.letters.shortened(text[0].upper() + text[1:], 8, self.width)
            draw_text(self.canv, self.letters, 0, 4, text, 8)

    def _join(self, along: float) -> None:
        canvas, y = self.canv, self.level(along)
        ink(canvas)
        canvas.setDash(6, 4)
        canvas.setLineWidth(HAIR)
        canvas.line(0, y, self.width, y)
        canvas.setDash()
        middle = self.level(along + OVERLAP / 2.0)
        for x in (2.5 * mm, self.width - 2.5 * mm):
            canvas.setLineWidth(HAIR)
            canvas.circle(x, middle, 1.6 * mm)
            canvas.line(x - 2.5 * mm, middle, x + 2.5 * mm, middle)
            canvas.line(x, middle - 2.5 * mm, x, middle + 2.5 * mm)
