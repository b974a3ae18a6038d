"""The first page's squares and every casing line, measured as a maker would: pages laid cross on cross."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from made import POINT, Page, hung_hard, hung_sample, pages_of, sample, sheets_of, sheets_of_hard
from settled import ON_TAPES

from cage3d.design.models import Design
from cage3d.shape.lay_out import lay_out
from cage3d.sheets.tapes import tape_sets

TRUE = 0.0002  # m, within which everything must measure right
SAME = 0.5  # pt
PAPERS = {"a4": (0.210, 0.297), "letter": (0.2159, 0.2794), "a3": (0.297, 0.420)}


@dataclass(frozen=True)
class Stretch:
    """One part of a strip: the page it is on and its two edges (pt)."""

    page: Page
    left: float
    right: float

    def holds(self, thing: dict[str, Any]) -> bool:
        return bool(self.left - SAME <= thing["x0"] and thing["x1"] <= self.right + SAME)

    @property
    def heading(self) -> str:
        """What stands over it."""
        words = [w for w in self.page.words if self.left - SAME <= w["x0"] < self.right and w["top"] < 90]
        return " ".join(word["text"] for word in words)


def stretches(page: Page) -> list[Stretch]:
    """The strips of a page from left to right."""
    upright = sorted(
        line["x0"]
        for line in page.lines
        if abs(line["x0"] - line["x1"]) < 0.01 and line["bottom"] - line["top"] > 20
    )
    return [Stretch(page, left, right) for left, right in zip(upright[::2], upright[1::2], strict=True)]


def strips_in(pages: list[Page]) -> list[list[Stretch]]:
    """The parts of each strip, in the order in which they are laid on each other."""
    strips: list[list[Stretch]] = []
    for page in pages:
        if "Full size. Casings" not in page.text:
            continue
        for stretch in stretches(page):
            if "part 1 of" in stretch.heading or "whole" in stretch.heading:
                strips.append([])
            strips[-1].append(stretch)
    return strips


def crosses(stretch: Stretch) -> list[tuple[float, float]]:
    """Middles of the registration circles from the strip's left edge, from the top."""
    middles = [
        ((c["x0"] + c["x1"]) / 2 - stretch.left, (c["top"] + c["bottom"]) / 2)
        for c in stretch.page.curves
        if stretch.holds(c)
    ]
    return sorted(middles, key=lambda place: place[1])


def joined(parts: list[Stretch]) -> list[float]:
    """How far each part is moved down (pt) until its upper cross lies on the lower one before it."""
    shifts = [0.0]
    for before, after in pairwise(parts):
        below, above = crosses(before)[-1], crosses(after)[0]
        assert below[0] == pytest.approx(above[0], abs=0.01)
        shifts.append(shifts[-1] + below[1] - above[1])
    return shifts


def lines_of(parts: list[Stretch]) -> tuple[float, list[float]]:
    """The zero and the casing lines of one strip, pt from the top of its first page."""
    thick: list[float] = []
    thin: list[float] = []
    for stretch, shift in zip(parts, joined(parts), strict=True):
        for line in stretch.page.lines:
            level = abs(line["top"] - line["bottom"]) < 0.01
            across = abs(line["x0"] - stretch.left) < SAME and abs(line["x1"] - stretch.right) < SAME
            if level and across and not dashed(line):
                (thick if line["linewidth"] > 1.5 else thin).append(line["top"] + shift)
    # The zero is the second of the thick lines: cut, zero, cut.
    return merged(thick)[1], merged(thin)


def dashed(line: dict[str, Any]) -> bool:
    return bool(line.get("dash") and line["dash"][0])


def merged(places: list[float]) -> list[float]:
    """Rising places; what is drawn on two pages that overlap counts once."""
    out: list[float] = []
    for place in sorted(places):
        if not out or place - out[-1] > SAME:
            out.append(place)
    return out


def wanted_lines(design: Design) -> list[list[float]]:
    """For each set of equal tapes: every casing line, m from the zero, straight from the design's marks.

    Hoops that a tape does not pass have no mark on it; those that meet have one casing.
    """
    marks = lay_out(design).marks
    rows = [one.tapes[0] - 1 for one in tape_sets(lay_out(design))]
    places = [np.concatenate([marks.upper[row], marks.lower[row]]) for row in rows]
    return [sorted(set(place[~np.isnan(place)].tolist())) for place in places]


def assert_lines_are_true(pdf: bytes, design: Design) -> None:
    strips = [lines_of(parts) for parts in strips_in(pages_of(pdf))]
    wanted = wanted_lines(design)
    assert len(strips) == len(wanted)
    for (zero, lines), row in zip(strips, wanted, strict=True):
        assert [(line - zero) * POINT for line in lines] == pytest.approx(row, abs=TRUE)


EVERY = [(path, "a4") for path in ON_TAPES] + [(sample("d"), "letter"), (sample("d"), "a3")]


@pytest.mark.parametrize(("path", "paper"), EVERY, ids=lambda value: getattr(value, "stem", value))
def test_every_casing_line_lies_where_the_design_has_it(path: Path, paper: str) -> None:
    assert_lines_are_true(sheets_of(path, paper).pdf, hung_sample(path)[0].cage.design)


def test_casing_lines_of_many_narrow_strips_are_true() -> None:
    settled, _ = hung_hard()
    assert_lines_are_true(sheets_of_hard().pdf, settled.cage.design)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_squares_and_the_paper_measure_right(paper: str) -> None:
    pages = pages_of(sheets_of(sample("d"), paper).pdf)
    squares = sorted((rect["width"] * POINT, rect["height"] * POINT) for rect in pages[0].rects)
    assert squares[0] == pytest.approx((0.050, 0.050), abs=1e-5)
    assert squares[1] == pytest.approx((0.0508, 0.0508), abs=1e-5)
    lengths = [abs(line["x1"] - line["x0"]) * POINT for line in pages[0].lines]
    for long in (0.1, 0.1016):
        assert min(abs(length - long) for length in lengths) < 1e-5
    assert pages[0].text.count("measure me before") == 2
    for page in pages:
        assert (page.width * POINT, page.height * POINT) == pytest.approx(PAPERS[paper], abs=1e-5)


def test_the_tapes_edges_are_as_far_apart_as_the_tape_is_wide() -> None:
    settled, _ = hung_sample(ON_TAPES[0])
    for part in strips_in(pages_of(sheets_of(ON_TAPES[0]).pdf))[0]:
        assert (part.right - part.left) * POINT == pytest.approx(settled.cage.design.tapes.width, abs=1e-5)


def test_parts_lie_side_by_side() -> None:
    """Five strips of four to five parts, of which a page holds 238 mm with 8 mm to overlap: 21 parts, seven abreast."""
    pages = pages_of(sheets_of(sample("d")).pdf)
    assert len([page for page in pages if "Full size. Casings" in page.text]) == 3
    short = pages_of(sheets_of(sample("a")).pdf)
    assert len([page for page in short if "Full size. Casings" in page.text]) == 1
    for parts in strips_in(pages):
        assert len({id(part.page) for part in parts}) <= 2
