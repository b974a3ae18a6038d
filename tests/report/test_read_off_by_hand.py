"""What the report reads off a cage whose every place, pull and push was put where it is by hand: nothing is settled."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hand.cage import GRAVITY, RING, laid_out

from cage3d.design.models import Padding
from cage3d.report import measure
from cage3d.report.curves import (
    HoopCurve,
    height_towards,
    hoop_curve,
    plane_of,
    subdivided,
    widths_in_plan,
)
from cage3d.report.hoops import gap, sharpest_bend
from cage3d.report.pulls import bears_on_wearer
from cage3d.report.touching import touch_reports
from cage3d.report.warnings import warnings_of
from cage3d.report.warnings.case import Case
from cage3d.report.warnings.place import steps_under
from cage3d.report.why_not import why_not
from cage3d.settle import SettledCage
from cage3d.settle.state import State

# Two hoops of 1 and 1.2 m, sixteen nodes each, on four tapes of 12 g/m; a skirt of 2 kg on the lower one.
WRITTEN: dict[str, Any] = {
    "tapes": {"drops": [200, 100], "weight": "12 g/m", "stretch": {"by": "1 %", "at": "1 kg"}},
    "hoops": [RING, {"length": 1200, "join": {"overlap": 50}, "carries": "100 g"}],
    "skirt": {"weight": "2 kg", "hoops": [2]},
    "ties": [{"from": "hoop 2 tape 1", "to": "hoop 2 tape 2", "length": 250, "name": "ribbon"}],
    # A column of the waist's girth down to 300 mm below it.
    "wearer": {"hip": 600, "hip_drop": 300, "hip_breadth": 191, "hip_depth": 191},
}
TURN = np.arange(16) * np.pi / 8
# An oval of 400 by 300 mm, 50 mm to her back, higher by a tenth to her left; a saddle of 20 mm on a circle of 600.
OVAL = np.column_stack([0.2 * np.sin(TURN), 0.05 - 0.15 * np.cos(TURN), 0.8 + 0.02 * np.sin(TURN)])
SADDLE = np.column_stack([0.3 * np.sin(TURN), -0.3 * np.cos(TURN), 0.5 + 0.02 * np.cos(2 * TURN)])
PULLS = np.arange(1.0, 10.0)  # N: four tapes to hoop 1, four to hoop 2, the ribbon
SPANS = np.array([0.19, 0.2, 0.2, 0.2, 0.1, 0.1, 0.097, 0.1, 0.245])


def placed(
    upper: np.ndarray = OVAL,
    lower: np.ndarray = SADDLE,
    ways: Mapping[int, np.ndarray] | None = None,
    pushes: Mapping[str, Mapping[int, float]] | None = None,
    **written: Any,
) -> SettledCage:
    """pushes: N on hoop nodes, by what pushes."""
    cage = laid_out(WRITTEN | written)
    joined = cage.connectivity
    forces = {"pulls": PULLS[: len(joined.pulls)], "edges": np.zeros(len(joined.edges))}
    for what in ("floor", "wearer"):
        forces[what] = np.zeros(32)
        for node, push in (pushes or {}).get(what, {}).items():
            forces[what][node] = push
    state = State(
        positions=np.vstack([upper, lower, cage.positions[joined.anchors]]),
        angles=np.zeros(len(joined.edges)),
        normals=cage.normals,
        twists=np.zeros(len(joined.bends)),
        forces=forces,
        between=np.zeros((0, 2), dtype=np.intp),
        spans=SPANS[: len(joined.pulls)],
        ways=ways or {},
        cloth=np.zeros((joined.node_count, 3)),
        cloth_on_band=np.array([0.0, 0.0, -0.5 * GRAVITY]),
    )
    return SettledCage(cage, state, 3e-8, 0.0, 4.0, True, True, 17)


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


# What touches.


def test_what_lies_on_the_floor() -> None:
    """Less than a millimetre above it, at her right, where all pushes on the hoop add up."""
    low = SADDLE * [1.0, 1.0, 0.0] + np.outer(SADDLE[:, 0], [0.0, 0.0, 0.1]) + [0.0, 0.0, 0.0309]
    settled = placed(lower=low, pushes={"floor": {16: 1.0, 28: 0.5, 3: 8.0}})
    assert [(one.hoop, one.what, one.where, one.force_N) for one in touch_reports(settled)] == [
        (2, "floor", "right", 1.5)
    ]
    assert touch_reports(placed(lower=low + np.array([0.0, 0.0, 0.0002]))) == ()


@pytest.mark.parametrize(("room", "touches"), [(0.00174, True), (0.00176, False)])
def test_what_lies_on_her(room: float, touches: bool) -> None:
    """A millimetre beside half the steel and a ribbon, 0.25 + 0.5 mm, from the column at her back."""
    near = 0.6 / (2 * np.pi) + room
    oval = OVAL * [1.0, 0.0, 1.0] + np.column_stack(
        [np.zeros(16), near - 0.3 - 0.3 * np.cos(TURN), np.zeros(16)]
    )
    found = touch_reports(placed(oval, pushes={"wearer": {8: 2.0, 9: 0.5}}))
    expected = [(1, "wearer", "back", 2.5)] if touches else []
    assert [(one.hoop, one.what, one.where, one.force_N) for one in found] == expected


def test_the_thickest_steel_of_a_hoop_keeps_it_off_her() -> None:
    """Nodes of one hoop may keep off by different amounts; the most of them counts."""
    settled = placed(
        OVAL * [1.0, 0.0, 1.0] + np.column_stack([np.zeros(16), 0.0972 - 0.3 - 0.3 * np.cos(TURN), TURN * 0])
    )
    off = settled.cage.parameters.stand_off.copy()
    assert len(touch_reports(settled)) == 1
    off[:16] = 0.0001
    off[3] = 0.00075
    assert len(touch_reports(replace(settled, cage=settled.cage.with_parameters(stand_off=off)))) == 1


def test_why_a_cage_on_the_floor_gave_no_answer() -> None:
    """Laid out at 990 - 189.6 - 94.8 = 705.6 it would hang free; with a waist 900 mm lower 194.4 below the floor."""
    low = SADDLE * [1.0, 1.0, 0.0]
    told = str(why_not(placed(lower=low), "x.yaml"))
    assert "hoop 2 lies on the floor" in told
    assert "below it" not in told
    assert "Shorten the drops by 102 mm or more" in told
    sunk = placed(lower=low)
    just_above = sunk.cage.positions - np.array([0.0, 0.0, 0.66])
    told = str(why_not(replace(sunk, cage=replace(sunk.cage, positions=just_above)), "x.yaml"))
    assert "below it" not in told
    assert "Shorten the drops by 102 mm or more" in told
    deep = sunk.cage.positions - [0.0, 0.0, 0.9]
    told = str(why_not(replace(sunk, cage=replace(sunk.cage, positions=deep)), "x.yaml"))
    assert "the hem would be 194 mm below it" in told
    assert "Shorten the drops by 296 mm or more" in told
    both = str(why_not(placed(OVAL * [1.0, 1.0, 0.0], low), "x.yaml"))
    assert "hoops 1 and 2 lie on the floor" in both


def test_why_a_cage_that_did_not_settle_or_stay_gave_no_answer() -> None:
    lost = replace(placed(), settled=False, residual=0.123, worst_node="hoop 2 at tape 3")
    told = str(why_not(lost, "x.yaml"))
    for words in ("the skirt put on", "in 17 steps", "0.12 N is left unbalanced, most at hoop 2 at tape 3"):
        assert words in told
    fallen = str(why_not(replace(placed(skirt=None), stable=False, lowest_eigenvalue=-0.321), "x.yaml"))
    for words in ("tapes made stiffer", "in 17 steps", "lowest eigenvalue -0.32 N/m"):
        assert words in fallen


RIBBON, TAPE_2 = 8, 1  # rows of what pulls


@pytest.mark.parametrize(
    ("row", "pull", "push", "why", "remedy"),
    [
        (RIBBON, 1200.0, {}, "ribbon is too short. No", "Make ribbon longer, or what it is tied to nearer"),
        (RIBBON, 1200.0, {3: 600.0, 5: 500.0}, "short with hoop 1 round", "Make ribbon or hoop 1 longer"),
        (
            RIBBON,
            1200.0,
            {3: 1100.0, 17: 1001.0},
            "with hoops 1 and 2 round",
            "ribbon or hoops 1 and 2 longer",
        ),
        (RIBBON, 1200.0, {3: 999.0}, "ribbon is too short. No", "longer, or what it is tied to"),
        (TAPE_2, 1200.0, {}, "tape 2 to hoop 1 is too short. No", "Make tape 2 to hoop 1 longer"),
        (TAPE_2, 1200.0, {3: 1100.0}, "hoop 1 is too short to lie round", "Make hoop 1 longer, or the drops"),
        (TAPE_2, 1200.0, {3: 1100.0, 17: 1001.0}, "hoops 1 and 2 are too short", "Make hoops 1 and 2 longer"),
        (RIBBON, 999.0, {3: 1100.0}, "would not settle", "Look there for a tie"),
    ],
)
def test_why_what_pulls_asunder_gave_no_answer(row, pull, push, why, remedy) -> None:
    """A tonne's tenth, 1000 N and more, is no pull of a tape or tie that could hold."""
    torn = replace(placed(pushes={"wearer": push}), settled=False)
    pulls = PULLS.copy()
    pulls[row] = pull
    torn = replace(torn, state=replace(torn.state, forces={**torn.state.forces, "pulls": pulls}))
    told = str(why_not(torn, "x.yaml"))
    assert why in told
    assert remedy in told


