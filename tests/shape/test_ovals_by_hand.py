"""Ovals of any fullness by hand: where they lie, how long they are, and which has a measured girth."""

from __future__ import annotations

import numpy as np
import pytest

from cage3d.shape.form import (
    Oval,
    between_ovals,
    fuller_oval,
    power_of_fullness,
)
from cage3d.shape.ovals import at_fractions, girth_of, oval_points, scaled_to_girth


def test_an_oval_of_power_one_is_a_diamond() -> None:
    """Four sides of 5 to half axes of 3 and 4; from centre front by her left, and closed."""
    points = oval_points(3.0, 4.0, 1.0)
    assert points.shape == (4097, 2)
    assert girth_of(points) == pytest.approx(20.0, rel=1e-6)
    assert points[[0, 1024, 2048, 3072, 4096]] == pytest.approx(
        np.array([[0, -4], [3, 0], [0, 4], [-3, 0], [0, -4]]), abs=1e-9
    )
    eighths = at_fractions(points, np.array([0.125, 0.375, 0.625, 0.875, 1.125]))
    assert eighths == pytest.approx(
        np.array([[1.5, -2], [1.5, 2], [-1.5, 2], [-1.5, -2], [1.5, -2]]), abs=1e-5
    )


def test_a_fuller_oval_lies_where_its_equation_says() -> None:
    x, y = oval_points(3.0, 2.0, 3.0).T
    assert np.abs(x / 3) ** 3 + np.abs(y / 2) ** 3 == pytest.approx(1.0)
    assert (np.ptp(x), np.ptp(y)) == pytest.approx((6.0, 4.0))


def test_scaled_to_a_girth() -> None:
    """A diamond of 6 by 8 is 20 round; of 10 round it is half as large, and half axes are half of that."""
    assert scaled_to_girth(6.0, 8.0, 10.0, 1.0) == pytest.approx((1.5, 2.0), rel=1e-6)
    assert scaled_to_girth(5.0, 5.0, 1.0) == pytest.approx((1 / (2 * np.pi),) * 2, rel=1e-6)


@pytest.mark.parametrize("fullness", [1.02, 1.05, 1.097])
def test_the_power_that_makes_an_oval_so_much_fuller(fullness: float) -> None:
    power = power_of_fullness(0.658, fullness)
    assert 2.0 < power < 4.0
    flat = girth_of(oval_points(1.0, 0.658, power)) / girth_of(oval_points(1.0, 0.658))
    assert flat == pytest.approx(fullness, abs=1e-6)


def test_no_oval_is_less_full_than_an_ellipse_or_fuller_than_the_fourth_power() -> None:
    assert power_of_fullness(0.7, 1.0) == power_of_fullness(0.7, 0.9) == 2.0
    assert power_of_fullness(0.7, 1.3) == 4.0


def test_the_oval_of_a_measured_girth() -> None:
    """Measured 300 by 200: an ellipse of 793.3 (Ramanujan) is taken as it is, 5 % more makes it fuller."""
    ellipse = np.pi * (0.15 + 0.1) / 2 * (3 * 2 - np.sqrt((3 * 0.15 + 0.1) * (0.15 + 3 * 0.1)) / 0.125)
    usual = (0.7, 1.06)
    plain = fuller_oval(ellipse, 0.3, 0.2, usual)
    assert (plain.half_breadth, plain.half_depth) == pytest.approx((0.15, 0.1), rel=1e-4)
    fuller = fuller_oval(1.05 * ellipse, 0.3, 0.2, usual)
    assert (fuller.half_breadth, fuller.half_depth) == pytest.approx((0.15, 0.1), rel=1e-4)
    assert fuller.power == pytest.approx(power_of_fullness(2 / 3, 1.05), rel=1e-3)
    for breadth, depth in ((None, None), (0.3, None), (None, 0.2)):
        taken = fuller_oval(1.0, breadth, depth, usual)
        assert taken.half_depth / taken.half_breadth == pytest.approx(0.7)
        assert girth_of(oval_points(taken.half_breadth, taken.half_depth, taken.power)) == pytest.approx(1.0)
        assert taken.power == pytest.approx(power_of_fullness(0.7, 1.06))


def test_an_oval_between_two() -> None:
    """A quarter of the way: 0.75 of the upper and 0.25 of the lower in breadth, depth and power."""
    found = between_ovals(Oval(1.0, 0.1, 0.1, 2.0), Oval(0.8, 0.2, 0.12, 3.0), 0.8, 0.25)
    assert found.half_depth / found.half_breadth == pytest.approx(0.105 / 0.125)
    assert found.power == pytest.approx(2.25)
    assert girth_of(oval_points(found.half_breadth, found.half_depth, found.power)) == pytest.approx(0.8)
