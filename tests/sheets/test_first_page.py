"""The cage as it is drawn on the first page: numbers, ties, and that it is drawn as it hangs."""

from __future__ import annotations

import numpy as np
import pytest
from made import POINT, hung_sample, pages_of, sample, sheets_of

from cage3d.sheets.outline import FRONT, LEFT, PLAN, outline_of
from cage3d.sheets.pages.cage import runs


def test_hoops_tapes_and_ties_of_the_egg_are_drawn() -> None:
    settled, report = hung_sample(sample("d"))
    outline = outline_of(settled)
    assert (len(outline.hoops), len(outline.tapes), len(outline.ties)) == (
        6,
        10,
        5,
    )  # two ties, a panel laced on three hoops
    # The waistband goes all the way round, and measures so.
    assert outline.band[0] == pytest.approx(outline.band[-1], abs=1e-9)
    round_her = float(np.linalg.norm(np.diff(outline.band, axis=0), axis=1).sum())
    assert round_her == pytest.approx(settled.cage.design.wearer.waist, rel=2e-3)
    for tie, told in zip(outline.ties, report.ties, strict=True):
        # A tie is no longer than it is made, and as long where it pulls.
        assert float(np.linalg.norm(np.diff(tie, axis=0), axis=1).sum()) <= told.length_m + 1e-6
    for hoop, told in zip(outline.hoops, report.hoops, strict=True):
        assert float(np.ptp(hoop[:, 0])) == pytest.approx(told.width_side_side_m, abs=0.0005)
        assert float(np.ptp(hoop[:, 1])) == pytest.approx(told.width_front_back_m, abs=0.0005)


def test_the_page_numbers_every_hoop_and_tape() -> None:
    page = pages_of(sheets_of(sample("d")).pdf)[0]
    words = [word for word in page.words if word["top"] < 330]
    numbers = [word["text"] for word in words]
    assert [numbers.count(str(number)) for number in range(1, 7)] == [
        3
    ] * 6  # two views of hoops, tapes in the plan
    assert [numbers.count(str(number)) for number in range(7, 11)] == [1] * 4
    assert "From the front" in page.text
    drawn = [*page.lines, *page.curves]
    dashed = [line for line in drawn if line.get("dash") and line["dash"][0]]
    assert len(dashed) == 3 * 5, "each tie and lace in each view"


def test_her_left_is_right_seen_from_the_front_and_her_back_is_right_seen_from_her_left() -> None:
    left, back, far = (
        np.array([[0.3, 0.0, 1.0]]),
        np.array([[0.0, 0.4, 1.0]]),
        np.array([[0.1, 0.2, 0.5]] * 2),
    )
    assert FRONT.flat(left).tolist() == [[0.3, 1.0]]
    assert LEFT.flat(back).tolist() == [[0.4, 1.0]]
    assert PLAN.flat(back).tolist() == [[0.0, 0.4]]
    assert FRONT.behind(far).tolist() == [True]  # at her back
    assert LEFT.behind(far).tolist() == [False]  # on her left
    assert LEFT.behind(-far).tolist() == [True]
    assert PLAN.behind(far).tolist() == [False]


def test_shown_stretches_are_lines_from_point_to_point() -> None:
    flat = np.arange(10.0).reshape(5, 2)
    shown = np.array([True, True, False, True])
    assert runs(flat, shown) == [[[0, 1], [2, 3], [4, 5]], [[6, 7], [8, 9]]]


def test_the_views_leave_the_paper_to_the_rest() -> None:
    """Both squares and both lines stand under the drawing, on the upper two thirds of the page."""
    page = pages_of(sheets_of(sample("c")).pdf)[0]
    assert all(rect["bottom"] * POINT < 0.2 for rect in page.rects)
