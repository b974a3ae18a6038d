"""What is warned of in a cage that was placed by hand, and where."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from placed import OVAL, SADDLE, TURN, placed

from cage3d.report import measure
from cage3d.report.warnings import warnings_of
from cage3d.report.warnings.case import Case
from cage3d.report.warnings.place import steps_under
from cage3d.settle import SettledCage

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


def test_a_hoop_that_has_turned_over() -> None:
    """Left and right tape change places: seen from above the four stand round it the other way, and nothing folds."""
    turned = SADDLE.copy()
    turned[[4, 12]] = turned[[12, 4]]
    assert warned(placed(lower=turned), "hoop_turned") == [["2"]]
    assert warned(placed(lower=turned), "hoop_folds") == []
    assert warned(placed(), "hoop_turned") == []


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
