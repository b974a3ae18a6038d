"""The first page's squares and every casing line, measured as a maker would: pages laid cross on cross."""

from __future__ import annotations

from collections import defaultdict
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from made import POINT, SAMPLES, Page, hung_hard, hung_sample, pages_of, sample, sheets_of, sheets_of_hard

from cage3d.design.models import Design
from cage3d.shape.lay_out import lay_out
from cage3d.sheets.tapes import tape_sets

TRUE = 0.0002  # m, within which everything must measure right
SAME = 0.5  # pt
PAPERS = {"a4": (0.210, 0.297), "letter": (0.2159, 0.2794), "a3": (0.297, 0.420)}


def strip_pages(pages: list[Page]) -> list[list[Page]]:
    """Pages of strips in groups that are laid together, each from part 1 on."""
    groups: list[list[Page]] = []
    for page in pages:
        if "Full size. Casings" in page.text:
            if "Part 1 of" in page.text:
                groups.append([])
            groups[-1].append(page)
    return groups


def crosses(page: Page) -> list[tuple[float, float]]:
    """Middles of the registration circles, from the top."""
    middles = [((c["x0"] + c["x1"]) / 2, (c["top"] + c["bottom"]) / 2) for c in page.curves]
    return sorted(middles, key=lambda place: (place[1], place[0]))


def joined(group: list[Page]) -> list[float]:
    """How far each page is moved down (pt) until its upper crosses lie on the lower ones before it."""
    shifts = [0.0]
    for before, after in pairwise(group):
        below, above = crosses(before)[-2:], crosses(after)[:2]
        assert [x for x, _ in below] == pytest.approx([x for x, _ in above], abs=0.01)
        shifts.append(shifts[-1] + below[0][1] - above[0][1])
    return shifts


def strips_of(group: list[Page]) -> dict[int, tuple[float, list[float]]]:
    """For each strip by its left edge (pt): its zero and its casing lines, m from the top of part 1."""
    thick: dict[int, list[float]] = defaultdict(list)
    thin: dict[int, list[float]] = defaultdict(list)
    tapes = {round(line["x0"]) for page in group for line in page.lines if line["linewidth"] > 1.5}
    for page, shift in zip(group, joined(group), strict=True):
        for line in page.lines:
            level = abs(line["top"] - line["bottom"]) < 0.01 and line["x1"] - line["x0"] > 30
            if not level or round(line["x0"]) not in tapes or dashed(line):
                continue
            kind = thick if line["linewidth"] > 1.5 else thin
            kind[round(line["x0"])].append(line["top"] + shift)
    # The zero is the second of the thick lines: cut, zero, cut.
    return {x: (merged(thick[x])[1], merged(thin[x])) for x in sorted(tapes)}


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
    """For each set of equal tapes: every casing line, m from the zero, straight from the design's marks."""
    marks = lay_out(design).marks
    rows = [one.tapes[0] - 1 for one in tape_sets(lay_out(design))]
    return [sorted([*marks.upper[row], *marks.lower[row]]) for row in rows]


def assert_lines_are_true(pdf: bytes, design: Design) -> None:
    strips = [strip for group in strip_pages(pages_of(pdf)) for strip in strips_of(group).values()]
    wanted = wanted_lines(design)
    assert len(strips) == len(wanted)
    for (zero, lines), row in zip(strips, wanted, strict=True):
        assert [(line - zero) * POINT for line in lines] == pytest.approx(row, abs=TRUE)


EVERY = [(path, "a4") for path in SAMPLES] + [(sample("d"), "letter"), (sample("d"), "a3")]


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
    assert squares[0] == pytest.approx((0.1, 0.1), abs=1e-5)
    assert squares[1] == pytest.approx((0.1016, 0.1016), abs=1e-5)
    assert pages[0].text.count("measure me before") == 2
    for page in pages:
        assert (page.width * POINT, page.height * POINT) == pytest.approx(PAPERS[paper], abs=1e-5)


def test_the_tapes_edges_are_as_far_apart_as_the_tape_is_wide() -> None:
    settled, _ = hung_sample(SAMPLES[0])
    page = strip_pages(pages_of(sheets_of(SAMPLES[0]).pdf))[0][0]
    upright = sorted({round(line["x0"], 2) for line in page.lines if abs(line["x0"] - line["x1"]) < 0.01 and
                      line["bottom"] - line["top"] > 200})  # fmt: skip
    assert (upright[1] - upright[0]) * POINT == pytest.approx(settled.cage.design.tapes.width, abs=1e-5)
