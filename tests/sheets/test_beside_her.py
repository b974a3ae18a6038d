"""Hoops beside her on the sheets: heights, effects and girths by their own sides, against values by hand."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from types import SimpleNamespace
from typing import Any, cast

from made import hung_design, pages_of

from cage3d.design.read import read_data
from cage3d.report import Report
from cage3d.report.foreseen import MarkReport, SlipReport
from cage3d.settle import SettledCage
from cage3d.sheets import make_sheets
from cage3d.sheets.assembly.hanging import places
from cage3d.sheets.balancing import heights_of, out_of_round
from cage3d.sheets.effects import effect_rows
from cage3d.sheets.making import Making

INCH = 0.0254
OTHER = {"left": "right", "right": "left"}
BOWS: dict[str, Any] = {
    "name": "bows",
    "units": "in",
    "wearer": {"waist": 26, "waist_height": 41.5, "hip": 39, "hip_drop": 8},
    "steel": {"width": "7 mm", "thickness": "0.5 mm"},
    "tapes": {"count": 8, "drops": [10]},
    "hoops": [
        {"length": 22, "beside": side, "opening": opening, "ends": "sewn"} for side, opening in OTHER.items()
    ],
    "ties": [
        {"from": "hoop 1 tape 1", "to": "hoop 1 tape 4", "length": 12, "runs": "left"},
        {"from": "hoop 2 tape 8", "to": "hoop 2 tape 5", "length": 12, "runs": "right"},
    ],
}


@cache
def hung() -> tuple[SettledCage, Report]:
    return hung_design(read_data(BOWS))


def test_heights_stand_in_the_order_front_outside_back_next_to_her() -> None:
    """Front 1, left 2, back 3, right 4 m: the outside of a hoop at her right is its right."""
    own = replace(
        hung()[1].hoops[0], height_front_m=1.0, height_left_m=2.0, height_back_m=3.0, height_right_m=4.0
    )
    for beside, order in ((None, (1, 2, 3, 4)), ("left", (1, 2, 3, 4)), ("right", (1, 4, 3, 2))):
        assert heights_of(replace(own, beside=beside)) == order


def test_a_bows_end_in_front_which_is_next_to_her_too_is_told_once() -> None:
    move = INCH / 16
    slip = SlipReport(-move, 0.0, 0.0, -move)  # front, left, back, right
    other = SlipReport(0.0, move, 0.0, -move)
    of = [
        MarkReport(tape, hoop, 0.0, 0.0, 0.0, 0.0, INCH / 8, slip, other) for tape, hoop in ((1, 1), (8, 2))
    ]
    told = effect_rows(replace(hung()[1], marks=tuple(of)), ["L"] * 4 + ["R"] * 4)
    assert told[0].low == "front ¹⁄₁₆ in lower"
    assert told[0].high == "outside ¹⁄₁₆ in higher, next to her ¹⁄₁₆ in lower"
    assert told[1].low == "front ¹⁄₁₆ in lower, outside ¹⁄₁₆ in lower"
    assert told[1].high == "next to her ¹⁄₁₆ in higher, outside ¹⁄₁₆ in lower"


def cut(beside: str | None, closed: bool) -> SimpleNamespace:
    return SimpleNamespace(beside=beside, closed=closed)


def making(*cuts: SimpleNamespace) -> Making:
    return cast(Making, SimpleNamespace(cuts=cuts, design=SimpleNamespace(stuff="steel", line="tape")))


def test_what_is_said_of_joins_and_sides_goes_by_the_hoops_that_there_are() -> None:
    bow, ring, round_her = cut("left", False), cut("left", True), cut(None, True)
    assert "join" not in out_of_round(making(bow, bow), "kink")
    assert "join too near a tape" in out_of_round(making(bow, ring), "kink")
    assert "join too near a tape" in out_of_round(making(cut(None, False)), "kink")
    assert places(making(round_her)) == "front, sides and back"
    own = "at its own front and back, its outside and next to her"
    assert places(making(bow, ring)) == f"each hoop {own}"
    assert places(making(bow, round_her)) == f"front, sides and back, hoops beside her each {own}"


def test_the_table_of_heights_names_the_own_sides_of_hoops_beside_her() -> None:
    pages = pages_of(make_sheets(*hung()).pdf)
    words = " ".join(" ".join(page.text.split()) for page in pages)
    assert "Hoop Its front Its outside Its back Next to her" in words
    assert "Her right" not in words
    assert "next to her an open one has no steel" in words
    assert "CF centre front" not in words
    assert "Tapes are numbered from centre front" in words
    assert "Write L or R, the wearer's own, on each steel and tape" in words
