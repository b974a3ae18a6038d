"""The wearer's form by closed forms: distances from it, pads on it, and slopes of second order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from cage3d.design.models import Padding, Wearer
from cage3d.shape.form import (
    Form,
    Oval,
    build_form,
)
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
