"""What is wished of the hem by its sides and widths: reported, warned of, sought, and what cannot be wished."""

from __future__ import annotations

from functools import cache

import pytest
from petticoat import GOOD, problems_of

from cage3d.design.read import read_text
from cage3d.report import measure
from cage3d.report.wishes import wish_lines
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.sheets.assembly.hanging import hanging_step
from cage3d.sheets.making import prepared
from cage3d.study.aiming.wishes import wishes_of

NODES = 48
DIPPED = (
    "  drops: [[8 1/4, 6, 5 1/2, 5], [8 1/2, 6, 5 1/2, 5], [9, 6, 5 1/2, 5], [9 1/4, 6, 5 1/2, 5], "
    + ", ".join(["[9 1/4, 6, 5 1/2, 5]", "[9, 6, 5 1/2, 5]", "[8 1/2, 6, 5 1/2, 5]", "[8 1/4, 6, 5 1/2, 5]]"])
)


@cache
def hung(hem: str, drops: str = DIPPED) -> SettledCage:
    text = GOOD.replace("  drops: [8 1/4, 6, 5 1/2, 5]", drops) + (f"hem: {{{hem}}}\n" if hem else "")
    return settle(lay_out(read_text(text, "petticoat.yaml"), NODES))


def codes(hem: str) -> dict[str, str]:
    return {warning.code: warning.text for warning in measure(hung(hem)).warnings}


def test_a_dip_that_is_wished_is_no_tilt_to_mind() -> None:
    assert "If that is not wanted" in codes("")["tilt"], "an inch at the back is some two and a half degrees"
    assert "tilt" not in codes("front: 17 to 18 1/2, back: 16 to 17")
    assert "hem_clearance" not in codes("front: 17 to 18 1/2, back: 16 to 17")


@pytest.mark.parametrize("hem", [
    "clearance: 16 to 18 1/2", "back: 16 to 17", "front: 16 to 17, back: 17 to 18 1/2",
    "left: 16 to 17, right: 18 to 19",
])  # fmt: skip
def test_what_does_not_ask_for_that_dip_leaves_it_told(hem: str) -> None:
    assert "If that is not wanted" in codes(hem)["tilt"]


def test_a_steeper_tilt_than_is_wished_is_told() -> None:
    """Wished to dip by a quarter of an inch; 2 degrees beside what is wished are left out, more are not."""
    steep = DIPPED.replace("9 1/4", "12").replace("[9,", "[10 1/2,")
    settled = hung("front: 16 to 18 1/2, back: 15 7/8 to 16", steep)
    assert any(warning.code == "tilt" for warning in measure(settled).warnings)


def test_report_and_json_say_what_is_met_and_what_is_not() -> None:
    settled = hung("front: 17 to 18 1/2, back: 14 to 15, width: 22 to 25")
    report = measure(settled)
    assert [one.what for one in report.wished] == ["front", "back", "side_to_side", "front_to_back"]
    assert [one.met for one in report.wished] == [True, False, True, True]
    lowest = report.hoops[-1]
    assert report.wished[1].is_m == lowest.height_back_m
    (line,) = wish_lines(report)
    assert line.startswith("The hem as it is wanted: front ")
    assert ". Not as wanted: back " in line
    assert wish_lines(measure(hung(""))) == []
    step = hanging_step(prepared(settled.cage, report, None)).text
    assert (
        "; of its own are wanted 17 to 18¹⁄₂ in at the front, 14 to 15 in at the back, 22 to 25 in from"
        in step
    )


def test_each_side_that_is_off_is_told_with_what_to_change() -> None:
    """Two sides alike are one; a clearance is of the sides that have no wish of their own."""
    text = codes("front: 10 to 12, clearance: 20 to 21")["hem_clearance"]
    assert text.startswith("The hem hangs 17 ")
    assert " above the floor at the front, where 10 in to 12 in is wanted, " in text
    assert " above the floor at the two sides, where 20 in to 21 in is wanted and " in text
    assert ". Lengthen the drops by " in text
    assert " at the front, shorten the drops by " in text


