"""What the report reads off a cage whose every place, pull and push was put where it is by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hand.cage import GRAVITY, laid_out
from placed import SADDLE, SPANS, WRITTEN, placed

from cage3d.report import measure
from cage3d.report.hoops import back_share, sharpest_bend
from cage3d.report.pulls import bears_on_wearer


def test_heights_of_the_oval() -> None:
    """Left and right of the axis it is crossed where cos = 1/3, so at 0.2 x 0.9428 = 188.6 mm; a tenth higher."""
    report = measure(placed())
    hoop = report.hoops[0]
    told = [hoop.height_front_m, hoop.height_left_m, hoop.height_back_m, hoop.height_right_m]
    assert told == pytest.approx([0.8, 0.81886, 0.8, 0.78114], abs=2e-5)
    assert (hoop.lowest_m, hoop.highest_m) == pytest.approx((0.78, 0.82), abs=1e-5)
    assert hoop.measured_at_end == ()


def test_widths_of_the_oval() -> None:
    report = measure(placed())
    hoop = report.hoops[0]
    assert (hoop.width_front_back_m, hoop.width_side_side_m) == pytest.approx((0.3, 0.4), abs=2e-5)
    assert (hoop.front_to_axis_m, hoop.back_to_axis_m) == pytest.approx((0.1, 0.2), abs=2e-5)
    assert (hoop.widest_m, hoop.narrowest_m, hoop.out_of_round_m) == pytest.approx((0.4, 0.3, 0.1), abs=3e-5)
    assert hoop.back_share == pytest.approx(2 / 3, abs=1e-4)


def test_planes_of_the_oval_and_of_the_saddle() -> None:
    """A tenth across is 5.71 degrees; a saddle is level and leaves its plane by 20 mm. Two of its four nodes between
    two tapes, where cos 2t is 0.707 and a straight line 0.5, lie 0.207 x 20 mm below that line."""
    report = measure(placed())
    oval, saddle = report.hoops
    assert (oval.tilt_deg, oval.out_of_plane_m) == pytest.approx((5.7106, 0.0), abs=1e-4)
    assert (saddle.tilt_deg, saddle.out_of_plane_m) == pytest.approx((0.0, 0.020), abs=2e-5)
    assert saddle.droop_m == pytest.approx(0.020 * (np.sqrt(0.5) - 0.5))


def test_where_tapes_pass() -> None:
    report = measure(placed())
    points = [(point.tape, point.x_m, point.y_m, point.z_m) for point in report.hoops[0].at_tapes]
    assert points == [
        pytest.approx(place, abs=1e-12)
        for place in ((1, 0, -0.1, 0.8), (2, 0.2, 0.05, 0.82), (3, 0, 0.2, 0.8), (4, -0.2, 0.05, 0.78))
    ]


def test_what_a_hoop_is_and_bears() -> None:
    """40 g a metre; of the tapes half of 0.2 and 0.1 m and of 0.1 m, four times 12 g/m; a lap's second layer 2 g."""
    report = measure(placed())
    first, second = report.hoops
    assert [(hoop.number, hoop.open, hoop.gap_m) for hoop in report.hoops] == [
        (1, False, None),
        (2, False, None),
    ]
    assert (first.length_m, first.cut_length_m) == pytest.approx((1.0, 1.0))
    assert (second.length_m, second.cut_length_m) == pytest.approx((1.2, 1.25))
    assert first.load_N == pytest.approx((0.040 + 4 * 0.15 * 0.012) * GRAVITY)
    assert second.load_N == pytest.approx((0.048 + 0.002 + 0.1 + 4 * 0.05 * 0.012 + 2.0) * GRAVITY)
    # In front the oval passes the column at 100 mm from the axis; of a girth of 600 mm it has 95.5.
    assert first.clearance_m == pytest.approx(0.1 - 0.6 / (2 * np.pi), abs=5e-5)


def test_the_whole_cage() -> None:
    """The saddle is 600 mm wide and deep. The upper half of the topmost tapes hangs on the band: 4 x 0.1 m x 12 g/m."""
    report = measure(placed())
    assert (report.width_front_back_m, report.width_side_side_m) == pytest.approx((0.6, 0.6), abs=3e-5)
    assert report.back_share == pytest.approx(0.5, abs=1e-4)
    assert (report.hem.lowest_m, report.hem.highest_m, report.hem.widest_m) == pytest.approx(
        (0.48, 0.52, 0.6), abs=3e-5
    )
    assert report.skirt_on_band_kg == pytest.approx(0.5)
    assert (report.skirt_kg, report.cage_kg) == pytest.approx((2.0, 0.190 + 4 * 0.3 * 0.012))
    assert report.weight_kg == pytest.approx(report.skirt_kg + report.cage_kg)
    assert (report.steel_m, report.steel_cut_m) == pytest.approx((2.2, 2.25))
    assert (report.residual_N, report.lowest_eigenvalue, report.steps) == (3e-8, 4.0, 17)
    assert report.trusted


