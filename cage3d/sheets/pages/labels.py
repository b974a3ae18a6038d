"""Labels of an order: one for every hoop of every wearer, and one for each cage."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from cage3d.sheets.order import Order, Ordered
from cage3d.sheets.paper.drawing import HAIR, SMALL, TITLE, draw_text, gap, ink, say
from cage3d.sheets.paper.fonts import Letters
from cage3d.sheets.paper.frame import Chapter
from cage3d.sheets.writing import plural

HEADING = "Labels"
ABREAST, HIGH = 3, 25 * mm
EDGE = 3 * mm


@dataclass(frozen=True)
class Label:
    """code: whose it is, large; title: what it is; lines: below."""

    code: str
    title: str
    lines: tuple[str, ...]


def labels_of(order: Order) -> list[Label]:
    """Wearer by wearer: the cage's own, then its hoops from the top."""
    return [label for cage in order.cages for label in (cage_label(order, cage), *hoop_labels(order, cage))]


def cage_label(order: Order, cage: Ordered) -> Label:
    design, role = cage.design, cage.graded.row.role
    size = f"waist {order.writing.full(design.wearer.waist)}, {plural(len(design.hoops), 'hoop')}"
    title = " · ".join(word for word in ("Whole cage", role) if word)
    words = (design.name, design.production or "", size)
    return Label(cage.code, title, tuple(word for word in words if word))


def hoop_labels(order: Order, cage: Ordered) -> list[Label]:
    writing = order.writing
    return [
        Label(
            cage.code,
            f"Hoop {cut.hoop} of {len(cage.cuts)}",
            (
                f"finished {writing.full(cut.finished)}",
                f"cut {writing.full(cut.cut)}, {cut.section.words}",
                "" if cut.closed else f"open {cut.opening}",
            ),
        )
        for cut in cage.cuts
    ]


def label_pages(order: Order, letters: Letters, width: float) -> list[Flowable]:
    """Frames to cut along, three abreast."""
    every = labels_of(order)
    words = "Cut along the lines; sew one to each hoop’s join or end, and the cage’s own to its waistband."
    story: list[Flowable] = [
        Chapter(HEADING),
        say(letters, HEADING, TITLE),
        say(letters, words, SMALL),
        gap(2),
    ]
    rows = [every[at : at + ABREAST] for at in range(0, len(every), ABREAST)]
    return [*story, *(LabelRow(row, letters, width) for row in rows)]


class LabelRow(Flowable):  # type: ignore[misc]
    """Some labels abreast."""

    def __init__(self, row: list[Label], letters: Letters, width: float) -> None:
        super().__init__()
        self.row, self.letters, self.width, self.height = row, letters, width, HIGH

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        wide = self.width / ABREAST
        for number, label in enumerate(self.row):
            ink(self.canv)
            self.canv.setLineWidth(HAIR)
            self.canv.rect(number * wide, 0, wide, self.height)
            self.draw_label(label, number * wide + EDGE, wide - 2 * EDGE)

    def draw_label(self, label: Label, x: float, room: float) -> None:
        code, size = self.letters.smaller(label.code, 15, 8, room)
        draw_text(self.canv, self.letters, x, self.height - 17, code, size, bold=size > 8)
        title, size = self.letters.smaller(label.title, 10, 7, room)
        draw_text(self.canv, self.letters, x, self.height - 30, title, size)
        level = self.height - 42
        for line in label.lines:
            text, size = self.letters.smaller(line, 8.5, 6.5, room)
            draw_text(self.canv, self.letters, x, level, text, size, grey=0.2)
            level -= 11
