"""The cutting list, the order of cutting, and the marks along each hoop's steel."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from reportlab.lib.colors import black, white
from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, PageBreak

from cage3d.shape.section import Section
from cage3d.sheets import cautions
from cage3d.sheets.baskets import cut_alike
from cage3d.sheets.cutting import CuttingPlan
from cage3d.sheets.least_steel import Bar
from cage3d.sheets.making import Making
from cage3d.sheets.pages.marks import marks_pages, of_hoops
from cage3d.sheets.paper.drawing import (
    CELL,
    CELL_RIGHT,
    FIGURE,
    HAIR,
    HEAD,
    HEAD_RIGHT,
    NUMBER,
    PALE,
    SMALL,
    SUBTITLE,
    THIN,
    TITLE,
    Box,
    caution,
    draw_text,
    gap,
    ink,
    say,
    table,
    together,
)
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter
from cage3d.sheets.steel import SteelCut
from cage3d.sheets.writing import Writing
from cage3d.wording import capital, listed

HEADING = "1 Steel: cutting list"
ENDS = CELL.clone("ends", leftIndent=8)
SIZES = (11, 8, 6)  # pt, of what stands in a piece that is drawn: the largest that fits
CUT = FIGURE.clone("cut", fontSize=19, leading=23)


def cutting_pages(making: Making, letters: Letters, width: float) -> list[Flowable]:
    """Cutting list, order of cutting, marks."""
    heading = of_hoops(HEADING, making.design)
    story: list[Flowable] = [PageBreak(), Chapter(heading), say(letters, heading, TITLE)]
    story += cutting_cautions((cut.section for cut in making.cuts), letters, width)
    story += [cut_table(making, letters, width), gap(2)]
    story += [say(letters, list_note(making), SMALL), CondPageBreak(60 * mm)]
    story += [say(letters, "Order of cutting", SUBTITLE)]
    for plan in making.plans:
        story += plan_block(plan, making.writing, letters, width)
    return story + marks_pages(making, letters, width)


def cutting_cautions(sections: Iterable[Section], letters: Letters, width: float) -> list[Flowable]:
    """A box for each thing that is cut."""
    boxes = [caution(letters, title, text, width) for title, text in cautions.cutting(sections)]
    return [part for box in boxes for part in (box, gap(4))]


def cut_table(making: Making, letters: Letters, width: float) -> Flowable:
    """One row a hoop; the cut in large figures."""
    writing = making.writing
    eighths, ends = (0.12, 0.14) if writing.inches else (0.02, 0.24)
    shares = (0.08, 0.17, 0.14, 0.13, 0.17, eighths, ends, 0.05)
    heads = [
        ("Hoop", HEAD),
        ("Steel" if making.design.stuff == "steel" else "Material", HEAD),
        (f"Finished, {writing.unit}", HEAD_RIGHT),
        ("Join takes", HEAD_RIGHT),
    ]
    heads += [
        (f"CUT, {writing.unit}", HEAD_RIGHT),
        ("to ¹⁄₈ in" if writing.inches else "", HEAD_RIGHT),
        ("Ends", HEAD.clone("ends head", leftIndent=8)),
        ("", HEAD),
    ]
    rows: list[list[object]] = [[say(letters, text, style) for text, style in heads]]
    rows += [cut_row(cut, writing, letters) for cut in making.cuts]
    total = sum(cut.cut for cut in making.cuts)
    sum_row: list[object] = [
        "",
        say(letters, "All hoops", CELL),
        "",
        "",
        say(letters, writing.figure(total), CUT),
    ]
    rows.append([*sum_row, coarse_figure(total, writing, letters), "", ""])
    return table(
        rows, [share * width for share in shares], extra=[("LINEABOVE", (0, -1), (-1, -1), THIN, black)]
    )


def cut_row(cut: SteelCut, writing: Writing, letters: Letters) -> list[object]:
    return [
        hoop_number(cut, letters),
        say(letters, cut.section.words, CELL),
        say(letters, writing.figure(cut.finished), CELL_RIGHT),
        say(letters, join_takes(cut, writing), CELL_RIGHT),
        say(letters, writing.figure(cut.cut), CUT),
        coarse_figure(cut.cut, writing, letters),
        say(letters, ends_of(cut, writing), ENDS),
        Box(4.5 * mm, 4.5 * mm),
    ]


def hoop_number(cut: SteelCut, letters: Letters) -> object:
    """Large, and under it where a hoop stands that does not go round her."""
    number = say(letters, str(cut.hoop), NUMBER)
    return number if cut.beside is None else [number, say(letters, cut.beside, SMALL)]


def coarse_figure(metres: float, writing: Writing, letters: Letters) -> object:
    """The same length as a rule with eighths shows it; nothing beside millimetres."""
    return say(letters, writing.eighths(metres) if writing.inches else "", CELL_RIGHT)


def join_takes(cut: SteelCut, writing: Writing) -> str:
    """What the join adds to the finished length."""
    if not cut.closed:
        return "open"
    if cut.join is None:
        return "no join"
    taken = f"+ {writing.figure(cut.overlap)}" if cut.overlap else "nothing"
    if cut.slide is None:
        return taken
    return f"{taken}; slides {writing.figure(cut.slide.least)} to {writing.figure(cut.slide.most)}"


def ends_of(cut: SteelCut, writing: Writing) -> str:
    """What goes on the ends."""
    if not cut.closed:
        return "2 tips"
    if cut.join is None:
        return "meet"
    if cut.slide is not None:
        return "2 keepers"
    return "1 lap" if cut.overlap else f"1 {cut.section.socket} {writing.full(cut.join.length)}"


def list_note(making: Making) -> str:
    limit, stuff = "¹⁄₁₆ in" if making.writing.inches else "1.5 mm", making.design.stuff
    pairs = [f"{left} and {right}" for left, right in cut_alike(making)]
    twins = f" Cut alike, one for each basket: hoops {listed(pairs)}." if pairs else ""
    return (
        f"Cut to within {limit}; hoops of one size alike to the same. The finished length is round the"
        f" {stuff}'s centre line when the hoop is closed, end to end of an open hoop. In a tube the two ends meet, so"
        f" that it takes no {stuff}. A tip adds about 1.5 mm"
        f" and is not in the figures. Tick each hoop as it is cut, deburred and capped.{twins}"
    )


def hoop_called(number: int) -> str:
    return f"hoop {number}"


def plan_block(
    plan: CuttingPlan,
    writing: Writing,
    letters: Letters,
    width: float,
    called: Callable[[int], str] = hoop_called,
) -> list[Flowable]:
    """One size of steel: every coil or length with its cuts, and the sum that must come out.

    called: what a hoop of this number is called.
    """
    blocks: list[Flowable] = []
    intro = f"{capital(plan.section.words)}. {plan_note(plan)}"
    for number, bar in enumerate(plan.bars, start=1):
        drawn = BarDrawing(bar, number, writing, letters, width, called)
        blocks.append(together(say(letters, intro, CELL), gap(1), drawn) if number == 1 else drawn)
    blocks.append(say(letters, plan_sum(plan, writing), CELL))
    return [*blocks, gap(4)]


def plan_note(plan: CuttingPlan) -> str:
    """Where the lengths come from, and what is known of the plan."""
    if not plan.written:
        return (
            "No coils or lengths are written under buying: steel, so one coil is assumed that holds all hoops"
            " and the spare share."
        )
    stuff = plan.section.steel.made_of.stuff
    least = f"No other plan buys less {stuff}." if plan.best else f"A plan that buys less {stuff} may exist."
    return least if plan.spare else f"{least} What is left over is less than the spare share."


def plan_sum(plan: CuttingPlan, writing: Writing) -> str:
    """The check sum, in the rounded figures that stand on the page."""
    return (
        f"Check: cut {writing.figure(plan.cut)} + left over {writing.figure(plan.left)} "
        f"= bought {writing.figure(plan.bought)} {writing.unit} ({writing.long(plan.bought)})."
    )


class BarDrawing(Flowable):  # type: ignore[misc]
    """One coil or length to scale, cut from left to right, with the figures under it."""

    def __init__(
        self,
        bar: Bar,
        number: int,
        writing: Writing,
        letters: Letters,
        width: float,
        called: Callable[[int], str] = hoop_called,
    ) -> None:
        super().__init__()
        self.bar, self.number, self.writing, self.letters, self.width = bar, number, writing, letters, width
        self.called = called
        self.lines = letters.wrapped(self.words(), 9.5, width)
        self.height = 12 + 7 * mm + 4 + 13 * len(self.lines) + 6

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def words(self) -> str:
        pieces = zip(self.bar.hoops, self.bar.cuts, strict=True)
        cuts = " → ".join(f"{self.called(hoop)}: {self.writing.figure(cut)}" for hoop, cut in pieces)
        left = f"left over {self.writing.figure(self.bar.left)}"
        return f"{cuts} → {left}" if cuts else f"not cut: {left}"

    def draw(self) -> None:
        canvas, scale, level = self.canv, self.width / self.bar.length, self.height - 12 - 7 * mm
        ink(canvas)
        title = (
            f"Length {self.number}: {self.writing.full(self.bar.length)}"
            f" ({self.writing.long(self.bar.length)})"
        )
        draw_text(canvas, self.letters, 0, self.height - 9, title, 8, bold=True)
        canvas.setLineWidth(THIN)
        canvas.setFillColor(PALE)
        canvas.rect(0, level, self.width, 7 * mm, fill=1)
        x = 0.0
        for hoop, cut in zip(self.bar.hoops, self.bar.cuts, strict=True):
            canvas.setFillColor(white)
            canvas.setLineWidth(HAIR * 2)
            canvas.rect(x, level, cut * scale, 7 * mm, fill=1)
            short = self.called(hoop).removeprefix("hoop ")
            fits = [size for size in SIZES if cut * scale > self.letters.width(short, size, True) + 2]
            if fits:
                draw_text(
                    canvas, self.letters, x + cut * scale / 2, level + 6, short, fits[0], True, "middle"
                )
            x += cut * scale
        for row, line in enumerate(self.lines):
            draw_text(canvas, self.letters, 0, level - 12 - 13 * row, line, 9.5)