def test_padding_may_be_what_a_hoop_is_too_short_for() -> None:
    torn = replace(placed(pushes={"wearer": {3: 1100.0}}), settled=False)
    pulls = PULLS.copy()
    pulls[TAPE_2] = 1200.0
    torn = replace(torn, state=replace(torn.state, forces={**torn.state.forces, "pulls": pulls}))
    assert "padding" not in str(why_not(torn, "x.yaml"))
    pad = Padding(place="hips", thickness=0.1, height=0.1)
    design = torn.cage.design.model_copy(update={"padding": (pad,)})
    padded = replace(torn, cage=replace(torn.cage, design=design))
    assert "narrower there, or the padding thinner" in str(why_not(padded, "x.yaml"))


# What is warned of, and where.


def warned(settled: SettledCage, code: str) -> list[list[str]]:
    """The figures of every warning of this code."""
    return [re.findall(r"\d+", one.text) for one in measure(settled).warnings if one.code == code]


def test_hoops_that_rise_above_the_one_over_them() -> None:
    """The lower one lifted at tape 2, and at tapes 2 and 4, to 0.9 m: above 0.82 and 0.78."""
    lifted = SADDLE.copy()
    lifted[4, 2] = 0.9
    assert warned(placed(lower=lifted), "hoops_cross") == [["2", "1", "2"]]
    lifted[12, 2] = 0.9
    assert warned(placed(lower=lifted), "hoops_cross") == [["2", "1", "2", "4"]]
    assert warned(placed(), "hoops_cross") == []


