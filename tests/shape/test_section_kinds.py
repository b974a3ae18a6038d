"""The steel's section against figures worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from cage3d.design.models import Steel
from cage3d.shape.section_kinds import section_of

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


ROD = Steel(material="round cane", diameter=0.010, modulus=2e9, poisson=0.25, density=500.0)
HOSE = Steel(material="plastic hose", diameter=0.020, wall=0.004, modulus=1e9, poisson=0.25, density=950.0)


def test_a_rod_bends_alike_all_ways() -> None:
    """E pi d^4/64 = 2e9 x pi x 1e-8/64 = 0.98175 both ways; G pi d^4/32 with G = 0.8e9: 0.78540; 78.54 mm2."""
    section = section_of(ROD)
    assert section.stiffness == pytest.approx((0.981748, 0.981748, 0.785398), rel=1e-5)
    assert section.mass == pytest.approx(500.0 * 78.5398e-6)
    assert (section.through, section.along, section.width) == (0.010, 0.010, 0.010)
    assert section.strain(np.array([3.0]), np.array([4.0])) == pytest.approx([0.005 * 5.0])
    assert section.words == "round cane Ø 10 mm"


def test_a_hose_has_its_bore_taken_out() -> None:
    """A bore of 12 mm: d^4 is 160000 less 20736 mm4, of 200 - 72 = 128 / 2 pi mm2 area."""
    section = section_of(HOSE)
    bending = 1e9 * np.pi / 64 * 139264e-12
    assert section.stiffness == pytest.approx((bending, bending, 0.4e9 * np.pi / 32 * 139264e-12))
    assert section.area == pytest.approx(np.pi * (0.010**2 - 0.006**2))
    assert section.words == "plastic hose Ø 20 mm, wall 4 mm"
    # A plug of 1000 kg/m3 in the bore, 50 mm long.
    assert section.tube_mass(0.050) == pytest.approx(np.pi * 0.006**2 * 0.050 * 1000.0)


def test_layers_slide_and_so_are_twice_as_stiff_and_not_eight_times() -> None:
    section = section_of(PLAIN.model_copy(update={"layers": 2}))
    assert section.stiffness == pytest.approx((0.025, 3.6, 0.04 * 0.9475), rel=1e-12)
    assert (section.through, section.along) == (0.001, 0.006)
    assert section.smallest_elastic_radius == pytest.approx(0.050), "each bends on its own"
    assert section.words == "2 layers of 6 × 0.5 mm"


def test_a_least_radius_says_how_far_it_bends() -> None:
    """Of cane 30 diameters, of plastic strip 40 thicknesses, of what is written that."""
    assert section_of(ROD).smallest_elastic_radius == pytest.approx(0.300)
    strip = Steel(material="plastic strip", width=0.012, thickness=0.0015)
    assert section_of(strip).smallest_elastic_radius == pytest.approx(0.060)
    written = ROD.model_copy(update={"least_radius": 0.2})
    assert section_of(written).smallest_elastic_radius == pytest.approx(0.200)


def test_a_cover_round_a_rod_has_the_area_of_its_weight() -> None:
    """3.9 g/m of 1300 kg/m3 is 3 mm2: round 10 mm, pi x 10.0946 x 0.0946 mm."""
    covered = section_of(ROD.model_copy(update={"coating": 0.0039}))
    assert covered.cover == pytest.approx(0.0946e-3, rel=0.001)
    corners = covered.outline()
    x, y = corners.T
    area = float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0
    assert area == pytest.approx(np.pi / 4.0 * 100e-6 + 3e-6, rel=1e-3)


def test_what_is_not_written_is_the_materials_and_a_hoop_of_another_takes_only_sizes_along() -> None:
    covered = Steel(material="covered steel", width=0.007, thickness=0.0005)
    assert (covered.coating, covered.modulus, covered.density) == (0.005, 205e9, 7850.0)
    assert "coating" not in covered.model_fields_set
    hoop = covered.over({"material": "plastic strip"})
    assert (hoop.width, hoop.thickness, hoop.modulus, hoop.coating) == (0.007, 0.0005, 2.5e9, 0.0)
    cane = covered.over({"material": "round cane", "diameter": 0.006})
    assert (cane.width, cane.diameter, cane.yield_stress) == (None, 0.006, None)
    assert covered.over({"material": "covered steel", "thickness": 0.0006}).width == 0.007
