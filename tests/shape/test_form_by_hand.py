"""The wearer's form and its ovals by closed forms: diamonds, circles, and slopes of second order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from cage3d.design.models import Padding, WaistHeights, Wearer
from cage3d.shape.form import (
    Form,
    Oval,
    between_ovals,
    build_form,
    fuller_oval,
    legs_under,
    mean_waist_height,
    power_of_fullness,
)
from cage3d.shape.legs import Pair
from cage3d.shape.ovals import at_fractions, girth_of, oval_points, scaled_to_girth
from cage3d.shape.padding import Pad

LONG = Form(
    (
        Oval(1.0, 0.12, 0.08, 2.2),
        Oval(0.8, 0.18, 0.12, 2.6),
        Oval(0.5, 0.14, 0.11, 2.4),
        Oval(0.0, 0.06, 0.05, 2.0),
    )
)
PADS = (Pad(0.5, 0.22, 0.8, 0.1, 0.2), Pad(0.25, 0.17, 0.75, 0.12, 0.1))
# Off the axes, within the pads' reach, and not on their middles.
PLACES = np.array([[0.12, 0.07, 0.78], [0.05, 0.15, 0.82], [-0.03, 0.14, 0.77], [0.2, -0.02, 0.71]])


def column(radius: float = 0.15, power: float = 2.0) -> Form:
    return Form((Oval(1.0, radius, radius, power), Oval(0.0, radius, radius, power)))


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


def test_the_middle_of_four_waist_heights() -> None:
    heights = WaistHeights(front=1.0, left=1.1, back=1.3, right=1.0)
    assert mean_waist_height(Wearer(waist=0.6, waist_height=heights)) == pytest.approx(1.1)


def standing(knee_height: float | None, knee: float | None = None) -> Wearer:
    return Wearer(waist=0.6, waist_height=1.0, knee_height=knee_height, knee=knee)


def test_a_knee_that_was_measured_round_takes_the_calf_with_it() -> None:
    """Sections three and four, the knee and the calf, in the proportion they had; above and below all stays."""
    hip = Oval(0.8, 0.2, 0.1, 2.5)
    usual, measured = legs_under(hip, standing(0.44)), legs_under(hip, standing(0.44, 0.3))
    knee = measured[2]
    assert Pair(knee.half_breadth, knee.half_depth, knee.power).leg_girth == pytest.approx(0.3)
    for own, other in ((2, 2), (3, 3)):
        share = knee.half_breadth / usual[2].half_breadth
        assert measured[own].half_breadth == pytest.approx(share * usual[other].half_breadth)
        assert measured[own].half_depth == pytest.approx(share * usual[other].half_depth)
    assert [measured[place] for place in (0, 1, 4, 5)] == [usual[place] for place in (0, 1, 4, 5)]


def test_one_leg_of_a_pair() -> None:
    """Of an ellipse of 200 by 100: 99 mm half broad, a hundredth kept apart; 100 x sqrt(0.495) half deep."""
    pair = Pair(0.2, 0.1, 2.0)
    assert pair.leg == pytest.approx((0.099, 0.1 * np.sqrt(0.495)))
    assert pair.leg_middle == pytest.approx(0.101)
    a, b = pair.leg
    assert pair.leg_girth == pytest.approx(
        np.pi * (3 * (a + b) - np.sqrt((3 * a + b) * (a + 3 * b))), rel=1e-4
    )
    ways = np.array([[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]])
    # Cut in two it reaches to the pair's outline, at its middle 100 x sqrt(1 - 0.505^2) deep, and to the plane between.
    deep = 0.1 * np.sqrt(1 - 0.505**2)
    assert pair.outline(ways, 0.0) == pytest.approx(ways * np.array([[0.099], [0.099], [deep], [deep]]))
    assert pair.outline(ways, 1.0) == pytest.approx(ways * np.array([[a], [a], [b], [b]]))
    assert pair.outline(ways[2:], 0.5) == pytest.approx(ways[2:] * (deep + b) / 2)


def test_legs_under_a_hip() -> None:
    """Hip 0.8 up, knee 0.44: the crotch at 0.938 x 0.8 = 0.7504; half way 0.5952; below 0.72, 0.2 of the knee's height
    and the floor."""
    hip = Oval(0.8, 0.2, 0.1, 2.5)
    legs = legs_under(hip, standing(0.44))
    assert [leg.height for leg in legs] == pytest.approx([0.7504, 0.5952, 0.44, 0.3168, 0.088, 0.0])
    assert [leg.half_breadth / 0.2 for leg in legs] == pytest.approx([0.97, 0.84, 0.67, 0.67, 0.44, 0.50])
    assert [leg.half_depth / 0.1 for leg in legs] == pytest.approx([0.85, 0.70, 0.55, 0.55, 0.40, 0.60])
    assert {leg.power for leg in legs} == {2.5}
    # Not measured: 0.55 of the hip's height. Measured nearer to the crotch than 50 mm: no thigh.
    assert legs_under(hip, standing(None))[2].height == pytest.approx(0.44)
    assert legs_under(hip, standing(0.701))[0].height == pytest.approx(0.701)
    assert len(legs_under(hip, standing(0.700))) == 6


def test_sections_of_a_wearer_from_her_waist_down() -> None:
    """Round measures: waist 600 at 1 m, high hip 700 and hip 800, 100 and 200 mm below."""
    wearer = Wearer(
        waist=0.6, waist_height=1.0, waist_breadth=1.0, waist_depth=1.0, high_hip=0.7, high_hip_drop=0.1, hip=0.8,
        hip_drop=0.2, hip_breadth=0.255, hip_depth=0.255,
    )  # fmt: skip
    form = build_form(wearer)
    assert form is not None
    assert [oval.height for oval in form.sections[:3]] == pytest.approx([1.0, 0.9, 0.8])
    assert [2 * np.pi * oval.half_breadth for oval in form.sections[:3]] == pytest.approx(
        [0.6, 0.7, 0.8], rel=1e-4
    )
    assert build_form(wearer.model_copy(update={"hip_drop": None})) is None
    assert build_form(wearer.model_copy(update={"hip": None})) is None


@pytest.mark.parametrize(
    ("place", "turns", "radius", "down"),
    [
        ("hips", [0.25, 0.75], 3.0, 0.12),
        ("left", [0.25], 3.0, 0.12),
        ("right", [0.75], 3.0, 0.12),
        ("back", [0.5], 2.0, 0.11),
        ("roll", [0.5], 2.0, 0.07),
        ("round", [0.5], 2.0, 0.07),
    ],
)
def test_pads_of_a_place(place: Any, turns: list[float], radius: float, down: float) -> None:
    """Three to two at the hip, 15.865 round (Ramanujan), of 0.8 m: 40 mm is a share of 0.8 x 3 / 15.865 at the sides.

    Not written: 0.6, 0.55 or 0.35 of the way to the hip 200 mm down.
    """
    wearer = Wearer(waist=0.6, waist_height=1.0, hip=0.8, hip_drop=0.2, hip_breadth=0.33, hip_depth=0.22)
    on_the_hip = build_form(wearer, [Padding(place=place, thickness=0.04, height=0.1, drop=0.2)])
    unwritten = build_form(wearer, [Padding(place=place, thickness=0.04, height=0.1)])
    assert on_the_hip is not None
    assert unwritten is not None
    assert [pad.centre for pad in on_the_hip.pads] == turns
    for pad in on_the_hip.pads:
        assert (pad.height, pad.half) == pytest.approx((0.8, 0.05))
        assert pad.share == pytest.approx(0.04 / (0.8 * radius / 15.8654), rel=1e-4)
    assert [pad.height for pad in unwritten.pads] == pytest.approx([1.0 - down] * len(turns))


def test_distance_from_a_column() -> None:
    """150 mm about the axis: outside, on, inside and on the axis itself; 3, 4, 5 makes the ray."""
    points = np.array(
        [[0.15, 0.2, 0.5], [0.0, -0.15, 0.5], [0.06, 0.08, 0.5], [0.0, 0.0, 0.5], [0.15, 0.0, 2.0]]
    )
    assert column().clearance(points) == pytest.approx([0.1, 0.0, -0.05, -0.15, 0.0], abs=1e-9)
    assert column().fullness(points) == pytest.approx([5 / 3, 1.0, 2 / 3, 0.0, 1.0], abs=1e-9)


def test_the_way_out_from_the_axis_of_an_oval_is_its_least_half_measure() -> None:
    oval = Form((Oval(1.0, 0.2, 0.1, 3.0), Oval(0.0, 0.2, 0.1, 3.0)))
    assert oval.clearance(np.array([[0.0, 0.0, 0.4]])) == pytest.approx([-0.1])
    # (0.5^3 + 0.5^3)^(1/3) = 0.63: a point at half of both half axes.
    assert oval.fullness(np.array([[0.1, 0.05, 0.4]])) == pytest.approx([0.25 ** (1 / 3)])


def test_a_ring_round_a_column() -> None:
    ring = column().ring(0.4, 8)
    turn = np.arange(8) * np.pi / 4
    assert ring == pytest.approx(
        0.15 * np.column_stack([np.sin(turn), -np.cos(turn), np.full(8, 0.4 / 0.15)]), abs=1e-6
    )
    assert len(column().ring(0.4)) == 96


def test_the_profile_keeps_its_sections_and_the_slopes_of_its_rises_and_falls() -> None:
    levels = np.array([0.0, 0.5, 0.8, 1.0])
    table = np.array([[0.06, 0.05, 2.0], [0.14, 0.11, 2.4], [0.18, 0.12, 2.6], [0.12, 0.08, 2.2]])
    value, slope, _ = LONG.profile_and_slopes(levels)
    assert value == pytest.approx(table.T)
    assert slope == pytest.approx(PchipInterpolator(levels, table).derivative()(levels).T, abs=1e-9)
    assert np.column_stack(LONG.at(levels)) == pytest.approx(table)
    assert np.column_stack(LONG.at(np.array([-1.0, 2.0]))) == pytest.approx(table[[0, 3]])


def test_second_derivatives_at_a_section_are_the_lesser_of_both_sides() -> None:
    levels, breadths = np.array([0.0, 0.5, 0.8, 1.0]), np.array([0.06, 0.14, 0.18, 0.12])
    plain = PchipInterpolator(levels, breadths).derivative(2)
    _, _, (second, *_) = LONG.profile_and_slopes(levels)
    for place in (1, 2):
        below, above = float(plain(levels[place] - 1e-7)), float(plain(levels[place] + 1e-7))
        lesser = 0.0 if below * above <= 0.0 else min(below, above, key=abs)
        assert second[place] == pytest.approx(lesser, abs=1e-4)
    assert second[0] == pytest.approx(float(plain(1e-7)), rel=1e-4)
    assert second[3] == pytest.approx(float(plain(1.0 - 1e-7)), rel=1e-4)
    still = Form((Oval(1.0, 0.2, 0.1, 2.0), Oval(0.6, 0.1, 0.1, 2.0), Oval(0.0, 0.1, 0.1, 2.0)))
    assert still.profile_and_slopes(np.linspace(0.0, 0.59, 9))[0][0] == pytest.approx(0.1)


def falls_with_the_square(remainder: Callable[[float], float]) -> bool:
    """Whether what a slope leaves over falls at second order or is nothing."""
    coarse, fine = remainder(1e-3), remainder(5e-4)
    return coarse < 1e-12 or fine < 0.3 * coarse


@pytest.mark.parametrize("axis", [0, 1, 2])
@pytest.mark.parametrize("place", range(len(PLACES)))
def test_derivatives_of_pads_and_of_the_swollen_form(place: int, axis: int) -> None:
    """By the slope of the Taylor remainder: of a pad, and of ln(1 + swelling) of two that overlap."""
    point, step = PLACES[[place]], np.eye(3)[axis]
    for derivatives in (PADS[0].derivatives, replace(LONG, pads=PADS).swelling_derivatives):
        value, gradient, hessian = derivatives(point)

        def over(
            size: float, take: Callable[..., Any] = derivatives, was: Any = value, slope: Any = gradient
        ) -> float:
            return float(abs(take(point + size * step)[0][0] - was[0] - size * slope[0] @ step))

        def over_slope(
            size: float, take: Callable[..., Any] = derivatives, slope: Any = gradient, curve: Any = hessian
        ) -> float:
            return float(np.abs(take(point + size * step)[1][0] - slope[0] - size * curve[0] @ step).max())

        assert falls_with_the_square(over)
        assert falls_with_the_square(over_slope)
    swollen = replace(LONG, pads=PADS).swelling(point)
    assert value == pytest.approx(np.log1p(swollen))
    assert swollen == pytest.approx(PADS[0].swelling(point) + PADS[1].swelling(point))


@pytest.mark.parametrize("height", [0.03, 0.31, 0.66, 0.9, 0.97])
def test_slopes_of_the_profile(height: float) -> None:
    value, slope, second = LONG.profile_and_slopes(np.array([height]))
    assert value == pytest.approx(np.array(LONG.at(np.array([height]))))
    further = LONG.profile_and_slopes(np.array([height + 1e-6]))
    assert (further[0] - value) / 1e-6 == pytest.approx(slope, abs=1e-4)
    assert (further[1] - slope) / 1e-6 == pytest.approx(second, abs=1e-2)
