"""Text and lines on a page, and the look of paragraphs and tables."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal

from reportlab.lib.colors import Color, black, white
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, KeepTogether, Paragraph, Spacer, Table, TableStyle

from cage3d.sheets.paper.fonts import BOLD, PLAIN, Letters

HAIR, THIN, THICK = 0.4, 0.8, 1.6  # pt
PALE = Color(0.93, 0.93, 0.93)
GREY = Color(0.45, 0.45, 0.45)

BODY = ParagraphStyle("body", fontName=PLAIN, fontSize=9.5, leading=13.5)
SMALL = ParagraphStyle("small", fontName=PLAIN, fontSize=8, leading=11, textColor=Color(0.25, 0.25, 0.25))
HEAD = ParagraphStyle("head", fontName=BOLD, fontSize=8, leading=10)
HEAD_RIGHT = ParagraphStyle("head right", parent=HEAD, alignment=TA_RIGHT)
CELL = ParagraphStyle("cell", fontName=PLAIN, fontSize=10, leading=13)
CELL_RIGHT = ParagraphStyle("cell right", parent=CELL, alignment=TA_RIGHT)
NUMBER = ParagraphStyle("number", fontName=BOLD, fontSize=15, leading=18)
FIGURE = ParagraphStyle("figure", fontName=BOLD, fontSize=15, leading=18, alignment=TA_RIGHT)
TITLE = ParagraphStyle("title", fontName=BOLD, fontSize=19, leading=23, spaceAfter=5)
SUBTITLE = ParagraphStyle("subtitle", fontName=BOLD, fontSize=12, leading=15, spaceBefore=9, spaceAfter=3)

# A cell names a font even where a paragraph fills it: without this Helvetica, which is not embedded.
OWN_LETTERS = ("FONTNAME", (0, 0), (-1, -1), PLAIN)

Align = Literal["left", "right", "middle"]


def ink(canvas: Canvas, grey: float = 0.0) -> None:
    """Lines and letters in black, or grey."""
    canvas.setStrokeGray(grey)
    canvas.setFillGray(grey)


def draw_text(
    canvas: Canvas,
    letters: Letters,
    x: float,
    y: float,
    text: str,
    size: float,
    bold: bool = False,
    align: Align = "left",
    grey: float = 0.0,
) -> float:
    """One line at (x, y) pt in any script; returns its width in pt."""
    width = letters.width(text, size, bold)
    x -= {"left": 0.0, "right": width, "middle": width / 2.0}[align]
    canvas.setFillGray(grey)
    for font, run in letters.runs(text, bold):
        canvas.setFont(font, size)
        canvas.drawString(x, y, run)
        x += canvas.stringWidth(run, font, size)
    return width


def text_block(
    canvas: Canvas,
    letters: Letters,
    x: float,
    y: float,
    width: float,
    text: str,
    size: float,
    bold: bool = False,
) -> float:
    """Lines of a text from (x, y), the first line's foot, downwards; returns the y of the next line."""
    for line in letters.wrapped(text, size, width, bold):
        draw_text(canvas, letters, x, y, line, size, bold)
        y -= size * 1.35
    return y


def say(letters: Letters, text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """A paragraph in any script."""
    return Paragraph(letters.markup(text, style.fontName == BOLD), style)


def bold_then(letters: Letters, first: str, rest: str, style: ParagraphStyle = BODY) -> Paragraph:
    """A paragraph that begins in bold."""
    return Paragraph(letters.markup(first, True) + letters.markup(f" {rest}"), style)


def table(
    rows: Sequence[Sequence[Any]],
    widths: Sequence[float],
    head: int = 1,
    extra: Sequence[tuple[Any, ...]] = (),
) -> Table:
    """A table with a rule under its head and hairlines between its rows; heads repeat on every page."""
    style: list[tuple[Any, ...]] = [
        OWN_LETTERS,
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
        ("VALIGN", (0, 0), (-1, head - 1), "BOTTOM"),
        ("LEFTPADDING", (0, 0), (-1, -1), 3),
        ("RIGHTPADDING", (0, 0), (-1, -1), 3),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
        ("LINEBELOW", (0, head), (-1, -1), HAIR, GREY),
        ("LINEBELOW", (0, head - 1), (-1, head - 1), THIN, black),
        *extra,
    ]
    return Table(rows, colWidths=list(widths), repeatRows=head, style=TableStyle(style), hAlign="LEFT")


def caution(letters: Letters, title: str, text: str, width: float) -> Table:
    """A boxed caution with a warning triangle."""
    words = bold_then(letters, f"{title}.", text, CELL)
    box = Table([[Triangle(), words]], colWidths=[11 * mm, width - 11 * mm], hAlign="LEFT")
    box.setStyle(
        TableStyle(
            [
                OWN_LETTERS,
                ("BOX", (0, 0), (-1, -1), THIN, black),
                ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
                ("LEFTPADDING", (0, 0), (-1, -1), 6),
                ("RIGHTPADDING", (0, 0), (-1, -1), 6),
                ("TOPPADDING", (0, 0), (-1, -1), 4),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 6),
            ]
        )
    )
    return box


class Triangle(Flowable):  # type: ignore[misc]
    """A warning triangle with its mark."""

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return 7 * mm, 6.2 * mm

    def draw(self) -> None:
        canvas = self.canv
        path = canvas.beginPath()
        path.moveTo(0, 0)
        path.lineTo(7 * mm, 0)
        path.lineTo(3.5 * mm, 6.2 * mm)
        path.close()
        canvas.setLineWidth(THICK)
        canvas.setLineJoin(1)
        canvas.setStrokeColor(black)
        canvas.setFillColor(white)
        canvas.drawPath(path, fill=1, stroke=1)
        canvas.setFillColor(black)
        canvas.rect(3.5 * mm - 0.8, 2.1 * mm, 1.6, 2.2 * mm, stroke=0, fill=1)
        canvas.circle(3.5 * mm, 1.2 * mm, 1.0, stroke=0, fill=1)


class Box(Flowable):  # type: ignore[misc]
    """An empty box to tick or to write in, in pt."""

    def __init__(self, width: float, height: float) -> None:
        super().__init__()
        self.width, self.height = width, height

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        self.canv.setLineWidth(THIN)
        self.canv.setStrokeColor(black)
        self.canv.rect(0, 0, self.width, self.height)


def together(*parts: Flowable) -> KeepTogether:
    return KeepTogether(list(parts))


def gap(height: float) -> Spacer:
    """Blank, in mm."""
    return Spacer(1, height * mm)