def test_as_low_as_is_wished_is_told_so() -> None:
    """The hem hangs 16 to 17 in up; drops of two feet more bring it to the floor's neighbourhood."""
    low = DIPPED.replace(", 5]", ", 18 1/2]")
    settled = hung("front: 3 to 5, back: 2 to 4", low)
    (trip,) = (warning for warning in measure(settled).warnings if warning.code == "trip")
    assert "at the back, as is wanted" in trip.text
    (trip,) = (warning for warning in measure(hung("front: 3 to 5", low)).warnings if warning.code == "trip")
    assert "Shorten the drops" in trip.text


def test_aim_seeks_the_middle_of_what_the_hem_asks_beside_what_is_wanted() -> None:
    text = GOOD + "hem: {front: 17 to 18, sides: 16 to 17, width: 24 to 25}\n"
    found = {
        wish.figure.name: round(wish.value / 0.0254, 6)
        for wish in wishes_of(read_text(text, "petticoat.yaml"))
    }
    assert found == {
        "hoop 4 height front": 17.5, "hoop 4 height left": 16.5, "hoop 4 height right": 16.5,
        "hoop 4 side to side": 24.5, "hoop 4 front to back": 24.5,
    }  # fmt: skip
    both = read_text(text + "wanted: [{hoop: 4, front: 17 1/4}]\n", "petticoat.yaml")
    assert {wish.figure.name: wish.value for wish in wishes_of(both)}["hoop 4 height front"] == pytest.approx(
        17.25 * 0.0254
    )
    assert wishes_of(read_text(GOOD + "hem: {clearance: 17 to 18}\n", "petticoat.yaml")) == ()


def test_beside_another_wish_the_clearance_is_one_for_the_other_sides() -> None:
    """Front and sides in the middle of 17 to 18, the back of 15 to 16; what `wanted` says of one side goes before."""
    dip = GOOD + "hem: {clearance: 17 to 18, back: 15 to 16}\n"
    assert heights_wished(dip) == {"front": 17.5, "left": 17.5, "back": 15.5, "right": 17.5}
    assert heights_wished(dip + "wanted: [{hoop: 4, left: 17 1/4}]\n")["left"] == 17.25
    wide = GOOD + "hem: {clearance: 17 to 18, width: 24 to 25}\n"
    assert heights_wished(wide) == dict.fromkeys(("front", "left", "back", "right"), 17.5)
    assert heights_wished(GOOD + "hem: {back: 15 to 16}\n") == {"back": 15.5}


def heights_wished(text: str) -> dict[str, float]:
    """in, at each side that is aimed at."""
    wishes = wishes_of(read_text(text, "petticoat.yaml"))
    heights = [wish for wish in wishes if wish.figure.kind.startswith("height")]
    return {wish.figure.kind.removeprefix("height "): round(wish.value / 0.0254, 6) for wish in heights}


WRONG = {
    "front: 18 to 17": ("the least height is more than the most", "Write [least, most]"),
    "width: [30, 20]": ("the least width is more than the most", "Write [least, most]"),
    "back: 40 to 42": ("the hem would hang above the waist", "height above the floor"),
    "sides: 10 to 12, left: 9 to 10, right: 9 to 10": ("sides says nothing", "Leave one of them out"),
    "width: 40 to 45": ("can never be as wide as that", "37 in or less, or a longer hoop"),
}


@pytest.mark.parametrize("hem", WRONG)
def test_what_cannot_be_wished(hem: str) -> None:
    why, try_this = WRONG[hem]
    (problem,) = problems_of(GOOD + f"hem: {{{hem}}}\n")
    assert problem.line == 15
    assert why in problem.why
    assert try_this in problem.try_this


def test_two_wishes_for_one_thing() -> None:
    (problem,) = problems_of(GOOD + "hem: {front: 17 to 18}\nwanted: [{hoop: 4, height: 16}]\n")
    assert "under hem 17 in to 18 in is wanted of the same" in problem.why
    read_text(GOOD + "hem: {front: 17 to 18}\nwanted: [{hoop: 4, height: 17}]\n", "petticoat.yaml")
    read_text(GOOD + "hem: {front: 17 to 18}\nwanted: [{hoop: 3, height: 22}]\n", "petticoat.yaml")


def test_a_comma_in_a_wish_is_a_decimal_comma() -> None:
    (problem,) = problems_of(GOOD.replace("units: in", "units: cm") + "hem: {front: [17,5, 18]}\n")[-1:]
    assert "comma" in problem.why
