"""Ovals of a first design: girths, points at shares of them, and the way of a string behind them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from cage3d.design.first.ovals import Oval


def test_girths_of_ovals() -> None:
    """A circle; and half of an ellipse of 2 to 1, 9.688448 round, before half a circle of radius 2."""
    assert Oval(1.5, 1.5, 1.5).girth == pytest.approx(3 * math.pi, rel=2e-6)
    assert Oval(2.0, 1.0, 2.0).girth == pytest.approx(9.688448 / 2 + 2 * math.pi, rel=2e-6)


def test_points_at_shares_of_the_girth() -> None:
    """Centre front, her left, the back and her right of a circle; an eighth round lies at 45 degrees."""
    found = Oval(3.0, 3.0, 3.0).at(np.array([0.0, 0.25, 0.5, 0.75, 0.125]))
    slant = 3.0 * math.sqrt(0.5)
    assert found == pytest.approx(np.array([[0, -3], [3, 0], [0, 3], [-3, 0], [slant, -slant]]), abs=1e-5)


def test_the_way_of_a_string_behind_a_circle() -> None:
    """From (2, -1) to (-2, -1) behind a circle of 1: two tangents of 2, and an arc.

    The point lies sqrt(5) from the middle, 116.565 degrees from the back, and its tangent touches acos(1/sqrt 5),
    63.435 degrees, nearer to it: the arc is twice 53.130 degrees.
    """
    way = Oval(1.0, 1.0, 1.0).way_behind(np.array([2.0, -1.0]), np.array([-2.0, -1.0]))
    assert way == pytest.approx(4.0 + 2 * math.radians(53.130102), rel=1e-5)


def test_a_way_that_meets_nothing_is_straight() -> None:
    """Two points behind the circle see one another: half way down the string would be at y = 2."""
    assert Oval(1.0, 1.0, 1.0).way_behind(np.array([1.0, 2.0]), np.array([-1.0, 2.0])) == pytest.approx(2.0)