def test_a_hoop_that_folds_over_itself() -> None:
    folded = SADDLE.copy()
    folded[[4, 8]] = folded[[8, 4]]
    assert warned(placed(lower=folded), "hoop_folds") == [["2"]]
    assert warned(placed(folded, SADDLE), "hoop_folds") == [["1"]]
    assert warned(placed(), "hoop_folds") == []


@pytest.mark.parametrize(
    ("riser", "told"),
    [
        (440, []),
        (450, ["450", "470", "20"]),
        (480, ["480", "470"]),
        (500, ["500", "470", "521", "21"]),
        (530, ["530", "470", "521"]),
    ],
)
def test_a_hem_that_hangs_lower_in_front_at_the_stairs(riser: int, told: list[str]) -> None:
    """Level at 500 mm and a tenth lower forward: 470 in front; behind 521 where its quarter begins. An inch
    over the step is wanted."""
    sloping = SADDLE * [1.0, 1.0, 0.0] + np.column_stack([TURN * 0, TURN * 0, 0.5 - 0.03 * np.cos(TURN)])
    found = warned(placed(lower=sloping, stage={"riser": riser}), "riser")
    assert found == ([told] if told else [])


@pytest.mark.parametrize(
    ("reach", "tread", "steps"),
    [(0.30, 0.28, 1), (0.43, 0.28, 2), (0.42, 0.28, 2), (0.41, 0.28, 1), (0.1, 0.28, 1), (0.9, None, 1)],
)
def test_steps_under_a_hem(reach: float, tread: float | None, steps: int) -> None:
    """She stands in the middle of a step: half a tread to the next, a whole one to each further."""
    assert steps_under(reach, tread) == steps


