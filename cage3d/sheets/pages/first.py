"""The first page: the cage, its numbers, squares to measure the paper by, and what the sheets hold."""

from __future__ import annotations

from reportlab.lib.units import inch, mm
from reportlab.platypus import Flowable

from cage3d.sheets.making import Making
from cage3d.sheets.outline import Outline
from cage3d.sheets.pages.cage import CageViews
from cage3d.sheets.paper.drawing import HAIR, THICK, draw_text, ink, text_block
from cage3d.sheets.paper.fonts import Letters, missing_signs
from cage3d.sheets.paper.frame import Chapter, Identity, Numbering
from cage3d.sheets.paper.sizes import Paper
from cage3d.sheets.writing import Writing, plural
from cage3d.steady import fixed, percent
from cage3d.wording import capital

TITLE = "Measure me first"
GAP = 3 * mm
RULE_ABOVE = 13.0  # pt, from a heading's foot to the rule over it
SQUARES = ((50 * mm, "50 mm"), (2 * inch, "2 in"))
LINES = ((100 * mm, "100 mm"), (4 * inch, "4 in"))


class FirstPage(Flowable):  # type: ignore[misc]
    """Name, the cage from three sides, squares and lines to check the paper, contents, the cage in figures."""

    def __init__(
        self,
        making: Making,
        outline: Outline,
        identity: Identity,
        paper: Paper,
        letters: Letters,
        known: Numbering,
    ) -> None:
        super().__init__()
        self.making, self.identity, self.letters, self.known = making, identity, letters, known
        self.width, self.height = paper.frame[2], paper.frame[3] - 1
        self.views = CageViews(outline, letters, self.width)

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        ink(self.canv)
        top = self._name(self.height) - 8 * mm
        self.views.draw(self.canv, top)
        top -= self.views.height + 6 * mm
        foot = self._squares(top)
        left = LINES[1][0] + 9 * mm
        self._under(LINES[1][0], foot - RULE_ABOVE - 3 * mm)
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

    def _squares(self, y: float) -> float:
        """Both squares side by side, `y` their top, a line of twice their size under them; the y of their foot."""
        x, low = 0.0, y - max(side for side, _ in SQUARES)
        for side, size in SQUARES:
            self.canv.setLineWidth(HAIR * 1.5)
            ink(self.canv)
            self.canv.rect(x, y - side, side, side)
            middle, centre = y - side / 2.0, x + side / 2
            draw_text(self.canv, self.letters, centre, middle + 14, size, 20, bold=True, align="middle")
            for row, line in enumerate(("measure me before", "you use this")):
                draw_text(self.canv, self.letters, centre, middle - 4 - row * 12, line, 8.5, True, "middle")
            note = "from middle of line to middle of line"
            draw_text(self.canv, self.letters, centre, y - side + 10, note, 6, align="middle", grey=0.35)
            x += side + GAP
        for long, size in LINES:
            low -= 15
            self.canv.setLineWidth(HAIR * 1.5)
            self.canv.line(0, low, long, low)
            for end in (0, long):
                self.canv.line(end, low - 3, end, low + 3)
            draw_text(self.canv, self.letters, long / 2.0, low + 2.5, size, 7.5, bold=True, align="middle")
            ink(self.canv)
        return float(low)

    def _under(self, width: float, y: float) -> None:
        """Under the squares: the cage in figures, letters that cannot be shown, and what the design notes."""
        y = self._figures(0, y, width)
        ties = [tie.name or "" for tie in self.making.design.ties]
        missing = self.letters.missing(
            " ".join([self.identity.name, self.identity.production, self.identity.wearer, *ties])
        )
        if missing:
            text = (
                f"Shown as □, because the sheets' font has no such letters: {missing_signs(missing)}. "
                "Give a TrueType font that has them with --font FILE."
            )
            y = self._words(0, y - 10, width, "Letters that are missing", text, 7.5)
        if self.making.design.notes:
            self._notes(0, y - 10, width, self.making.design.notes)

    def _beside(self, x: float, width: float, y: float) -> None:
        """The column beside the squares."""
        y = self._words(x, y, width, "Print at 100 %", PRINTING)
        y = self._contents(x, y - 10, width)
        y = self._words(x, y - 10, width, "Which sheets these are", VERSION)
        self._fields(x, y - 10, width)

    def _fields(self, x: float, y: float, width: float) -> None:
        """Lines to fill in."""
        y = self._head(x, y, width, "By hand") - 6
        for word in ("50 mm and 100 mm measured", "2 in and 4 in measured", "Made by, date"):
            draw_text(self.canv, self.letters, x, y, word, 8, grey=0.3)
            ink(self.canv)
            self.canv.setLineWidth(HAIR)
            self.canv.line(x, y - 4, x + width, y - 4)
            y -= 8.5 * mm

    def _words(self, x: float, y: float, width: float, head: str, text: str, size: float = 8.5) -> float:
        y = self._head(x, y, width, head)
        return text_block(self.canv, self.letters, x, y, width, text, size)

    def _notes(self, x: float, y: float, width: float, text: str) -> None:
        """What the design notes, as much of it as there is room for; all of it stands in the fitting record."""
        room = max(int((y - 15) / (8.5 * 1.35)), 1)
        lines = self.letters.wrapped(text, 8.5, width)
        if len(lines) > room:
            text = f"{' '.join(lines[: room - 1])} … goes on in the fitting record."
        self._words(x, y, width, "Notes", text)

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
    " own rule, across and down, and both lines. If one is off, nothing on the strips is true."
)


VERSION = (
    "The letters after “design” at the foot of every page change with anything in the design: work only from pages"
    " that bear the same."
)


def cage_figures(making: Making) -> list[tuple[str, str]]:
    """The few numbers that tell which cage this is."""
    design, report, writing = making.design, making.report, making.writing
    hem, sure = report.hem, report.certainty

    def give(*names: str) -> str:
        if sure is None:
            return ""
        return f" (±{writing.more_or_less(max(getattr(sure, name) for name in names))})"

    rows = [
        ("Waist", writing.full(design.wearer.waist)),
        (
            "Made of",
            f"{plural(len(design.hoops), 'hoop')} on {plural(design.tapes.count, 'gore' if making.gores else 'tape')}",
        ),
        (f"{capital(design.stuff)} to cut", writing.full(sum(plan.cut for plan in making.plans))),
        ("Weight, with its waistband", f"{fixed(making.weight_kg, 2)} kg"),
        (
            "Hem above the floor" + (" (± nine times in ten)" if sure else ""),
            between(hem.lowest_m, hem.highest_m, writing) + give("hem_lowest_m", "hem_highest_m"),
        ),
        ("Hem at its widest", writing.height(hem.widest_m) + give("hem_widest_m")),
        (
            "Whole cage, side to side",
            writing.height(report.width_side_side_m) + give("width_side_side_m"),
        ),
        ("Front to back", writing.height(report.width_front_back_m) + give("width_front_back_m")),
        ("Of that behind the waist", percent(report.back_share).replace("%", " %")),
    ]
    if design.ties:
        rows.insert(2, ("Tied by", plural(len(design.ties), "tie")))
    return rows


def between(least: float, most: float, writing: Writing) -> str:
    """'452 to 476 mm', or one figure where both are written alike."""
    low, high = writing.eighths(least), writing.height(most)
    return high if writing.height(least) == high else f"{low} to {high}"


def first_page(
    making: Making, outline: Outline, identity: Identity, paper: Paper, letters: Letters, known: Numbering
) -> list[Flowable]:
    return [Chapter(TITLE), FirstPage(making, outline, identity, paper, letters, known)]
