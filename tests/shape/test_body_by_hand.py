"""Sections of a wearer by hand, from her waist to the floor."""

from __future__ import annotations

import numpy as np
import pytest

from cage3d.design.models import WaistHeights, Wearer
from cage3d.shape.form import (
    Oval,
    build_form,
    legs_under,
    mean_waist_height,
)
from cage3d.shape.legs import Pair


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
