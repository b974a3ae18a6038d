"""The order of cutting: every coil or length to scale with its cuts, and the sum that must come out."""

from __future__ import annotations

from collections.abc import Callable

from reportlab.lib.colors import white
from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from cage3d.sheets.cutting import CuttingPlan
from cage3d.sheets.least_steel import Bar
from cage3d.sheets.paper.drawing import (
    CELL,
    HAIR,
    PALE,
    THIN,
    draw_text,
    gap,
    ink,
    say,
    together,
)
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.writing import Writing
from cage3d.wording import capital

SIZES = (11, 8, 6)  # pt, of what stands in a piece that is drawn: the largest that fits


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