def test_a_hem_that_reaches_over_two_steps() -> None:
    """It reaches 300 mm forward and back over treads of 180: two steps of 225 are 450, and it hangs 470 up."""
    sloping = SADDLE * [1.0, 1.0, 0.0] + np.column_stack([TURN * 0, TURN * 0, 0.5 - 0.03 * np.cos(TURN)])
    assert warned(placed(lower=sloping, stage={"riser": 225, "tread": 180}), "riser") == [
        ["225", "470", "2", "450", "20"]
    ]
    assert warned(placed(lower=sloping, stage={"riser": 220, "tread": 180}), "riser") == []
    assert warned(placed(lower=sloping, stage={"riser": 255, "tread": 180}), "riser") == [
        ["255", "470", "2", "510", "521", "2", "510", "11"]
    ]


def test_the_quarter_of_a_hem_towards_a_side() -> None:
    """The saddle is lowest at her sides and 500 mm up where the quarters in front and behind end."""
    assert warned(placed(stage={"riser": 480}), "riser") == [["480", "500", "20", "500", "20"]]
    for stairs, words in (({"riser": 480}, "clears it by"), ({"riser": 240, "tread": 180}, "clears them by")):
        (text,) = [one.text for one in measure(placed(stage=stairs)).warnings if one.code == "riser"]
        assert text.count(words) == 2


def test_where_the_two_lowest_hoops_leave_room_for_a_heel() -> None:
    """From 820 mm at tape 2 to 130, 690 apart; closer than 6 in or higher than 10 in none is told, nor of one hoop."""
    low = SADDLE - [0.0, 0.0, 0.35]
    assert warned(placed(lower=low), "heel_through") == [["690", "152"]]
    assert warned(placed(lower=SADDLE - [0.0, 0.0, 0.22]), "heel_through") == []
    assert warned(placed(OVAL - [0.0, 0.0, 0.54], low), "heel_through") == []
    one = measure(placed(lower=low))
    alone = replace(one, hoops=one.hoops[1:], tapes=one.tapes)
    assert [w.code for w in warnings_of(Case(alone, placed(lower=low))) if w.code == "heel_through"] == []


# Curves.


def test_a_curve_passes_its_nodes_and_closes() -> None:
    curve = hoop_curve(placed(), 0)
    assert len(curve.points) == 16 * 16 + 1
    assert curve.points[::16][:16] == pytest.approx(OVAL)
    assert (curve.points[-1] == curve.points[0]).all()
    assert gap(curve) is None


