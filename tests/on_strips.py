"""A page of marking strips for tests, and what is read back from it."""

from __future__ import annotations

from collections.abc import Collection
from types import SimpleNamespace
from typing import Any, cast

from on_paper import MM, Drawn, drawn

from cage3d.sheets.making import Making
from cage3d.sheets.pages.strips import StripPage
from cage3d.sheets.paper.fonts import letters
from cage3d.sheets.paper.sizes import paper_named
from cage3d.sheets.tapes import Casing, TapeSet
from cage3d.sheets.writing import Writing

A4 = paper_named("a4")
TOP = 256 * MM - 1  # pt, of what a page holds
HOLDS = 256 - 10.5 - 7 - 1 / MM  # mm of a strip
STEP = HOLDS - 8
# 25 mm into the band, 400 mm finished, 15 mm below: 440 mm on two pages.
CASINGS = (Casing(1, 0.150, 0.160, 0.175), Casing(2, 0.380, 0.400, 0.405))
TAPE = TapeSet("A", (1, 2), ("L", "L"), CASINGS, 0.400, 0.025, 0.015, 2, 0.440)
PART_2 = STEP - 25  # mm from the zero, where the second part begins


def page_of(width: float, *tiles: Any, inches: bool = False) -> Drawn:
    """width: mm, of the tape."""
    tapes = SimpleNamespace(width=width / 1000, casing=0.025)
    making = SimpleNamespace(writing=Writing(inches), design=SimpleNamespace(tapes=tapes, stuff="steel"))
    return drawn(StripPage(tiles, cast(Making, making), A4, letters()), 186 * MM, 256 * MM)


def y(along: float, start: float = -25.0) -> float:
    """pt from the page's foot. along, start: mm from the zero, of a place and of where the part begins."""
    return TOP - 10.5 * MM - (along - start) * MM


def level_lines(page: Drawn, right: float) -> dict[tuple[float, float, tuple[float, ...]], None]:
    """Lines across the strip from its left edge to `right` (mm): (y, width, dash), each to a tenth of a point."""
    return {
        (round(line.y, 1), line.wide, line.dash): None
        for line in page.lines
        if abs(line.y - line.to_y) < 0.01 and abs(line.x) < 0.02 and abs(line.to_x - right * MM) < 0.02
    }


def upright(page: Drawn) -> list[tuple[float, ...]]:
    """(x in mm, lower y, upper y) of the strip's edges."""
    return sorted(
        (round(line.x / MM, 2), round(line.y, 1), round(line.to_y, 1))
        for line in page.lines
        if abs(line.x - line.to_x) < 0.01 and line.to_y - line.y > 5 * MM and line.wide == 0.8
    )


def numbers(page: Drawn) -> dict[str, tuple[float, float, float]]:
    return {
        words.said: (words.left / MM, words.foot, words.grey)
        for words in page.words
        if words.size == 6 and not words.bold
    }


def rounded(values: Any) -> set[tuple[float, float, tuple[float, ...]]]:
    return {(round(level, 1), wide, dash) for level, wide, dash in values}


LABELS = frozenset({"cut", "0 band", "150", "hoop 1", "175", "380", "hoop 2", "405", "cut 440"})


def figures(
    page: Drawn, start: float, texts: Collection[str] = LABELS
) -> dict[str, tuple[float, float, float, bool]]:
    """What stands at a line: left (mm), where its middle lies along the tape (mm), size, weight."""
    return {
        words.said: (
            words.left / MM,
            (TOP - 10.5 * MM - words.foot - 0.36 * words.size) / MM + start,
            words.size,
            words.bold,
        )
        for words in page.words
        if words.said in texts
    }


def fitting(words: str, size: float, bold: bool, room: float, least: float = 6.5) -> float:
    """The size, by half points, at which words fit a room (pt)."""
    while letters().width(words, size, bold) > room and size > least:
        size -= 0.5
    return size
