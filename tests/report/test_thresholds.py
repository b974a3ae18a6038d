"""Every warning's limit from both sides: figures of a settled cage set just within it and just beyond."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from figures_set import INCH, hem, hoop, near_floor, segment, texts, tie, touched, whole
from hung import plain

from cage3d.report import Report
from cage3d.report.alike import tapes_alike
from cage3d.report.curves import side_word
from cage3d.report.foreseen import CapacityReport
from cage3d.report.outlook import little_reserve, times
from cage3d.report.record import TieReport
from cage3d.report.touching import touch_reports

NAMED = {
    "front left": 45,
    "left": 90,
    "back left": 135,
    "back": 180,
    "back right": 225,
    "right": 270,
    "front right": 315,
}
# code, beyond the limit, within it; the plain cage wants a hem of 17 to 21 in, a door of 34 and steps of 7 in.
LIMITS: list[tuple[str, Callable[[], Report], Callable[[], Report]]] = [
    ("slack_tape", lambda: segment(3, 2, slack_m=0.00160), lambda: segment(3, 2, slack_m=0.00158)),  # 1/16 in
    ("slack_tie", lambda: tie(0.00160), lambda: tie(0.00158)),
    (
        "tape_margin",
        lambda: segment(2, 1, length_m=0.2, step_m=0.1874),
        lambda: segment(2, 1, length_m=0.2, step_m=0.1872),
    ),
    ("tilt", lambda: hoop(2, tilt_deg=2.001), lambda: hoop(2, tilt_deg=1.999)),
    ("on_edge", lambda: hoop(2, tilt_deg=60.01), lambda: hoop(2, tilt_deg=59.99)),
    ("strain", lambda: hoop(2, strain_used=0.667), lambda: hoop(2, strain_used=2 / 3)),
    ("kink", lambda: hoop(2, strain_used=1.001), lambda: hoop(2, strain_used=1.0)),
    ("hem_clearance", lambda: hem(lowest=17 * INCH - 0.0016), lambda: hem(lowest=17 * INCH - 0.0015)),
    ("hem_clearance", lambda: hem(highest=21 * INCH + 0.0016), lambda: hem(highest=21 * INCH + 0.0015)),
    ("trip", lambda: hem(lowest=0.1015), lambda: hem(lowest=0.1017)),
    ("heel_through", lambda: near_floor(0.2539, 0.1525), lambda: near_floor(0.2541, 0.1525)),
    ("heel_through", lambda: near_floor(0.2539, 0.1525), lambda: near_floor(0.2539, 0.1523)),
    ("hip_close", lambda: hoop(1, clearance_m=0.0190), lambda: hoop(1, clearance_m=0.0191)),
    ("hip_close", lambda: touched(2, "wearer"), lambda: touched(1, "wearer")),
    ("hip_close", lambda: touched(1, "floor"), lambda: touched(1, "wearer")),
    ("hip_close", lambda: hoop(1, clearance_m=0.0), lambda: hoop(2, clearance_m=0.0)),
    ("door", lambda: whole(width_side_side_m=0.8637), lambda: whole(width_side_side_m=0.8635)),
]  # fmt: skip


@pytest.mark.parametrize(
    ("code", "beyond", "within"), LIMITS, ids=[f"{n} {case[0]}" for n, case in enumerate(LIMITS)]
)
def test_warns_beyond_the_limit_alone(
    code: str, beyond: Callable[[], Report], within: Callable[[], Report]
) -> None:
    assert texts(beyond(), code)
    assert not texts(within(), code)


def test_a_room_that_reads_as_what_is_usual_is_told_as_just_under_it() -> None:
    (close,) = texts(hoop(1, clearance_m=0.0190), "hip_close")
    assert "clears the wearer by just under 3/4 in; 3/4 in or more" in close
    (closer,) = texts(hoop(1, clearance_m=0.0125), "hip_close")
    assert "clears the wearer by only 1/2 in; 3/4 in or more" in closer


def test_looser_ties_are_a_way_out_only_where_there_are_some() -> None:
    told = hoop(2, strain_used=1.1)
    (without,) = texts(replace(told, ties=()), "kink")
    assert without.endswith("Use thinner steel or a longer hoop.")
    (drawn,) = texts(replace(told, ties=(TieReport("a", 0.3, 1.0, 0.0, False),)), "kink")
    assert drawn.endswith("Use thinner steel, a longer hoop or looser ties.")


def test_strained_and_kinked_are_two_things() -> None:
    assert texts(hoop(2, strain_used=1.0), "strain")
    assert not texts(hoop(2, strain_used=1.001), "strain")


def test_a_hem_too_low_is_shortened_and_one_too_high_lengthened() -> None:
    (low,) = texts(hem(lowest=16 * INCH, highest=21 * INCH), "hem_clearance")
    assert "Shorten the drops by 1 in where it is lowest" in low
    (high,) = texts(hem(highest=23 * INCH), "hem_clearance")
    assert "Lengthen the drops by 2 in where it is highest" in high


@pytest.mark.parametrize(
    ("lowest", "highest", "said"),
    [
        # Four inches are wanted and a sixteenth more at either end is level enough.
        (15.5, 17.0, "Shorten the drops by 1 1/2 in all round"),
        (16.0, 20.12, "Shorten the drops by 1 in all round"),
        (16.0, 20.13, "Shorten the drops by 1 in where it is lowest"),
        (20.0, 22.5, "Lengthen the drops by 1 1/2 in all round"),
        (17.5, 22.0, "Lengthen the drops by 1 in where it is highest"),
        (
            16.0,
            22.0,
            "Shorten the drops by 1 in where it is lowest and lengthen the drops by 1 in where it is highest",
        ),
    ],
)
def test_a_hem_level_enough_is_moved_all_round(lowest: float, highest: float, said: str) -> None:
    (text,) = texts(hem(lowest=lowest * INCH, highest=highest * INCH), "hem_clearance")
    assert said in text


def test_a_cage_too_wide_passes_sideways_where_it_is_narrow_enough() -> None:
    wide = whole(width_side_side_m=1.0, width_front_back_m=0.8635)
    assert "Sideways she passes" in texts(wide, "door")[0]
    assert "tilt or squeeze" in texts(whole(width_side_side_m=1.0, width_front_back_m=0.8637), "door")[0]


def test_two_slack_ties_do_nothing_in_the_plural() -> None:
    loose = TieReport("tie 1", 0.3, 0.0, INCH, False)
    assert texts(whole(ties=(loose,)), "slack_tie")[0].startswith(
        "Tie 1 (by 1 in) hangs slack and does nothing"
    )
    both = whole(ties=(loose, replace(loose, name="tie 2")))
    assert texts(both, "slack_tie")[0].startswith(
        "Tie 1 (by 1 in) and tie 2 (by 1 in) hang slack and do nothing"
    )


def test_the_worst_of_several_is_named() -> None:
    worst = segment(6, 2, length_m=0.2, step_m=0.195)
    both = replace(worst, tapes=tuple(
        replace(own, segments=tuple(replace(part, length_m=0.2, step_m=0.190) if part.to_hoop == 2 else part
                                    for part in own.segments)) if own.tape == 3 else own
        for own in worst.tapes
    ))  # fmt: skip
    assert "tapes 3 and 6 must step out" in texts(both, "tape_margin")[0]
    assert "(tape 6: 7 7/8 in long, steps 7 5/8 in)" in texts(both, "tape_margin")[0]  # 200 and 195 mm
    tilted = replace(hoop(1, tilt_deg=3.0), hoops=(
        replace(plain()[0].hoops[0], tilt_deg=3.0), plain()[0].hoops[1], replace(plain()[0].hoops[2], tilt_deg=4.0)
    ))  # fmt: skip
    assert texts(tilted, "tilt")[0].startswith("Hoops 1 and 3 hang tilted. Hoop 3, by 4.0 degrees")


def test_tapes_of_the_same_drops_are_told_once_and_slack_ones_apart() -> None:
    assert [kind.names for kind in tapes_alike(plain()[0])] == ["Tapes 1, 2, 3, 4, 5, 6, 7 and 8"]
    assert len(tapes_alike(segment(3, 2, slack_m=0.0009))) == 1
    loose = tapes_alike(segment(3, 2, slack_m=0.0011))
    assert [(kind.names, kind.slack) for kind in loose] == [
        ("Tapes 1, 2, 4, 5, 6, 7 and 8", "none"), ("Tape 3", "above hoop 2"),
    ]  # fmt: skip
    assert (loose[0].drops, loose[0].whole) == (("9", "8", "7"), "24")


def test_little_reserve_is_less_than_half_as_much_again() -> None:
    carried = CapacityReport(1.49, True, 2, "snaps over", None, None, None)
    assert "At 1.5 times the planned skirt hoop 2 snaps over" in little_reserve(carried)[0].text
    assert little_reserve(replace(carried, factor=1.5)) == ()
    assert little_reserve(replace(carried, reached=False)) == ()


def test_factors_in_words() -> None:
    assert [times(factor) for factor in (3.24, 1.0, 0.9996, 0.999, 0.5)] == [
        "3.2 times", "1.0 times", "1.0 times", "100% of", "50% of",
    ]  # fmt: skip


@pytest.mark.parametrize(("word", "degrees"), NAMED.items())
def test_a_side_reaches_an_eighth_of_the_way_to_both_hands(word: str, degrees: float) -> None:
    """Degrees from centre front round by her left."""
    for off in (-22, 0, 22):
        turn = np.radians(degrees + off)
        assert side_word(np.sin(turn), -np.cos(turn)) == word
    for off in (-23, 23):
        turn = np.radians(degrees + off)
        assert side_word(np.sin(turn), -np.cos(turn)) != word


@pytest.mark.parametrize(("height", "lies"), [(0.0009, True), (0.0011, False)])
def test_a_hoop_a_millimetre_from_the_floor_lies_on_it(height: float, lies: bool) -> None:
    _, settled = plain()
    lowest = float(settled.positions[settled.cage.connectivity.hoop_nodes[2], 2].min())
    lowered = settled.positions - [0.0, 0.0, lowest - height]
    pushed = np.zeros(len(settled.state.floor_push))
    pushed[settled.cage.connectivity.hoop_nodes[2][:2]] = 0.5, 0.25
    pushed[settled.cage.connectivity.hoop_nodes[1][0]] = 8.0
    forces = settled.state.forces | {"floor": pushed}
    down = replace(settled, state=replace(settled.state, positions=lowered, forces=forces))
    found = [(touch.hoop, touch.what, touch.force_N) for touch in touch_reports(down)]
    assert found == ([(3, "floor", 0.75)] if lies else [])