def test_an_open_curve_ends_without_bending() -> None:
    """Half a circle: its ends are straight, its middle round; from end to end is a diameter."""
    between = {
        "tapes": {"stations": "between", "drops": [200]},
        "hoops": [{"length": 1000, "opening": "front"}],
    }
    cage = laid_out(between)
    count = len(cage.connectivity.hoop_nodes[0])
    turn = np.linspace(0.5, 1.5, count) * np.pi
    half = np.column_stack([0.3 * np.sin(turn), -0.3 * np.cos(turn), np.full(count, 0.7)])
    state = replace(placed().state, positions=np.vstack([half, cage.positions[count:]]))
    settled = SettledCage(cage, state, 0.0, 0.0, 1.0, True, True, 1)
    curve = hoop_curve(settled, 0)
    assert not curve.closed
    assert gap(curve) == pytest.approx(0.6)
    assert len(curve.points) == 16 * (count - 1) + 1
    steps = np.diff(curve.points, axis=0)
    first = np.linalg.norm(np.diff(steps / np.linalg.norm(steps, axis=1)[:, None], axis=0), axis=1)
    assert first[0] < 0.2 * first[len(first) // 2]


def test_every_interval_in_sixteen() -> None:
    assert subdivided(np.array([0.0, 1.6, 2.4])) == pytest.approx(
        [*np.arange(16) / 10, *(1.6 + np.arange(17) / 20)]
    )


# A pentagon by her left, its point in front at 0.9 m and its base behind at 0.5; widths of it as a plan.
PENTAGON = np.array(
    [
        [0.0, -0.4, 0.9],
        [0.3, -0.1, 0.8],
        [0.2, 0.3, 0.5],
        [-0.2, 0.3, 0.5],
        [-0.3, -0.1, 0.7],
        [0.0, -0.4, 0.9],
    ]
)


@pytest.mark.parametrize(
    ("side", "height"),
    [
        ("front", 0.9),
        # A quarter of the way from x 0.3 to 0.2 and from 0.8 to 0.5 m up; at her right from 0.7.
        ("left", 0.725),
        ("back", 0.5),
        ("right", 0.65),
    ],
)
def test_heights_on_a_pentagon(side: str, height: float) -> None:
    assert height_towards(HoopCurve(PENTAGON, True), side) == (pytest.approx(height), False)


def test_of_several_crossings_the_outermost_counts() -> None:
    """A loop to her left, in at 0.2 m and out at 0.5."""
    loop = np.array([[0.1, -0.1, 0.6], [0.2, 0.1, 0.6], [0.4, -0.1, 0.8], [0.6, 0.1, 0.8], [0.1, 0.4, 0.6]])
    assert height_towards(HoopCurve(loop, False), "left") == (pytest.approx(0.8), False)


@pytest.mark.parametrize(("side", "height"), [("front", 0.7), ("right", 0.7), ("back", 0.9), ("left", 0.9)])
def test_of_a_hoop_without_steel_on_a_side_the_nearer_end_counts(side: str, height: float) -> None:
    """A short piece from her right in front (0.7 m up) to her back at her left (0.9), not over any of the four."""
    if side in ("front", "right"):
        piece = np.array([[-0.3, -0.2, 0.7], [-0.25, -0.25, 0.75], [-0.2, -0.3, 0.7]])
        assert height_towards(HoopCurve(piece, False), side) == (pytest.approx(height), True)
    else:
        piece = np.array(
            [[0.1, 0.4, 0.9 if side == "back" else 0.4], [0.4, 0.1, 0.4 if side == "back" else 0.9]]
        )
        assert height_towards(HoopCurve(piece, False), side) == (pytest.approx(height), True)


def test_of_an_open_hoop_only_its_ends_count_and_of_a_closed_one_every_place() -> None:
    """A piece at her right that nearly comes to the front with its middle, 0.9 m up; a ring that is all at her left."""
    piece = np.array([[-0.3, -0.2, 0.7], [-0.05, -0.3, 0.9], [-0.3, -0.1, 0.8]])
    assert height_towards(HoopCurve(piece, False), "front") == (pytest.approx(0.7), True)
    ring = np.array([[0.4, -0.1, 0.9], [0.4, 0.1, 0.8], [0.1, 0.1, 0.7], [0.1, -0.05, 0.6], [0.4, -0.1, 0.9]])
    assert height_towards(HoopCurve(ring, True), "right") == (pytest.approx(0.7), True)


def test_widths_of_a_rectangle_in_every_direction() -> None:
    """400 by 300: along the axes, and its diagonal of 500 at 36.87 degrees."""
    corners = np.array([[0.2, 0.15, 1.0], [-0.2, 0.15, 2.0], [-0.2, -0.15, 3.0], [0.2, -0.15, 4.0]])
    widths = widths_in_plan(corners)
    assert len(widths) == 180
    assert (widths[0], widths[90]) == pytest.approx((0.4, 0.3))
    assert widths[37] == pytest.approx(0.5, abs=1e-5)
    assert widths[45] == pytest.approx(0.7 * np.sqrt(0.5))


def test_the_plane_of_four_corners_by_turns_up_and_down() -> None:
    corners = np.array([[1.0, 1.0, 2.1], [-1.0, 1.0, 1.9], [-1.0, -1.0, 2.1], [1.0, -1.0, 1.9]])
    assert plane_of(corners) == pytest.approx((0.0, 0.1), abs=1e-9)
    assert plane_of(corners[:, [2, 0, 1]]) == pytest.approx((90.0, 0.1), abs=1e-9)
