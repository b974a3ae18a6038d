"""The figures of the report against cages whose measures are known."""

from __future__ import annotations

import numpy as np
import pytest
from hung import data, hung, plain
from rigs import STRIP_10, design_of, ring_on_tapes, whole_cage, without_weight

from cage3d.design.models import Design
from cage3d.report import Report, measure
from cage3d.report.curves import HoopCurve, height_towards, plane_of, side_word, widths_in_plan
from cage3d.report.hoops import back_share
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.shape.section_kinds import section_of


def circle(length: float = 2.0, tapes: int = 10) -> Report:
    """A ring that nothing bends; ten tapes put no node at its front or back."""
    return measure(settle(without_weight(lay_out(ring_on_tapes(length, tapes, STRIP_10)))))


def test_a_circle_is_as_wide_as_its_length_over_pi() -> None:
    hoop = circle(2.0).hoops[0]
    widths = [hoop.width_front_back_m, hoop.width_side_side_m, hoop.widest_m, hoop.narrowest_m]
    assert widths == pytest.approx([2.0 / np.pi] * 4, abs=2e-5)
    assert hoop.out_of_round_m == pytest.approx(0.0, abs=2e-5)
    assert hoop.length_m == pytest.approx(2.0, abs=1e-12)


def test_a_circle_uses_t_over_2r_of_its_steel() -> None:
    hoop = circle(2.0).hoops[0]
    radius = 2.0 / (2.0 * np.pi)
    assert hoop.smallest_bend_radius_m == pytest.approx(radius, rel=1e-3)
    assert hoop.strain_used == pytest.approx((0.0006 / (2.0 * radius)) / (1200e6 / 200e9), rel=1e-3)


def test_smallest_elastic_radius_of_half_a_millimetre() -> None:
    """E t / (2 yield): 41.7 mm for 0.5 mm strip at 200 GPa and 1200 MPa (textbook strength of materials)."""
    steel = ring_on_tapes(2.0, 8, STRIP_10 | {"thickness": 0.0005}).steel
    assert section_of(steel).smallest_elastic_radius == pytest.approx(0.0417, abs=5e-5)


def test_a_level_circle_is_level() -> None:
    hoop = circle().hoops[0]
    heights = [hoop.height_front_m, hoop.height_left_m, hoop.height_back_m, hoop.height_right_m]
    assert heights == pytest.approx([1.0] * 4, abs=2e-5)
    assert hoop.tilt_deg < 0.01
    assert hoop.out_of_plane_m < 2e-5


def test_tilt_of_a_ring_on_three_unequal_strings() -> None:
    """Tilt 6.213039 degrees: statics of a rigid ring, see tests/published/test_rings_on_strings.py."""
    rigid = STRIP_10 | {"modulus": 1e12, "yield_stress": 1e11, "thickness": 0.002}
    design = design_of(
        waist=0.7,
        zero=1.5,
        drops=[[0.18], [0.20], [0.22]],
        lengths=[1.5],
        steel=rigid,
        tapes={"stations": "on"},
    )
    hoop = measure(settle(lay_out(design))).hoops[0]
    assert hoop.tilt_deg == pytest.approx(6.213039, abs=0.01)
    assert hoop.height_front_m > hoop.height_back_m


def test_heights_at_the_tapes_are_the_published_ones() -> None:
    report = measure(settle(lay_out(whole_cage())))
    heights = [hoop.at_tapes[3].z_m for hoop in report.hoops]
    assert heights == pytest.approx([0.970429848, 0.802116441, 0.612512936, 0.401917690], abs=2e-4)
    first = [tape.segments[0].tension_N for tape in report.tapes]
    assert sum(first) / 8 == pytest.approx(0.914577, rel=0.01)


def test_weight_is_steel_tapes_joins_and_skirt() -> None:
    design = design_of(
        waist=0.7,
        zero=1.5,
        drops=[[0.2, 0.2]] * 8,
        lengths=[],
        steel=STRIP_10,
        hoops=[{"length": 1.5, "join": "none", "carries": 0.1}, {"length": 1.6, "join": {"overlap": 0.05}}],
        tapes={"weight": 0.02},
        skirt={"weight": 0.5},
    )
    report = measure(settle(lay_out(design)))
    strip = 7850 * 0.010 * 0.0006
    assert report.cage_kg == pytest.approx(strip * (1.5 + 1.6 + 0.05) + 8 * 0.4 * 0.02 + 0.1, rel=1e-9)
    assert report.skirt_kg == pytest.approx(0.5, rel=1e-9)
    assert report.weight_kg == pytest.approx(report.cage_kg + report.skirt_kg)
    assert (report.steel_m, report.steel_cut_m) == pytest.approx((3.1, 3.15))


def test_tapes_bear_what_hangs_below_them() -> None:
    """Vertical parts of the pulls above a hoop carry all hoops from it down, and half the tapes between."""
    report, settled = plain()
    borne = [
        sum(t.segments[h].tension_N * t.segments[h].drop_m / t.segments[h].length_m for t in report.tapes)
        for h in range(len(report.hoops))
    ]
    loads = np.cumsum([hoop.load_N for hoop in reversed(report.hoops)])[::-1]
    assert borne == pytest.approx(list(loads), abs=1e-6)
    assert settled.residual < 1e-6


