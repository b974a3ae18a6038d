"""On which side of the wearer a tape, tie or lace goes, and where the search for its way begins: by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from lines_alone import weights_on_a_string

from cage3d.settle.contact import FormGap
from cage3d.settle.terms.lying import lie_anew
from cage3d.settle.terms.over_wearer import nearest_to_axis, over_wearer_of, sides_of
from cage3d.settle.terms.string import Strings, meeting, pieces_of, pushed_out, round_the_side
from cage3d.shape.cage import Connectivity
from cage3d.shape.form import Form, Oval

CYLINDER = Form(tuple(Oval(height, 0.15, 0.15, 2.0) for height in (2.0, 1.2, 0.0)))


def hung_on(ends: np.ndarray) -> Connectivity:
    """One pull between two ends (1, 2, 3), neither on a waistband."""
    joined = weights_on_a_string([1.0], [0.1, 0.1], (0.0, 2.0), (0.1, 2.0)).connectivity
    return replace(joined, pulls=np.array([[0, 0]]), pull_sides=np.full((len(ends), 2), np.nan))


# Ends seen from above (x to her left, y to her back), and the way from the axis to the line between them.
LINES = {
    "behind her": ([0.3, 0.1], [-0.3, 0.1], [0.0, 1.0]),
    "before her": ([0.3, -0.1], [-0.3, -0.1], [0.0, -1.0]),
    "on her right": ([-0.2, 0.3], [-0.2, -0.3], [-1.0, 0.0]),
    # 0.1 (0.6, 0.8) and 0.3 to both hands along (-0.8, 0.6).
    "aslant": ([-0.18, 0.26], [0.30, -0.10], [0.6, 0.8]),
    "through her from left to right": ([0.3, 0.0], [-0.3, 0.0], [0.0, 1.0]),
    "through her from right to left": ([-0.3, 0.0], [0.3, 0.0], [0.0, 1.0]),
    "through her from front to back": ([0.0, -0.3], [0.0, 0.3], [1.0, 0.0]),
    "half a millimetre before her axis": ([0.3, -0.0005], [-0.3, -0.0005], [0.0, 1.0]),
    "two millimetres before her axis": ([0.3, -0.002], [-0.3, -0.002], [0.0, -1.0]),
}


@pytest.mark.parametrize("line", LINES)
def test_a_line_goes_by_the_side_on_which_it_passes(line: str) -> None:
    start, end, side = LINES[line]
    ends = np.array([[[*start, 1.0], [*end, 0.8]]])
    assert sides_of(ends)[0] == pytest.approx([*side, 0.0])


def test_a_line_that_ends_before_it_passes_is_nearest_at_its_end() -> None:
    ends = np.array([[[0.2, 0.1, 1.0], [0.5, 0.1, 1.0]], [[0.5, -0.1, 1.0], [0.2, -0.1, 1.0]]])
    assert nearest_to_axis(ends).ravel() == pytest.approx([0.2, 0.1, 0.2, -0.1])


def test_a_string_of_eight_millimetre_pieces() -> None:
    assert pieces_of(np.array([0.010, 0.064, 0.0641, 0.400, 0.401, 2.0])).tolist() == [8, 8, 9, 50, 51, 96]


def test_what_is_inside_her_is_pushed_out_to_her_back_and_the_rest_stays() -> None:
    """Pieces of 60 mm across a cylinder of 150 mm: y = sqrt(0.15^2 - x^2) at x = 0, 0.06 and 0.12."""
    ends = np.array([[[0.3, 0.0, 1.0], [-0.3, 0.0, 1.0]]])
    strings = Strings(np.array([10]), ends, np.zeros(1), 0.0)
    nodes = pushed_out(FormGap(CYLINDER), strings, np.array([[0.0, 1.0, 0.0]]))
    half = [0.0, 0.0, 0.09, 0.137477]
    assert nodes[:, 1] == pytest.approx([*half, 0.15, *half[::-1]], abs=1e-6)
    assert nodes[:, 0] == pytest.approx(np.linspace(0.24, -0.24, 9))
    assert nodes[:, 2] == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("side", "turned"), [([0.0, 1.0], 270.0), ([0.0, -1.0], 90.0)], ids=["behind", "before"]
)
def test_a_line_written_to_run_on_a_side_goes_round_her_there(side: list[float], turned: float) -> None:
    """Both ends 200 mm from the axis, 45 degrees to both hands of her front, and a cylinder of 150 mm between.

    Two tangents of sqrt(0.2^2 - 0.15^2) and between them an arc: what is turned, less arccos(0.15 / 0.2) twice.
    """
    flat = 0.2 * np.sqrt(0.5)
    ends = np.array([[[flat, -flat, 1.0], [-flat, -flat, 1.0]]])
    strings = Strings(np.array([96]), ends, np.zeros(1), 0.0)
    gap, sides = FormGap(CYLINDER), np.array([side])
    assert meeting(gap, strings)[0]
    start = round_the_side(gap, strings, sides)
    assert np.hypot(start[:, 0], start[:, 1]).min() > 0.1499
    arc = np.deg2rad(turned) - 2.0 * np.arccos(0.75)
    assert lie_anew(gap, strings, start).lengths[0] == pytest.approx(2.0 * 0.132288 + 0.15 * arc, rel=2e-4)


def test_a_tie_that_clears_her_in_front_is_led_behind_her_where_that_is_written() -> None:
    """Both ends 10 mm before a cylinder of 150 mm, 400 mm apart: straight, or two tangents and an arc behind her."""
    ends = np.array([[[0.2, -0.16, 1.0], [-0.2, -0.16, 1.0]]])
    joined, gap = hung_on(ends), FormGap(CYLINDER)
    asked = np.array([0.9])
    assert over_wearer_of(gap, asked, ends, joined).ways(ends) == ()
    behind = replace(joined, pull_sides=np.array([[0.0, 1.0]]))
    (way,) = over_wearer_of(gap, asked, ends, behind).ways(ends)
    away = np.hypot(0.2, 0.16)
    arc = 2.0 * np.pi - 2.0 * np.arctan2(0.2, 0.16) - 2.0 * np.arccos(0.1505 / away)
    assert way.lying.lengths[0] == pytest.approx(2.0 * np.sqrt(away**2 - 0.1505**2) + 0.1505 * arc, rel=1e-4)
    ((_, line),) = way.lines()
    assert line[:, 1].max() == pytest.approx(0.1505, abs=1e-4)
