"""Ties that say on which side of her they run: how far round she is between two tapes, by hand."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hand.cage import PLAIN, changed
from scipy.integrate import quad

from cage3d.design.models import Design
from cage3d.design.points import way_round
from cage3d.design.read import read_data
from cage3d.design.rules import passing, remarks
from cage3d.errors import DesignError

# Hoop 1 hangs 199.6 mm below a waist that is 1 m up, and so does the hip, round with a radius of 150 mm.
ROUND = {"hip": 942.5, "hip_drop": 199.6, "hip_breadth": 300, "hip_depth": 300}
OVAL = {"hip": 800, "hip_drop": 200, "hip_breadth": 300, "hip_depth": 200}
WAIST = 0.6 / np.pi / 1.709  # m, half broad by the usual proportion of 1 to 0.709


def design_of(
    runs: str | None = None,
    length: float = 900,
    start: str = "hoop 1 tape 1",
    end: str = "hoop 1 tape 2",
    **more: Any,
) -> Design:
    tie = {"from": start, "to": end, "length": length} | ({"runs": runs} if runs else {})
    written = {"tapes": {"stations": "between"}, "wearer": ROUND, "ties": [tie]} | more
    return read_data(changed(PLAIN, written))


@pytest.mark.parametrize(
    ("start", "end", "side", "way"),
    [
        (0.125, 0.375, 0.25, 0.25), (0.125, 0.375, 0.75, -0.75), (0.875, 0.125, 0.0, 0.25),
        (0.875, 0.125, 0.5, -0.75), (0.375, 0.125, 0.25, -0.25), (0.375, 0.125, 0.0, 0.75), (0.1, 0.4, 0.4, 0.3),
    ],
)  # fmt: skip
def test_the_way_from_one_tape_to_another_past_a_side(
    start: float, end: float, side: float, way: float
) -> None:
    assert way_round(start, end, side) == pytest.approx(way)


@pytest.mark.parametrize(
    ("runs", "end", "turn"),
    [
        # Tapes stand at an eighth, three, five and seven eighths of a turn.
        ("left", "2", 0.25), ("behind", "2", 0.75), ("right", "2", 0.75), ("before", "2", 0.75), ("behind", "3", 0.5),
        ("before", "4", 0.25), ("left", "4", 0.75),
    ],
)  # fmt: skip
def test_a_tie_goes_round_a_round_hip(runs: str, end: str, turn: float) -> None:
    """As long as the turn of a circle of 150 mm, and not a millimetre less."""
    needed = 300 * np.pi * turn
    design_of(runs, float(np.ceil(needed)), end=f"hoop 1 tape {end}")
    with pytest.raises(DesignError, match="would have to go through her") as caught:
        design_of(runs, float(np.floor(needed)), end=f"hoop 1 tape {end}")
    (problem,) = caught.value.problems
    assert problem.where == "ties[0].length"
    assert f"({round(needed, 1):g} mm)" in problem.why


def test_the_least_of_her_between_the_levels_of_both_ends_counts() -> None:
    """From the waistband to the hip past her left: the waist, an oval of 223.5 by 158.5 mm, is less than the hip.

    A quarter of a turn about her left, by the angle as seen from her axis: tan t = b / a, t being the oval's own.
    """
    design = design_of("left", start="waistband tape 1")
    a, b = WAIST, 0.709 * WAIST
    begins = np.arctan2(b, a)
    arc, _ = quad(lambda t: np.hypot(a * np.cos(t), b * np.sin(t)), begins, np.pi - begins)
    ends = ((None, 1), (1, 2))
    assert passing.outline_between(design, design.ties[0], ends, (0.125, 0.375)) == pytest.approx(
        arc, rel=1e-4
    )


@pytest.mark.parametrize(
    ("below", "broad", "deep"),
    [
        (0.0, WAIST, 0.709 * WAIST),
        (0.1, (WAIST + 0.15) / 2, (0.709 * WAIST + 0.1) / 2),
        (0.2, 0.15, 0.1),
        # The crotch at 0.938, the knee at 0.55 of the hip's height of 0.8 m, half way between them; and below.
        (1 - 0.7504, 0.97 * 0.15, 0.85 * 0.1),
        (1 - 0.5952, 0.84 * 0.15, 0.70 * 0.1),
        (1 - 0.44, 0.67 * 0.15, 0.55 * 0.1),
        (1 - 0.088, 0.44 * 0.15, 0.40 * 0.1),
        (1.0, 0.50 * 0.15, 0.60 * 0.1),
    ],
)
def test_half_of_her_at_a_level(below: float, broad: float, deep: float) -> None:
    design = design_of(wearer=OVAL)
    assert passing.half_measures_at(design, below, (0.15, 0.1)) == pytest.approx((broad, deep))


def test_a_knee_that_was_measured() -> None:
    design = design_of(wearer=OVAL | {"knee_height": 500})
    assert passing.half_measures_at(design, 0.5, (0.15, 0.1)) == pytest.approx((0.67 * 0.15, 0.55 * 0.1))
    # Nine tenths of the usual 0.37 of the hip: knee and calf, and no more.
    thinner = design_of(wearer=OVAL | {"knee": 0.9 * 0.37 * 800})
    parts = [
        (0.44, 0.9, 0.67, 0.55),
        (0.3168, 0.9, 0.67, 0.55),
        (0.5952, 1.0, 0.84, 0.70),
        (0.088, 1.0, 0.44, 0.40),
    ]
    for height, share, broad, deep in parts:
        found = passing.half_measures_at(thinner, 1.0 - height, (0.15, 0.1))
        assert found == pytest.approx((share * broad * 0.15, share * deep * 0.1))
    assert passing.mean_waist_height(design) == 1.0
    uneven = {"front": 1000, "left": 1010, "back": 1030, "right": 1000}
    assert passing.mean_waist_height(design_of(wearer=OVAL | {"waist_height": uneven})) == pytest.approx(
        1.010
    )


def test_half_measures_of_a_hip_by_its_girth_alone() -> None:
    """800 / pi / 1.658, and 0.658 of it."""
    half = passing.half_measures_of_the_hip(design_of(wearer={"hip": 800, "hip_drop": 200}))
    assert half == pytest.approx((0.153588, 0.101061), rel=1e-5)
    assert passing.half_measures_of_the_hip(design_of(wearer=OVAL)) == pytest.approx((0.15, 0.1))
    assert passing.half_measures_of_the_hip(design_of(wearer={"waist": 600})) is None


@pytest.mark.parametrize(
    ("place", "side", "on_it"),
    [(0.0138, "before", True), (0.0140, "before", False), (0.9862, "before", True), (0.9860, "before", False),
     (0.4862, "behind", True), (0.236, "left", False), (0.2638, "left", True), (0.75, "right", True)],
)  # fmt: skip
def test_five_degrees_from_a_side_is_on_it(place: float, side: str, on_it: bool) -> None:
    assert passing.lies_on(place, side) == on_it


def faults(**more: Any) -> list[tuple[str, str, str]]:
    with pytest.raises(DesignError) as caught:
        design_of(**more)
    return [(problem.where, problem.said, problem.try_this) for problem in caught.value.problems]


def test_a_side_that_tells_no_way() -> None:
    assert faults(runs="left", end="waistband tape 1") == [("ties[0].runs", "left", "Leave out runs")]
    on = {"tapes": {"stations": "on"}}
    assert faults(runs="before", **on) == [("ties[0].runs", "before", "Write behind or right")]
    assert faults(runs="left", start="hoop 1 tape 2", end="hoop 1 tape 3", **on) == [
        ("ties[0].runs", "left", "Write before or right")
    ]


def test_without_a_hip_there_is_nobody_to_run_round() -> None:
    found = remarks(design_of("left", 200.0, wearer={"waist": 600}))
    assert [(one.where, one.said) for one in found] == [("ties[0].runs", "left")]
    assert remarks(design_of("left", 240.0)) == []


@pytest.mark.parametrize("runs", [None, "left"])
@pytest.mark.parametrize(("start", "end"), [("1", "4"), ("4", "1")])
def test_stations_that_are_too_few_are_what_is_told(runs: str | None, start: str, end: str) -> None:
    with pytest.raises(DesignError) as caught:
        design_of(
            runs, start=f"hoop 1 tape {start}", end=f"hoop 1 tape {end}", tapes={"stations": [0.1, 0.3, 0.6]}
        )
    assert [problem.where for problem in caught.value.problems] == ["tapes.stations"]
