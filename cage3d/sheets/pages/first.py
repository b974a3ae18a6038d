"""The first page: measure the paper before anything is cut, and what the sheets hold."""

from __future__ import annotations

from reportlab.lib.units import inch, mm
from reportlab.platypus import Flowable

from cage3d.report.cautions import PREDICTIONS, WHO_DECIDES
from cage3d.sheets.making import Making
from cage3d.sheets.paper.drawing import HAIR, THICK, draw_text, ink, text_block
from cage3d.sheets.paper.fonts import Letters, missing_signs
from cage3d.sheets.paper.frame import Chapter, Identity, Numbering
from cage3d.sheets.paper.sizes import Paper
from cage3d.sheets.writing import plural
from cage3d.steady import fixed

TITLE = "Measure me first"
GAP = 3 * mm
RULE_ABOVE = 13.0  # pt, from a heading's foot to the rule over it
SQUARES = ((100 * mm, "100 mm"), (4 * inch, "4 in"))


class FirstPage(Flowable):  # type: ignore[misc]
    """Name, two check squares, contents, the cage in figures."""

    def __init__(
        self, making: Making, identity: Identity, paper: Paper, letters: Letters, known: Numbering
    ) -> None:
        super().__init__()
        self.making, self.identity, self.letters, self.known = making, identity, letters, known
        self.width, self.height = paper.frame[2], paper.frame[3] - 1

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        ink(self.canv)
        top = self._name(self.height) - 9 * mm
        self._squares(top)
        left = SQUARES[1][0] + 7 * mm
        self._beside(left, self.width - left, top - RULE_ABOVE)

    def _name(self, y: float) -> float:
        """The name as large as fits on up to three lines, production and wearer; the y of their foot."""
        name, size = self.identity.name, 26.0
        while len(self.letters.wrapped(name, size, self.width, True)) > (1 if size > 15 else 3) and size > 10:
            size -= 1.0
        draw_text(self.canv, self.letters, 0, y - 9, "MAKING SHEETS", 8, bold=True, grey=0.35)
        under = text_block(self.canv, self.letters, 0, y - 13 - size, self.width, name, size, True)
        words = " · ".join(word for word in (self.identity.production, self.identity.wearer) if word)
        short = self.letters.shortened(words, 11, self.width)
        draw_text(self.canv, self.letters, 0, under + size * 1.35 - 18, short, 11)
        return under + size * 1.35 - 18

    def _squares(self, y: float) -> None:
        """Both squares from the frame's left, `y` their top, each with its size and its sentence."""
        for side, size in SQUARES:
            y -= side
            self.canv.setLineWidth(HAIR * 1.5)
            ink(self.canv)
            self.canv.rect(0, y, side, side)
            middle = y + side / 2.0
            draw_text(self.canv, self.letters, side / 2, middle + 8 * mm, size, 30, bold=True, align="middle")
            lines = ("measure me before", "you use this")
            for row, line in enumerate(lines):
                draw_text(
                    self.canv, self.letters, side / 2, middle - row * 16, line, 12, bold=True, align="middle"
                )
            note = "from the middle of one line to the middle of the other"
            draw_text(self.canv, self.letters, side / 2, y + 7 * mm, note, 7.5, align="middle", grey=0.35)
            y -= GAP

    def _beside(self, x: float, width: float, y: float) -> None:
        """The column beside the squares."""
        y = self._words(x, y, width, "Print at 100 %", PRINTING)
        y = self._contents(x, y - 10, width)
        y = self._figures(x, y - 10, width)
        ties = [tie.name or "" for tie in self.making.design.ties]
        missing = self.letters.missing(
            " ".join([self.identity.name, self.identity.production, self.identity.wearer, *ties])
        )
        if missing:
            text = (
                f"Shown as □, because the sheets' font has no such letters: {missing_signs(missing)}. "
                "Give a TrueType font that has them with --font FILE."
            )
            y = self._words(x, y - 10, width, "Letters that are missing", text, 7.5)
        y = self._words(x, y - 10, width, "Predictions", f"{PREDICTIONS} {WHO_DECIDES}", 7.5)
        self._fields(x, y - 10, width)

    def _fields(self, x: float, y: float, width: float) -> None:
        """Lines to fill in, as far down as there is room."""
        y = self._head(x, y, width, "By hand") - 6
        for word in ("100 mm measured", "4 in measured", "Made by", "Date", "Notes", "", "", ""):
            if y < 2:
                return
            draw_text(self.canv, self.letters, x, y, word, 8, grey=0.3)
            ink(self.canv)
            self.canv.setLineWidth(HAIR)
            self.canv.line(x, y - 4, x + width, y - 4)
            y -= 8.5 * mm

    def _words(self, x: float, y: float, width: float, head: str, text: str, size: float = 8.5) -> float:
        y = self._head(x, y, width, head)
        return text_block(self.canv, self.letters, x, y, width, text, size)

    def _head(self, x: float, y: float, width: float, head: str) -> float:
        ink(self.canv)
        self.canv.setLineWidth(THICK)
        self.canv.line(x, y + RULE_ABOVE, x + width, y + RULE_ABOVE)
        draw_text(self.canv, self.letters, x, y, head, 10.5, bold=True)
        return y - 15

    def _contents(self, x: float, y: float, width: float) -> float:
        y = self._head(x, y, width, "In here")
        for title, page in self.known.sections.items():
            if title == TITLE:
                continue
            draw_text(self.canv, self.letters, x, y, title, 8.5)
            draw_text(self.canv, self.letters, x + width, y, str(page), 8.5, bold=True, align="right")
            y -= 12.5
        return y

    def _figures(self, x: float, y: float, width: float) -> float:
        y = self._head(x, y, width, "The cage in figures")
        for word, figure in cage_figures(self.making):
            draw_text(self.canv, self.letters, x, y, word, 8.5)
            draw_text(self.canv, self.letters, x + width, y, figure, 8.5, bold=True, align="right")
            y -= 12.5
        return y


PRINTING = (
    "In the print window choose “actual size” or 100 %, never “fit to page”. Measure both squares with your"
    " own rule, across and down. If either is off, nothing on the strips is true."
)


def cage_figures(making: Making) -> list[tuple[str, str]]:
    """The few numbers that tell which cage this is."""
    design, report, writing = making.design, making.report, making.writing
    hem = report.hem
    rows = [
        ("Waist", writing.full(design.wearer.waist)),
        ("Hoops, tapes", f"{len(design.hoops)}, {design.tapes.count}"),
        ("Steel to cut", writing.full(sum(cut.cut for cut in making.cuts))),
        ("Weight of the cage", f"{fixed(making.weight_kg, 2)} kg"),
        ("Hem above the floor, least", writing.height(hem.lowest_m)),
        ("Hem above the floor, most", writing.height(hem.highest_m)),
        ("Widest", writing.height(report.hem.widest_m)),
    ]
    if design.ties:
        rows.insert(2, ("Ties", plural(len(design.ties), "tie")))
    return rows


def first_page(
    making: Making, identity: Identity, paper: Paper, letters: Letters, known: Numbering
) -> list[Flowable]:
    return [Chapter(TITLE), FirstPage(making, identity, paper, letters, known)]
