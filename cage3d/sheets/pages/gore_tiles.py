"""Gores at full size: each laid over as many pages as it takes, which are laid together cross on cross."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak

from cage3d.shape.arrays import Floats
from cage3d.sheets.making import Making
from cage3d.sheets.pages.gores import how_often
from cage3d.sheets.paper.drawing import HAIR, THICK, THIN, draw_text, ink
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter
from cage3d.sheets.paper.sizes import POINTS_PER_METRE, Paper
from cage3d.sheets.tiles import HEAD, OVERLAP, GoreTile, tiles_of, within
from cage3d.sheets.way_in import open_to, slit_on, way_in

HEADING = "4 Gores at full size"
TICK = 0.012  # m across a seam, where what is open of it ends
JOINED = {
    (
        True,
        True,
    ): "Cut off along the upper and left dashed lines; lay on the pages above and to the left, cross on cross.",
    (True, False): "Cut off along the upper dashed line; lay on the page above, cross on cross.",
    (False, True): "Cut off along the left dashed line; lay on the page to the left, cross on cross.",
}


def gore_tile_pages(making: Making, paper: Paper, letters: Letters) -> list[Flowable]:
    """Every set of equal gores once, page after page; pages that would be blank are left out."""
    story: list[Flowable] = []
    for one in making.gores:
        for tile in tiles_of(one, paper):
            story.append(PageBreak())
            if len(story) == 1:
                story.append(Chapter(HEADING))
            story.append(GorePage(tile, making, paper, letters))
    return story


class GorePage(Flowable):  # type: ignore[misc]
    """One page of one gore."""

    def __init__(self, tile: GoreTile, making: Making, paper: Paper, letters: Letters) -> None:
        super().__init__()
        self.tile, self.one, self.making, self.letters = tile, tile.one, making, letters
        self.width, self.height = paper.frame[2], paper.frame[3] - 1

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def at(self, place: Floats) -> tuple[float, float]:
        """pt on the page of a place on the gore (m)."""
        x, y = place * POINTS_PER_METRE
        return float(x - self.tile.left), float(self.height - HEAD - (y - self.tile.top))

    def draw(self) -> None:
        self._heading()
        self._casings()
        self._edges()
        self._slit()
        self._words()
        self._joins()

    def _heading(self) -> None:
        one, tile = self.one, self.tile
        ink(self.canv)
        used = draw_text(self.canv, self.letters, 0, self.height - 14, one.letter, 17, bold=True)
        words = (
            f"gores {', '.join(one.names)}: cut {how_often(one)}. Row {tile.row} of {tile.rows} from the waistband, "
            f"column {tile.column} of {tile.columns} from her right."
        )
        draw_text(self.canv, self.letters, used + 5, self.height - 7, words, 6.5)
        joined = JOINED.get((tile.row > 1, tile.column > 1), "")
        draw_text(self.canv, self.letters, used + 5, self.height - 15.5, joined, 6.5)

    def _line(self, points: Floats, width: float, dash: Sequence[float] = ()) -> None:
        """What of a line on the gore (n, 2) m lies on this page."""
        foot = self.height - HEAD - self.tile.high
        low, high = np.array([0.0, foot]), np.array([self.tile.wide, self.height - HEAD])
        ink(self.canv)
        self.canv.setLineWidth(width)
        self.canv.setDash(*dash) if dash else self.canv.setDash()
        for stretch in within(np.array([self.at(point) for point in points]), low, high):
            path = self.canv.beginPath()
            path.moveTo(*stretch[0].tolist())
            for place in stretch[1:].tolist():
                path.lineTo(*place)
            self.canv.drawPath(path)
        self.canv.setDash()

    def _casings(self) -> None:
        self._line(self.half(self.one.flat[0]), THIN)
        for casing in self.one.casings:
            self._line(self.half(casing.upper), THIN)
            self._line(self.half(casing.lower), THIN)
            self._line(self.half(casing.steel), HAIR, (4, 3))

    def half(self, line: Floats) -> Floats:
        """What of a line across is drawn: of a gore that is cut on the fold, her left half."""
        return line[len(line) // 2 :] if self.one.even else line

    def _edges(self) -> None:
        sides = (1,) if self.one.even else (0, 1)
        for side in sides:
            self._line(self.one.edges[side], HAIR, (1.5, 2))
            self._line(self.one.cut_edges[side], THICK)
        cut = self.one.cut_edges
        top = np.vstack([cut[0][:1], self.one.top, cut[1][:1]])
        hem = np.vstack([cut[0][-1:], self.one.hem, cut[1][-1:]])
        for line in (top, hem):
            self._line(line[len(line) // 2 :] if self.one.even else line, THICK)
        for start, end in self.one.notches:
            if not self.one.even or start[0] > 0.0:
                self._line(np.stack([start, end]), THICK)
        if self.one.even:
            self._line(
                np.stack([self.one.top[len(self.one.top) // 2], self.one.hem[len(self.one.hem) // 2]]),
                THIN,
                (8, 4),
            )

    def _slit(self) -> None:
        """Where she gets in, on the gore that has it; of an equal gore that has none its name tells it."""
        one, into = self.one, way_in(self.making)
        depth = self.making.writing.full(into.depth)
        line = slit_on(one, into)
        if line is not None:
            self._line(line, THICK)
            only = f", gore {one.names[one.gores.index(into.gore)]} alone" if len(one.gores) > 1 else ""
            self._beside(line[1], f"slit{only}")
            self._beside(line[-1], f"slit to here, {depth}{only}")
        for side, place in open_to(one, into, self.making.design.tapes.count):
            if one.even and not side:
                continue
            inward = np.array([TICK if side == 0 else -TICK, 0.0])
            self._line(np.stack([place, place + inward]), THICK)
            self._beside(
                place + np.minimum(inward, 0.0), f"seam {into.seam} is left open above, {depth}", side
            )

    def _beside(self, place: Floats, text: str, side: int = 0) -> None:
        """A text by a place on the gore: to the right of it, or to the left at an edge by her left (side 1)."""
        x, y = self.at(place)
        self._say(x + 3 if not side else x - 3 - self.letters.width(text, 6.5), y - 9, text, 6.5)

    def _words(self) -> None:
        """What stands on the gore: casings with their figures, the arrow of the grain, its name."""
        one, writing = self.one, self.making.writing
        depths = self.making.tapes_at(one.gores[0])
        for casing, own in zip(one.casings, depths.casings, strict=True):
            text = f"hoop {casing.hoop}: {writing.figure(own.upper)} to {writing.figure(own.lower)}"
            self._along(self.half(casing.lower), text, 8, -9, f"hoop {casing.hoop}")
        self._along(self.half(one.flat[0]), "waistband's lower edge", 6.5, 3, "waistband")
        if one.even:
            self._along(one.top[len(one.top) // 2 :], "fold", 6.5, -9)
        middle = len(one.flat[0]) // 2
        aside = np.array([0.25 * float(one.widths[1]) if one.even else 0.0, 0.0])
        for upper, lower in pairwise(one.flat):
            top = upper[middle] * 0.75 + lower[middle] * 0.25 + aside
            foot = upper[middle] * 0.35 + lower[middle] * 0.65 + aside
            self._arrow(top, foot)

    def _along(self, line: Floats, text: str, size: float, off: float, short: str = "") -> None:
        """A text beside a line across, where the page holds it whole and it ends before the line does.

        short: what stands there where it would run out over the edge; nothing where neither has room.
        """
        drawn = np.array([self.at(place) for place in line])
        for words in (text, short):
            wide = self.letters.width(words, size) + 3
            for x, _ in drawn[len(drawn) // 8 :] if words else ():
                over = drawn[(drawn[:, 0] >= x) & (drawn[:, 0] <= x + wide), 1]
                clear = (over.max() if off > 0.0 else over.min()) + off
                if x + wide < drawn[-1, 0] and self._say(x + 3, clear, words, size):
                    return

    def _say(self, x: float, y: float, text: str, size: float) -> bool:
        """Writes a text where it lies on this page whole, and tells whether it does."""
        foot = self.height - HEAD - self.tile.high
        wide = self.letters.width(text, size)
        fits = x >= 0.0 and x + wide <= self.tile.wide and foot <= y and y + size <= self.height - HEAD
        if fits:
            draw_text(self.canv, self.letters, x, y, text, size)
        return fits

    def _arrow(self, top: Floats, foot: Floats) -> None:
        self._line(np.stack([top, foot]), THIN)
        for end, way in ((top, 1.0), (foot, -1.0)):
            for side in (-1.0, 1.0):
                self._line(np.stack([end, end + np.array([side * 0.0015, way * 0.004])]), THIN)
        x, y = self.at((top + foot) / 2.0)
        self._say(x + 4, y, f"grain; gore {self.one.letter}", 6.5)

    def _joins(self) -> None:
        """Dashed lines where pages meet, and crosses in the overlap."""
        tile, high = self.tile, self.height - HEAD
        ink(self.canv)
        self.canv.setLineWidth(HAIR)
        self.canv.setDash(6, 4)
        for x, needed in ((0.0, tile.column > 1), (tile.wide - OVERLAP, tile.column < tile.columns)):
            if needed:
                self.canv.line(x, high, x, high - tile.high)
        for y, needed in ((high, tile.row > 1), (high - tile.high + OVERLAP, tile.row < tile.rows)):
            if needed:
                self.canv.line(0, y, tile.wide, y)
        self.canv.setDash()
        across = [
            x
            for x, on in (
                (OVERLAP / 2.0, tile.column > 1),
                (tile.wide - OVERLAP / 2.0, tile.column < tile.columns),
            )
            if on
        ]
        down = [
            y
            for y, on in (
                (high - OVERLAP / 2.0, tile.row > 1),
                (high - tile.high + OVERLAP / 2.0, tile.row < tile.rows),
            )
            if on
        ]
        places = [(x, high - share * tile.high) for x in across for share in (0.2, 0.8)]
        places += [(share * tile.wide, y) for y in down for share in (0.2, 0.8)]
        for x, y in places:
            self.canv.circle(x, y, 1.3 * mm)
            self.canv.line(x - 2 * mm, y, x + 2 * mm, y)
            self.canv.line(x, y - 2 * mm, x, y + 2 * mm)
