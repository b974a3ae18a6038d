"""The fitting record: a box for every height at every tape."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib.colors import black
from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, PageBreak

from cage3d.report.cautions import wearing_cautions
from cage3d.report.record import HoopReport
from cage3d.sheets.making import Making
from cage3d.sheets.paper.drawing import (
    BODY,
    CELL,
    HAIR,
    HEAD,
    SMALL,
    SUBTITLE,
    THIN,
    TITLE,
    caution,
    draw_text,
    gap,
    ink,
    say,
    table,
)
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter, Identity
from cage3d.sheets.tapes import side_of
from cage3d.sheets.writing import Writing
from cage3d.wording import capital

HEADING = "7 Fitting record"
HOOPS_ABREAST = 8
ROW, HEAD_ROW = 8.6 * mm, 8 * mm


def record_pages(making: Making, identity: Identity, letters: Letters, width: float) -> list[Flowable]:
    """Who and when, the heights to fill in, the ties, and the cautions of wearing."""
    story: list[Flowable] = [PageBreak(), Chapter(HEADING), say(letters, HEADING, TITLE)]
    story += [WhoAndWhen(identity, letters, width), gap(3)]
    story += [
        say(letters, f"Heights above the floor at each {making.design.line}, {making.writing.unit}", SUBTITLE)
    ]
    how = HOW_OF_CLOTH if making.gores else HOW
    story += [say(letters, how.format(making.design.stuff), SMALL), gap(2)]
    sides = [side_of(float(fraction)) for fraction in making.stations]
    hoops, sure = making.report.hoops, making.report.certainty
    within: list[str] = []
    if sure is not None:
        within = [f"±{making.writing.more_or_less(max(hoop.at_tapes_m))}" for hoop in sure.hoops]
        story[-1:] = [say(letters, WITHIN, SMALL), gap(2)]
    blocks = -(-len(hoops) // HOOPS_ABREAST)
    abreast = -(-len(hoops) // blocks)
    for start in range(0, len(hoops), abreast):
        own = slice(start, start + abreast)
        grid = HeightGrid(
            hoops[own],
            sides,
            making.writing,
            letters,
            width,
            within=within[own],
            line=capital(making.design.line),
        )
        story += [CondPageBreak(min(grid.height, 120 * mm)), grid, gap(4)]
    if making.design.ties:
        story += [
            CondPageBreak(40 * mm),
            say(letters, "Ties, as they end", SUBTITLE),
            ties_table(making, letters, width),
        ]
    story += [CondPageBreak(45 * mm), say(letters, "Seen at the fitting", SUBTITLE), WritingLines(4, width)]
    if making.design.notes:
        story += [say(letters, "Notes of the design", SUBTITLE), say(letters, making.design.notes, BODY)]
    worn: list[Flowable] = [say(letters, "Before it is worn", SUBTITLE)]
    for title, text in wearing_cautions(making.design, making.report, making.writing.height):
        worn += [caution(letters, title, text, width), gap(1.6)]
    # On one page, so that it can be pinned up where she dresses.
    return [*story, KeepTogether(worn)]


WITHIN = (
    "± under a hoop: what its heights may be more or less with sewing as usual, nine times in ten. Only what is"
    " further off wants a cause."
)
HOW = (
    "In the show's shoes, over what is worn below, standing even. Measure from the floor to the middle of the"
    " {} where each tape crosses it. The small figure is what was predicted with the skirt on; write what"
    " you find in the box, and into tables/fitting-record.csv, with the widths and which tapes feel loose: cage3d true"
    " tells from them what is wrong and what to mend."
)


HOW_OF_CLOTH = (
    "In the show's shoes, over what is worn below, standing even. Measure from the floor to the middle of the {}"
    " where each seam crosses it. The small figure is what was predicted with the skirt on; write what you"
    " find in the box, and into tables/fitting-record.csv, with the widths: cage3d true tells from them what is wrong"
    " and what to mend."
)


class WhoAndWhen(Flowable):  # type: ignore[misc]
    """Fields to fill in; what the design says is filled in already."""

    def __init__(self, identity: Identity, letters: Letters, width: float) -> None:
        super().__init__()
        self.letters, self.width = letters, width
        # Rows of (word, what is filled in, share of the width).
        self.rows = [
            [("Design", identity.name, 0.76), ("Version", identity.checksum, 0.24)],
            [("Production", identity.production, 0.76), ("Wearer", identity.wearer, 0.24)],
            [("Date", "", 0.24), ("Fitted by", "", 0.28), ("Bare, or with which skirt", "", 0.48)],
            [("Shoes, corset", "", 1.0)],
        ]
        self.height = len(self.rows) * 11 * mm

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        ink(self.canv)
        self.canv.setLineWidth(HAIR)
        for number, row in enumerate(self.rows):
            x, y = 0.0, self.height - (number + 1) * 11 * mm + 3 * mm
            for word, text, share in row:
                last = (word, text, share) == row[-1]
                wide = share * self.width - (0.0 if last else 3 * mm)
                used = draw_text(self.canv, self.letters, x, y, word, 8, grey=0.3) + 6
                short = self.letters.shortened(text, 10, wide - used, True)
                draw_text(self.canv, self.letters, x + used, y, short, 10, bold=True)
                ink(self.canv)
                self.canv.line(x, y - 4, x + wide, y - 4)
                x += share * self.width


class HeightGrid(Flowable):  # type: ignore[misc]
    """One row a tape, one column a hoop: predicted figure and a box. Splits between rows."""

    def __init__(
        self,
        hoops: Sequence[HoopReport],
        sides: Sequence[str],
        writing: Writing,
        letters: Letters,
        width: float,
        first: int = 0,
        within: Sequence[str] = (),
        line: str = "Tape",
    ) -> None:
        super().__init__()
        self.line = line  # what its rows are: "Tape", or "Seam" of cloth
        self.hoops, self.within = hoops, within  # within: what each hoop's heights may be more or less
        self.sides, self.writing, self.letters = sides, writing, letters
        self.width, self.first = width, first  # first: row of the first tape, from 0
        self.height = HEAD_ROW + len(sides) * ROW

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def split(self, _width: float, height: float) -> list[Flowable]:
        fits = int((height - HEAD_ROW) // ROW)
        if fits < 3:
            return []
        parts = ((0, fits), (fits, len(self.sides)))
        return [
            HeightGrid(
                self.hoops,
                self.sides[a:b],
                self.writing,
                self.letters,
                self.width,
                self.first + a,
                self.within,
                self.line,
            )
            for a, b in parts
        ]

    def draw(self) -> None:
        ink(self.canv)
        name = 22 * mm
        pitch = (self.width - name) / max(len(self.hoops), 4)
        for column, hoop in enumerate(self.hoops):
            x = name + column * pitch
            draw_text(self.canv, self.letters, x, self.height - 11, f"Hoop {hoop.number}", 9, bold=True)
            if self.within:
                draw_text(self.canv, self.letters, x, self.height - 20, self.within[column], 7, grey=0.3)
        for row, side in enumerate(self.sides):
            y = self.height - HEAD_ROW - (row + 1) * ROW
            tape = self.first + row
            draw_text(self.canv, self.letters, 0, y + 8, f"{self.line} {tape + 1} {side}", 9, bold=True)
            for column, hoop in enumerate(self.hoops):
                point = hoop.at_tape(tape + 1)
                if point is not None:
                    self._cell(name + column * pitch, y, pitch, point.z_m)

    def _cell(self, x: float, y: float, pitch: float, height: float) -> None:
        """The box, and the predicted figure small in its upper left corner."""
        self.canv.setLineWidth(THIN)
        self.canv.rect(x, y, pitch - 1.5 * mm, ROW)
        draw_text(self.canv, self.letters, x + 2, y + ROW - 9, self.writing.eighths(height), 8, grey=0.3)
        ink(self.canv)


class WritingLines(Flowable):  # type: ignore[misc]
    """Blank lines to write on."""

    def __init__(self, count: int, width: float) -> None:
        super().__init__()
        self.count, self.width, self.height = count, width, count * 9 * mm

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        self.canv.setLineWidth(HAIR)
        for number in range(self.count):
            self.canv.line(0, number * 9 * mm + 1, self.width, number * 9 * mm + 1)


def ties_table(making: Making, letters: Letters, width: float) -> Flowable:
    writing = making.writing
    heads = ("Tie", "From", "To", f"Written, {writing.unit}", f"Final, {writing.unit}")
    rows: list[list[object]] = [[say(letters, text, HEAD) for text in heads]]
    for number, tie in enumerate(making.design.ties, start=1):
        cells = (tie.name or str(number), tie.from_, tie.to, writing.figure(tie.length), "")
        rows.append([say(letters, text, CELL) for text in cells])
    grid = [("BOX", (-1, 1), (-1, -1), THIN, black), ("INNERGRID", (-1, 1), (-1, -1), THIN, black)]
    return table(rows, [share * width for share in (0.22, 0.24, 0.24, 0.15, 0.15)], extra=grid)