def test_a_whole_cage_that_is_wider_one_way() -> None:
    wide = measure(placed(lower=SADDLE * [1.2, 0.5, 1.0] + [0.0, 0.05, 0.0]))
    assert (wide.width_front_back_m, wide.width_side_side_m) == pytest.approx((0.3, 0.72), abs=3e-5)
    assert wide.back_share == pytest.approx(2 / 3, abs=1e-4)


@pytest.mark.parametrize(
    ("front", "back", "share"), [(-0.1, 0.3, 0.75), (0.02, 0.32, 1.0), (-0.4, -0.1, 0.0)]
)
def test_no_more_than_all_of_a_depth_lies_behind_and_no_less_than_nothing(
    front: float, back: float, share: float
) -> None:
    """10 before the axis and 30 behind it; half hoops that lie behind it, or before it, altogether."""
    assert back_share(np.array([[0.1, front, 1.0], [0.0, back, 1.0]])) == pytest.approx(share)


def test_pulls_of_tapes() -> None:
    """Tape 1 hangs from 95.5 mm before the axis and 990 up to 100 before it and 800 up; row 6 is tape 3 to hoop 2.

    A percent under a kilogram: a newton stretches 0.2 m by 0.2 mm / 0.981.
    """
    report = measure(placed())
    first, third = report.tapes[0].segments[0], report.tapes[2].segments[1]
    assert [tape.tape for tape in report.tapes] == [1, 2, 3, 4]
    assert (first.to_hoop, third.to_hoop) == (1, 2)
    assert (first.length_m, first.tension_N, first.slack_m) == pytest.approx((0.2, 1.0, 0.01))
    assert (third.length_m, third.tension_N, third.slack_m) == pytest.approx((0.1, 7.0, 0.003))
    assert (first.step_m, first.drop_m) == pytest.approx((0.1 - 0.6 / (2 * np.pi), 0.19), abs=1e-6)
    assert (third.step_m, third.drop_m) == pytest.approx((0.1, 0.8 - 0.52))
    assert first.stretched_m == pytest.approx(0.2 * 0.01 / GRAVITY)
    assert third.stretched_m == pytest.approx(0.1 * 0.01 * 7 / GRAVITY)
    # Strip of 10 mm at the bottom of its casing of 25.4: the lower line 5 mm below the steel.
    assert (third.steel_at_m, third.casing_lower_m, third.casing_upper_m) == pytest.approx(
        (0.3, 0.305, 0.2796)
    )


def test_pulls_of_ties() -> None:
    report = measure(placed())
    (tie,) = report.ties
    assert (tie.name, tie.length_m, tie.tension_N, tie.slack_m) == ("ribbon", 0.25, 9.0, pytest.approx(0.005))
    assert not tie.on_wearer


@pytest.mark.parametrize(("longer", "bent"), [(0.00011, True), (0.00009, False)])
def test_a_tape_is_bent_round_her_where_its_way_is_longer_than_straight(longer: float, bent: bool) -> None:
    """A tenth of a millimetre; and it must pull."""
    straight = np.array([[0.0, 0.0, 0.0], [0.0, 0.0, SPANS[2] - longer]])
    settled = placed(ways={2: straight})
    assert bears_on_wearer(settled, 2) == bent
    assert not bears_on_wearer(settled, 1)
    light = settled.state.forces | {"pulls": np.full(9, 0.01)}
    assert bears_on_wearer(replace(settled, state=replace(settled.state, forces=light)), 2) == bent
    slack = settled.state.forces | {"pulls": np.zeros(9)}
    assert not bears_on_wearer(replace(settled, state=replace(settled.state, forces=slack)), 2)


def test_bends_of_circles_as_laid_out() -> None:
    """Of a circle the radius is its length over 2 pi; t/2 over that, and over the 0.006 at which the steel yields."""
    cage = laid_out(WRITTEN)
    settled = placed(cage.positions[:16], cage.positions[16:32])
    for hoop, length in ((0, 1.0), (1, 1.2)):
        radius, used = sharpest_bend(settled, hoop)
        assert radius == pytest.approx(length / (2 * np.pi))
        assert used == pytest.approx(0.00025 / radius / 0.006)


def test_nothing_on_the_band_has_no_sign() -> None:
    lies = placed()
    report = measure(replace(lies, state=replace(lies.state, cloth_on_band=np.zeros(3))))
    assert str(report.skirt_on_band_kg) == "0.0"
