"""One of two legs that stand together: inside what hoops and ties lie on, and as thick as measured."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from models import LETTERS, sample

from cage3d.design.models import Wearer
from cage3d.shape.form import build_form
from cage3d.shape.legs import APART, Pair

TURN = 2 * pi * np.arange(720) / 720
ALL_ROUND = np.column_stack([np.cos(TURN), np.sin(TURN)])


def outward(pair: Pair, apart: float) -> tuple[np.ndarray, np.ndarray]:
    """How far out every place of a leg lies in the pair's oval, 1 on it; and its x from the plane between."""
    x, y = (pair.outline(ALL_ROUND, apart) + np.array([pair.leg_middle, 0.0])).T
    p = pair.power
    return (np.abs(x / pair.half_breadth) ** p + np.abs(y / pair.half_depth) ** p) ** (1 / p), x


@pytest.mark.parametrize("power", [2.0, 2.5, 3.0, 4.0])
@pytest.mark.parametrize("apart", [0.0, 0.3, 1.0])
def test_a_leg_fills_its_half_and_does_not_leave_it(power: float, apart: float) -> None:
    pair = Pair(0.12, 0.07, power)
    out, x = outward(pair, apart)
    assert out.max() == pytest.approx(1.0, abs=1e-9)
    assert x.min() == pytest.approx(APART * 0.12, abs=1e-9)


def test_cut_in_two_the_leg_has_the_pairs_own_skin() -> None:
    out, x = outward(Pair(0.12, 0.07, 2.0), 0.0)
    assert np.all((np.abs(out - 1.0) < 1e-9) | (np.abs(x - APART * 0.12) < 1e-9))


def test_of_a_round_pair_a_leg_is_half_as_wide_and_bends_as_the_pair_where_it_meets_it() -> None:
    """An ellipse of half axes a and b bends by a / b^2 at the end of a: 1 / 0.1 of the circle."""
    half_breadth, half_depth = Pair(0.1, 0.1, 2.0).leg
    assert half_breadth == pytest.approx(0.0495)
    assert half_breadth / half_depth**2 == pytest.approx(10.0)


@pytest.mark.parametrize("letter", LETTERS)
def test_thigh_knee_and_calf_are_as_thick_as_legs_are(letter: str) -> None:
    """0.62, 0.37 and 0.37 m under a hip of 1.02 m (from memory), within a twentieth."""
    cage = sample(letter).cage
    assert cage.form is not None
    thigh, _, knee, calf = cage.form.sections[-6:-2]
    for oval, girth in ((thigh, 0.62), (knee, 0.37), (calf, 0.37)):
        found = Pair(oval.half_breadth, oval.half_depth, oval.power).leg_girth
        # The thigh stands at the crotch, where the pair is narrower than at the hip.
        assert found / float(cage.design.wearer.hip or 0) == pytest.approx(
            girth / 1.02, rel=0.12 if oval is thigh else 0.05
        )


def test_a_knee_that_is_written_is_the_legs_girth_there() -> None:
    wearer = Wearer.model_validate(
        {"waist": 0.7, "waist_height": 1.05, "hip": 1.0, "hip_drop": 0.2, "knee": 0.42}
    )
    form = build_form(wearer)
    assert form is not None
    (knee,) = (oval for oval in form.sections if oval.height == pytest.approx(0.55 * 0.85))
    assert Pair(knee.half_breadth, knee.half_depth, knee.power).leg_girth == pytest.approx(0.42)
