"""The document: header and footer of every page, sections, page numbers, the same bytes each time."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from cage3d.errors import CommandError, Problem
from cage3d.sheets.paper.drawing import draw_text, ink
from cage3d.sheets.paper.fonts import PLAIN, Letters
from cage3d.sheets.paper.sizes import FOOTER, HEADER, MARGIN, Paper

LAST_SECOND = 253402300799  # the last of the year 9999: a PDF's date has four digits for the year


@dataclass(frozen=True)
class Identity:
    """What every page says of the design."""

    name: str
    production: str
    wearer: str
    checksum: str  # of the design, so that sheets of two versions are told apart; empty where there is none


@dataclass
class Numbering:
    """Page numbers, known after the pages were laid out once."""

    pages: int = 0
    sections: dict[str, int] = field(default_factory=dict)


Story = Callable[[Numbering], list[Flowable]]


class Chapter(Flowable):  # type: ignore[misc]
    """Marks where a section begins: named in the header and the contents."""

    def __init__(self, title: str) -> None:
        super().__init__()
        self.title = title
        self.width = self.height = 0.0

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return 0.0, 0.0

    def draw(self) -> None:
        self.canv.bookmarkPage(self.title)
        self.canv.addOutlineEntry(self.title, self.title, 0)


class Unwritten(Canvas):  # type: ignore[misc]
    """Pages that are only counted: packing them would be half of the work again."""

    def save(self) -> None:
        pass


class Document(BaseDocTemplate):  # type: ignore[misc]
    """Counts pages and sections while it draws."""

    def __init__(self, paper: Paper, identity: Identity, letters: Letters, known: Numbering) -> None:
        self.buffer = BytesIO()
        super().__init__(
            self.buffer,
            pagesize=(paper.width, paper.height),
            title=f"{identity.name}: making sheets" if identity.checksum else identity.name,
            author="",
            subject="Cutting list, marking strips at full size, materials, assembly, fitting record",
            creator="cage3d",
            producer="cage3d",
            lang="en",
            displayDocTitle=1,
            printScaling="None",
            initialFontName=PLAIN,  # else every page names Helvetica, which is not embedded
            invariant=1,  # the same date every time, or that of SOURCE_DATE_EPOCH
        )
        self.paper, self.identity, self.letters, self.known = paper, identity, letters, known
        self.found = Numbering()
        self.section = ""
        frame = Frame(*paper.frame, leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0)
        self.addPageTemplates(PageTemplate(frames=[frame], onPageEnd=self._finish))

    def afterFlowable(self, flowable: Flowable) -> None:
        if isinstance(flowable, Chapter):
            self.section = flowable.title
            self.found.sections[flowable.title] = self.page

    def _finish(self, canvas: Canvas, _document: Any) -> None:
        self.found.pages = max(self.found.pages, self.page)
        header(canvas, self.paper, self.letters, self.section, self.identity.name)
        footer(canvas, self.paper, self.letters, self.identity, f"Page {self.page} of {self.known.pages}")


def header(canvas: Canvas, paper: Paper, letters: Letters, section: str, name: str) -> None:
    top = paper.height - MARGIN - 9
    ink(canvas)
    used = draw_text(canvas, letters, MARGIN, top, section, 8, bold=True)
    room = paper.width - 2 * MARGIN - used - 24
    short = letters.shortened(name, 8, room)
    draw_text(canvas, letters, paper.width - MARGIN, top, short, 8, align="right")
    canvas.setLineWidth(0.5)
    canvas.line(
        MARGIN, paper.height - MARGIN - HEADER + 11, paper.width - MARGIN, paper.height - MARGIN - HEADER + 11
    )


def footer(canvas: Canvas, paper: Paper, letters: Letters, identity: Identity, number: str) -> None:
    level = MARGIN + FOOTER - 17
    used = draw_text(canvas, letters, paper.width - MARGIN, level, number, 10, bold=True, align="right")
    words = [identity.production, identity.wearer]
    if identity.checksum:
        words += [f"design {identity.checksum}", "predictions, not a safety certificate"]
    text = " · ".join(word for word in words if word)
    room = paper.width - 2 * MARGIN - used - 18
    draw_text(canvas, letters, MARGIN, level, letters.shortened(text, 7, room), 7, grey=0.35)


def refuse_date() -> None:
    """Raises CommandError where SOURCE_DATE_EPOCH, the date that reportlab gives a PDF, is no date."""
    asked = os.environ.get("SOURCE_DATE_EPOCH", "").strip()
    if asked and not (
        asked.isascii() and asked.isdecimal() and len(asked) < 13 and int(asked) <= LAST_SECOND
    ):
        why = "the date of the PDF is written as whole seconds since 1970"
        raise CommandError(
            Problem("SOURCE_DATE_EPOCH", asked[:40], why, "Write 946684800, for instance, or unset it")
        )


def bound(paper: Paper, identity: Identity, letters: Letters, story: Story) -> bytes:
    """The PDF: laid out once to count the pages, then drawn with their numbers."""
    counted = Document(paper, identity, letters, Numbering())
    counted.build(story(counted.known), canvasmaker=Unwritten)
    document = Document(paper, identity, letters, counted.found)
    document.build(story(document.known))
    return document.buffer.getvalue()
