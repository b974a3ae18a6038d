"""One drawing of the sheets alone on a page, read back as what stands where."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import pdfplumber
import pytest
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from cage3d.sheets.paper.fonts import letters

MM = 72.0 / 25.4  # pt
EDGE = 50.0  # pt, blank round what is drawn, so that nothing is lost at the paper's edge
NEAR = 0.011  # pt; a PDF holds two to six decimals
AGAIN = 2.0  # pt; letters further apart are two texts


@dataclass(frozen=True)
class Words:
    """One text in one go; pt from the drawing's lower left corner."""

    said: str
    left: float
    right: float
    foot: float
    size: float
    bold: bool
    grey: float

    @property
    def middle(self) -> float:
        return (self.left + self.right) / 2.0


@dataclass(frozen=True)
class Line:
    """A straight line from its left or lower end."""

    x: float
    y: float
    to_x: float
    to_y: float
    wide: float
    grey: float
    dash: tuple[float, ...]


@dataclass(frozen=True)
class Block:
    """A rectangle; fill and edge: grey, None where it has none."""

    x: float
    y: float
    wide: float
    tall: float
    line: float
    edge: float | None
    fill: float | None


@dataclass(frozen=True)
class Drawn:
    words: list[Words]
    lines: list[Line]
    blocks: list[Block]
    curves: list[dict[str, Any]]

    def find(self, said: str) -> Words:
        """The only text that says this."""
        (found,) = (words for words in self.words if words.said == said)
        return found


def drawn(flowable: Flowable, width: float = 500.0, height: float = 900.0) -> Drawn:
    """A flowable given this much room (pt)."""
    letters()

    def on(canvas: Canvas) -> None:
        flowable.wrapOn(canvas, width, height)
        flowable.drawOn(canvas, EDGE, EDGE)

    return drawn_by(on, width + 2 * EDGE, height + 2 * EDGE, EDGE)


def drawn_by(draw: Callable[[Canvas], None], width: float, height: float, edge: float = 0.0) -> Drawn:
    """What `draw` puts on a page of this size (pt); places from `edge` right of and above its corner."""
    letters()
    buffer = BytesIO()
    canvas = Canvas(buffer, pagesize=(width, height), initialFontName="SheetsPlain")
    draw(canvas)
    canvas.save()
    with pdfplumber.open(BytesIO(buffer.getvalue())) as document:
        (page,) = document.pages
        return Drawn(
            words_of(page.chars, edge),
            [line_of(line, edge, height) for line in page.lines],
            [block_of(rect, edge) for rect in page.rects],
            page.curves,
        )


def words_of(chars: Iterable[dict[str, Any]], edge: float) -> list[Words]:
    found: list[Words] = []
    for char in chars:
        foot = char["matrix"][5] - edge
        one = Words(
            char["text"], char["x0"] - edge, char["x1"] - edge, foot, round(char["size"], 4),
            "Bold" in char["fontname"], grey_of(char["non_stroking_color"]),
        )  # fmt: skip
        last = found[-1] if found else None
        if (
            last and abs(last.right - one.left) < AGAIN and abs(last.foot - one.foot) < NEAR
            and (last.size, last.bold, last.grey) == (one.size, one.bold, one.grey)
        ):  # fmt: skip
            found[-1] = Words(last.said + one.said, last.left, one.right, foot, one.size, one.bold, one.grey)
        else:
            found.append(one)
    return found


def grey_of(colour: Sequence[float] | float | None) -> float:
    if colour is None:
        return 0.0
    parts = [colour] if isinstance(colour, int | float) else list(colour)
    return float(parts[0]) if min(parts) == max(parts) else float("nan")  # sheets are black and white


def line_of(line: dict[str, Any], edge: float, tall: float) -> Line:
    """tall: pt, of the page."""
    (x, y), (to_x, to_y) = sorted((x, tall - down) for x, down in line["pts"])
    dash = line.get("dash")
    return Line(
        x - edge, y - edge, to_x - edge, to_y - edge, line["linewidth"], grey_of(line["stroking_color"]),
        tuple(dash[0]) if dash else (),
    )  # fmt: skip


def block_of(rect: dict[str, Any], edge: float) -> Block:
    return Block(
        rect["x0"] - edge, rect["y0"] - edge, rect["width"], rect["height"], rect["linewidth"],
        grey_of(rect["stroking_color"]) if rect["stroke"] else None,
        grey_of(rect["non_stroking_color"]) if rect["fill"] else None,
    )  # fmt: skip


Told = tuple[str, str, float, float, float, bool, float]  # said, which edge, its x, foot, size, bold, grey


def assert_words(page: Drawn, wanted: Sequence[Told]) -> None:
    """Each text where it should stand, in its size and weight; more may be drawn."""
    for said, edge, at, foot, size, bold, grey in wanted:
        same = [words for words in page.words if words.said == said]
        places = [
            (round(getattr(words, edge), 2), round(words.foot, 2), words.size, words.bold, words.grey)
            for words in same
        ]
        assert any(
            place
            == (
                pytest.approx(at, abs=0.02),
                pytest.approx(foot, abs=0.02),
                pytest.approx(size, abs=1e-3),
                bold,
                pytest.approx(grey),
            )
            for place in places
        ), f"{said!r} at {edge} {at}, {foot}, {size} pt: {places}"
