"""Rounding, choosing and ordering that noise in the last bits cannot turn; values by hand."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from cage3d import units
from cage3d.foresee.sensitivity import mark_effects
from cage3d.report.curves import side_word
from cage3d.steady import exceeds, falling, first_largest, first_least, fixed, percent, rising, steady

NOISES = (-1e-9, -1e-15, 0.0, 1e-15, 1e-9)


@pytest.mark.parametrize("edge", [0.0625, 0.05, 2.5, 0.15, 1.0045])
def test_a_figure_on_the_edge_is_rounded_one_way(edge):
    for digits in (0, 1, 2, 3):
        assert len({steady(edge + noise, digits) for noise in NOISES}) == 1


def test_a_figure_off_the_edge_is_rounded_as_ever():
    assert [steady(value, 1) for value in (0.26, 0.24, -0.26, 1234.5678)] == [0.3, 0.2, -0.3, 1234.6]


@pytest.mark.parametrize("noise", NOISES)
def test_nothing_is_written_as_minus_nought(noise):
    assert (fixed(noise, 1), fixed(-0.04, 1), percent(-0.001)) == ("0.0", "0.0", "0%")
    assert units.show_mm(-4e-5) == "0"
    assert units.show_length(noise, "in") == "0 in"


@pytest.mark.parametrize("sixteenths", [1, 3, 5, 333])
def test_a_sixteenth_to_eighths_is_rounded_one_way(sixteenths):
    edge = sixteenths / 16 * 0.0254
    for design_units in ("in", "ft"):
        assert len({units.show_length(edge + noise, design_units) for noise in NOISES}) == 1


def test_feet_carry_where_inches_round_up_to_twelve():
    # 11 15/16 in lies on the edge between 11 7/8 in and 1 ft; the even eighth is the foot.
    shown = {units.show_length(11.9375 * 0.0254 + noise, "ft") for noise in NOISES}
    assert shown == {"1' 0\""}
    assert units.show_length(11.9 * 0.0254, "ft") == "0' 11 7/8\""


def test_of_equals_the_first_is_chosen():
    values = np.array([1.0, 5.0 - 1e-12, 2.0, 5.0, 5.0 - 1e-10])
    assert first_largest(values) == 1
    assert first_least(-values) == 1
    assert first_largest([1.0, 5.0, 5.001]) == 2
    assert first_largest([float("nan"), 1.0, 2.0]) == 2


def test_equals_stay_in_order():
    values = [3.0, 1.0 + 1e-12, 3.0 + 1e-12, 1.0, 2.0]
    assert rising(values) == [1, 3, 4, 0, 2]
    assert falling(values) == [0, 2, 4, 1, 3]


def test_how_near_counts_as_equal_may_be_said():
    values = [1.0, 2.0 - 1e-6, 2.0]
    assert falling(values) == [2, 1, 0]
    assert falling(values, 1e-5) == [1, 2, 0]
    assert rising(values, 1e-7) == [0, 1, 2]


def test_a_limit_that_is_met_is_not_exceeded():
    assert not any(exceeds(0.1524 + noise, 0.1524) for noise in NOISES)
    assert exceeds(0.1525, 0.1524)


def test_a_place_between_two_words_has_one_of_them():
    turns = np.pi / 8 + np.array(NOISES)
    assert {side_word(float(np.sin(turn)), -float(np.cos(turn))) for turn in turns} == {"front"}


def test_equal_marks_come_by_tape_and_hoop(plain_cage):
    """A cage alike to her left and right: tape t and its mirror image T + 1 - t move the hem alike."""
    pairs = list(pairwise(mark_effects(plain_cage)))
    assert all(before.most > after.most - 1e-6 for before, after in pairs)
    alike = [(before, after) for before, after in pairs if before.most - after.most < 1e-8]
    assert len(alike) >= len(pairs) // 3
    assert all((before.tape, before.hoop) < (after.tape, after.hoop) for before, after in alike)


@pytest.fixture(scope="module")
def plain_cage():
    from hung import plain

    return plain()[1]