def test_marks_are_where_they_are_stitched() -> None:
    """Casing 1 in, 12 mm strip at its bottom: the lower line lies 6 mm below the steel."""
    report, _ = plain()
    second = report.tapes[2].segments[1]
    assert second.steel_at_m == pytest.approx(17 * 0.0254)
    assert second.casing_lower_m == pytest.approx(17 * 0.0254 + 0.006)
    assert second.casing_upper_m == pytest.approx(16 * 0.0254 + 0.006)


def test_what_lies_behind_the_waist() -> None:
    """Three of a length of ten lie behind; and of a whole cage the farthest of all hoops count."""
    points = np.array([[0.0, -0.7, 1.0], [0.2, 0.1, 1.0], [0.0, 0.3, 1.0]])
    assert back_share(points) == pytest.approx(0.3)
    longer_behind = [[9, 8, 7 + 0.6 * min(tape, 7 - tape)] for tape in range(8)]
    report, _ = hung(tapes={"count": 8, "drops": longer_behind}, hem={})
    for hoop in report.hoops:
        extent = hoop.front_to_axis_m + hoop.back_to_axis_m
        assert hoop.back_share == pytest.approx(hoop.back_to_axis_m / extent)
    front = max(hoop.front_to_axis_m for hoop in report.hoops)
    back = max(hoop.back_to_axis_m for hoop in report.hoops)
    assert report.back_share == pytest.approx(back / (front + back))


def test_an_open_hoop_reports_its_gap_and_measures_its_end_at_the_front() -> None:
    report, _ = hung(hoops=[{"length": 46, "opening": "front"}, {"length": 62}, {"length": 70}])
    first, second = report.hoops[:2]
    assert first.open
    assert first.measured_at_end == ("front",)
    assert first.gap_m is not None
    assert 0.02 < first.gap_m < 0.4
    assert first.height_front_m == pytest.approx(first.at_tapes[0].z_m, abs=0.02)
    assert (second.open, second.gap_m, second.measured_at_end) == (False, None, ())


def test_curves_measure_between_their_nodes() -> None:
    """An ellipse of 0.6 by 0.4 m, tilted by 10 degrees about x: known extents, heights and plane."""
    turn = np.linspace(0.0, 2.0 * np.pi, 2001)
    tilt = np.radians(10.0)
    flat = np.column_stack([0.3 * np.sin(turn), -0.2 * np.cos(turn), np.zeros_like(turn)])
    points = flat @ np.array([[1, 0, 0], [0, np.cos(tilt), np.sin(tilt)], [0, -np.sin(tilt), np.cos(tilt)]])
    points[-1] = points[0]
    curve = HoopCurve(points + np.array([0.0, 0.0, 1.0]), closed=True)
    assert plane_of(curve.points) == pytest.approx((10.0, 0.0), abs=1e-9)
    assert height_towards(curve, "front") == (pytest.approx(1.0 - 0.2 * np.sin(tilt), abs=1e-6), False)
    assert height_towards(curve, "left") == (pytest.approx(1.0, abs=1e-6), False)
    widths = widths_in_plan(curve.points)
    assert (widths.max(), widths.min()) == pytest.approx((0.6, 0.4 * np.cos(tilt)), abs=1e-5)


@pytest.mark.parametrize(
    ("x", "y", "word"),
    [
        (0, -1, "front"),
        (1, -1, "front left"),
        (1, 0, "left"),
        (0, 1, "back"),
        (-1, 1, "back right"),
        (-1, 0, "right"),
    ],
)
def test_sides_are_the_wearers(x: float, y: float, word: str) -> None:
    assert side_word(x, y) == word


def test_mirrored_drops_give_a_mirrored_report() -> None:
    left = [[9, 8, 7]] * 8
    left[1] = [8.5, 8, 7]
    mirrored = [left[7 - tape] for tape in range(8)]
    one, other = (hung(tapes={"count": 8, "drops": drops})[0].hoops[0] for drops in (left, mirrored))
    assert one.height_left_m == pytest.approx(other.height_right_m, abs=1e-6)
    assert one.height_right_m == pytest.approx(other.height_left_m, abs=1e-6)
    assert one.height_left_m != pytest.approx(one.height_right_m, abs=1e-3)


def test_the_designs_own_units_and_name_are_kept() -> None:
    report, settled = plain()
    assert (report.design, report.units) == ("plain", "in")
    assert isinstance(settled.cage.design, Design)
    assert data()["units"] == report.units


def test_a_tape_at_centre_front_does_not_hide_the_front() -> None:
    """The hoop's seam then lies at x = 0, where rounding could put its two ends on either side."""
    for count in (3, 5, 8, 9):
        report, _ = hung(tapes={"count": count, "stations": "on", "drops": [9, 8, 7]})
        for hoop in report.hoops:
            assert hoop.measured_at_end == ()
            assert hoop.height_front_m == pytest.approx(hoop.at_tapes[0].z_m, abs=1e-4)
