"""The steel's section against figures worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from cage3d.design.models import Steel
from cage3d.shape.section import section_of

PLAIN = Steel(width=0.006, thickness=0.0005, modulus=200e9, poisson=0.25, density=8000.0, yield_stress=1000e6)
DOUBLE = PLAIN.model_copy(update={"strands": 2})
COVERED = PLAIN.model_copy(update={"coating": 0.0052})


def test_stiffness_of_a_flat_strip() -> None:
    """E b t^3/12 = 200e9 x 0.006 x 0.125e-9 / 12; E t b^3/12 = 200e9 x 0.0005 x 216e-9 / 12;
    G b t^3/3 (1 - 0.63 t/b) with G = 80e9: 80e9 x 0.006 x 0.125e-9 / 3 x (1 - 0.0525)."""
    assert section_of(PLAIN).stiffness == pytest.approx((0.0125, 1.8, 0.02 * 0.9475), rel=1e-12)


def test_two_strips_side_by_side_slide_and_so_bend_as_two() -> None:
    """They fill 12 mm of the casing and are no thicker; glued they would be four times as stiff flat, not two."""
    double = section_of(DOUBLE)
    assert double.stiffness == pytest.approx((0.025, 3.6, 0.04 * 0.9475), rel=1e-12)
    assert (double.through, double.along) == pytest.approx((0.0005, 0.012))
    assert double.mass == pytest.approx(2 * 0.024)
    assert double.words == "2 strips of 6 × 0.5 mm"


def test_strain_adds_up_at_the_corner() -> None:
    """0.25 mm from the middle the easy way and 3 mm the stiff way: 0.25e-3 x 4 + 3e-3 x 0.1."""
    assert section_of(PLAIN).strain(np.array([4.0]), np.array([0.1])) == pytest.approx([0.0013])


def test_smallest_radius_is_e_t_over_twice_the_yield_stress() -> None:
    """200e9 x 0.0005 / (2 x 1000e6) = 50 mm; strands side by side bend as sharply as one."""
    assert section_of(PLAIN).smallest_elastic_radius == pytest.approx(0.050)
    assert section_of(DOUBLE).smallest_elastic_radius == pytest.approx(0.050)


def test_a_cover_adds_its_weight_and_the_area_of_its_weight() -> None:
    """8000 x 3e-6 + 5.2 g/m; 5.2 g/m of 1300 kg/m3 is 4 mm2: 0.5 mm all round has 2 x 0.5 x 6.5 + 1 = 7.5 mm2,
    0.283 mm has 2 x 0.283 x 6.5 + 4 x 0.283^2 = 3.679 + 0.320 = 4.0 mm2."""
    covered = section_of(COVERED)
    assert covered.mass == pytest.approx(0.024 + 0.0052)
    through, along = covered.covered
    assert through * along == pytest.approx(3e-6 + 4e-6)
    assert covered.cover == pytest.approx(0.283e-3, rel=0.001)


def test_outline_is_counter_clockwise_of_the_covered_size_and_moves_outward() -> None:
    corners = section_of(PLAIN).outline(wider=0.001, outward=0.01)
    assert np.ptp(corners, axis=0) == pytest.approx([0.0025, 0.008])
    assert corners.mean(axis=0) == pytest.approx([0.01, 0.0])
    x, y = corners.T
    assert float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0 == pytest.approx(0.0025 * 0.008)
