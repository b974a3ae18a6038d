"""Marks along each hoop's steel, from the cut end."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak

from cage3d.design.baskets import has_baskets
from cage3d.design.models import Design
from cage3d.sheets.making import Making
from cage3d.sheets.paper.drawing import HAIR, SMALL, THICK, THIN, TITLE, draw_text, gap, ink, say
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter
from cage3d.sheets.steel import SteelCut, SteelMark
from cage3d.sheets.waistband import BandCut
from cage3d.sheets.writing import Writing

HEADING = "2 Steel: marks from the cut end"
CELL_WIDTH, CELL_HEIGHT = 20 * mm, 11 * mm
LARGEST, SMALLEST = 15.0, 9.0  # pt, of the figures of one length
STRIP_HEIGHT, TITLE_HEIGHT = 5 * mm, 7 * mm

INTRO = (
    "Lay the {stuff} straight on the floor with the first end at the zero of a long rule. Leave the rule where"
    " it is: every figure counts from that end, none from the mark before. {pen}. {tapes} are numbered"
    " from centre front round by the wearer's left. “Other end” is where the second end comes to lie in a lap."
)
HER_CENTRES = "CF centre front, CB centre back; tapes"
OWN_ENDS = " Front and back of a hoop beside her are its own."
CENTRES = ("CF", "CB", "front", "back")


def marks_pages(making: Making, letters: Letters, width: float) -> list[Flowable]:
    """A block for every hoop: the steel to scale and its marks in large figures."""
    heading, stuff = of_hoops(HEADING, making.design), making.design.stuff
    story: list[Flowable] = [PageBreak(), Chapter(heading), say(letters, heading, TITLE)]
    pen = "Mark on the coating" if stuff == "steel" else "Mark with a pen that holds"
    own = OWN_ENDS if has_baskets(making.design) else ""
    # Where no hoop goes round her none is marked at her centre front.
    tapes = HER_CENTRES if any(cut.beside is None for cut in making.cuts) else "Tapes"
    intro = INTRO.format(stuff=stuff, pen=pen, tapes=tapes)
    story += [say(letters, making.says(intro + own), SMALL), gap(3)]
    for cut in making.cuts:
        ends = (*cut.marks, SteelMark(("second end",), cut.cut))
        block = MarkedLength(
            f"Hoop {cut.hoop}", direction(cut), cut.cut, cut.exact, ends, making.writing, letters, width
        )
        story += [block, gap(2)]
    return story


def of_hoops(heading: str, design: Design) -> str:
    """A heading that speaks of steel, where hoops are made of something else."""
    return heading if design.stuff == "steel" else heading.replace("Steel", "Hoops")


def band_block(band: BandCut, writing: Writing, letters: Letters, width: float) -> Flowable:
    """The waistband's ribbon with its marks."""
    ends = (*band.marks, SteelMark(("tongue's end",), band.cut))
    return MarkedLength("Waistband", band.direction, band.cut, band.cut, ends, writing, letters, width)


def direction(cut: SteelCut) -> str:
    """Where the first end lies and which way the steel runs from it."""
    if cut.beside is not None:
        return direction_beside(cut)
    if cut.closed:
        if cut.join_at == "back":
            return "from centre back by her right to the front, on by her left"
        return "from centre front by her left to the back, on by her right"
    if cut.opening == "front":
        return "from her left of the opening at centre front, round the back"
    return "from her right of the opening at centre back, round the front"


def direction_beside(cut: SteelCut) -> str:
    """The same of a hoop beside her: all of them run from above against the clock, as those that go round her do."""
    outside, inside = "round its outside", "along its side next to her"
    forwards, backwards = (inside, outside) if cut.beside == "left" else (outside, inside)
    at = f"at her {cut.beside}, from its"
    if not cut.closed:
        first, last = ("front", "back") if cut.beside == "left" else ("back", "front")
        return f"{at} {first} end {outside} to its {last} end"
    if cut.join_at == "back":
        return f"{at} back {forwards} to its front, on {backwards}"
    return f"{at} front {backwards} to its back, on {forwards}"


class MarkedLength(Flowable):  # type: ignore[misc]
    """A hoop's steel or the waistband's ribbon, straight, with every mark as a figure from its first end."""

    def __init__(
        self,
        title: str,
        note: str,
        cut: float,  # m, as written on the list
        exact: float,  # m, drawn over the whole width
        marks: Sequence[SteelMark],  # the far end last
        writing: Writing,
        letters: Letters,
        width: float,
    ) -> None:
        super().__init__()
        self.title, self.note, self.cut, self.exact, self.marks = title, note, cut, exact, marks
        self.writing, self.letters, self.width = writing, letters, width
        self.columns = int(width // CELL_WIDTH)
        self.room = width / self.columns - 2 * mm
        rows = -(-len(marks) // self.columns)
        self.height = TITLE_HEIGHT + STRIP_HEIGHT + 2 * mm + rows * CELL_HEIGHT

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        ink(self.canv)
        used = draw_text(self.canv, self.letters, 0, self.height - 13, self.title, 13, bold=True)
        draw_text(self.canv, self.letters, used + 8, self.height - 13, self.note, 8, grey=0.3)
        cut = f"cut {self.writing.full(self.cut)}"
        draw_text(self.canv, self.letters, self.width, self.height - 13, cut, 13, bold=True, align="right")
        self._steel(self.height - TITLE_HEIGHT - STRIP_HEIGHT)
        size = self.figure_size()
        for number, mark in enumerate(self.marks):
            row, column = divmod(number, self.columns)
            top = self.height - TITLE_HEIGHT - STRIP_HEIGHT - 2 * mm - row * CELL_HEIGHT
            self._cell(column * self.width / self.columns, top, mark, size)

    def _steel(self, y: float) -> None:
        """The straight length to scale; taller ticks at front and back."""
        scale = self.width / self.exact
        self.canv.setLineWidth(THIN)
        self.canv.rect(0, y, self.width, 2.2 * mm)
        for mark in self.marks[:-1]:
            middle = any(name.startswith(CENTRES) for name in mark.names)
            self.canv.setLineWidth(THICK if middle else THIN)
            self.canv.line(mark.at * scale, y, mark.at * scale, y + (4.6 if middle else 3.4) * mm)

    def figure_size(self) -> float:
        """pt, the largest at which every figure of this length keeps clear of the next."""
        figures = [self.writing.figure(mark.at) for mark in self.marks]
        widest = max(self.letters.width(figure, LARGEST, True) for figure in figures)
        return float(max(SMALLEST, min(LARGEST, LARGEST * self.room / widest)))

    def _cell(self, x: float, top: float, mark: SteelMark, size: float) -> None:
        """What meets the steel here, and its figure."""
        name = self.letters.shortened(mark.text, 8, self.room)
        draw_text(self.canv, self.letters, x, top - 8, name, 8, grey=0.2)
        draw_text(self.canv, self.letters, x, top - 24, self.writing.figure(mark.at), size, bold=True)
        ink(self.canv, 0.6)
        self.canv.setLineWidth(HAIR)
        self.canv.line(x, top - 28.5, x + self.room, top - 28.5)
        ink(self.canv)
