"""Each warning fires where it should, says what it is about, and is silent where it should be."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hung import WITH_HIP, codes, drops, hung, plain

from cage3d.report import measure
from cage3d.report.why_not import why_not

STRIP = {"width": "12 mm", "thickness": "0.6 mm"}
LONG = [9, 10, 10]
OPENED = [{"length": 52}, {"length": 62}, {"length": 90}]


CASES: dict[str, tuple[dict[str, Any], dict[str, Any], list[str]]] = {
    # code: (fires, does not fire, words it must hold)
    "slack_tape": (
        {"tapes": drops(t3=[11, 8, 7])},
        {},
        ["tape 3 above hoop 1", "shorten the slack drops", "in)"],
    ),
    "slack_tie": (
        {"ties": [{"from": "hoop 2 tape 3", "to": "hoop 2 tape 6", "length": 30}]},
        {"ties": [{"from": "hoop 2 tape 3", "to": "hoop 2 tape 6", "length": 16}]},
        ["Tie 1", "slack"],
    ),
    "tape_margin": (
        {"tapes": {"count": 8, "drops": [4.5, 8, 7]}, "hem": {}},
        {},
        ["hoop 1", "4 1/2 in long", "Lengthen"],
    ),
    "tilt": (
        {"tapes": drops(t1=[7, 8, 7], t8=[7, 8, 7], t4=[10, 8, 7], t5=[10, 8, 7]), "hem": {}},
        {},
        ["degrees", "at the back", "at the front", "shorten the drops at the back"],
    ),
    "strain": (
        {"steel": STRIP | {"thickness": "1.6 mm"}},
        {},
        ["radius of", "% of what its steel bears"],
    ),
    "kink": (
        {"steel": STRIP | {"thickness": "2.6 mm"}},
        {"steel": STRIP | {"thickness": "1.6 mm"}},
        ["keep a kink"],
    ),
    "hem_clearance": (
        {"hem": {"clearance": [8, 10]}},
        {"hem": {"clearance": [17, 21]}},
        ["8 in to 10 in is wanted", "Lengthen the drops by"],
    ),
    "trip": ({"wearer": {"waist": 26, "waist_height": 26}, "hem": {}}, {}, ["steps on it", "4 in"]),
    "on_floor": (
        {
            "wearer": {"waist": 26, "waist_height": 23.45},
            "hem": {},
            "tapes": drops(t4=[9, 8, 9], t5=[9, 8, 9]),
        },
        {"wearer": {"waist": 26, "waist_height": 25}, "hem": {}, "tapes": drops(t4=[9, 8, 9], t5=[9, 8, 9])},
        ["Hoop 3 lies on the floor at the back"],
    ),
    "heel_through": (
        {"wearer": {"waist": 26, "waist_height": 32}, "hem": {}},
        {"wearer": {"waist": 26, "waist_height": 32}, "hem": {}, "tapes": {"count": 8, "drops": [9, 9, 5.5]}},
        ["two lowest hoops", "6 in"],
    ),
    "hip_close": (
        {"wearer": WITH_HIP, "hoops": [{"length": 44}, {"length": 62}, {"length": 70}], "hem": {}},
        {"wearer": WITH_HIP, "hoops": [{"length": 56}, {"length": 62}, {"length": 70}], "hem": {}},
        ["top hoop", "3/4 in"],
    ),
    "on_wearer": (
        {"wearer": WITH_HIP, "hoops": [{"length": 41}, {"length": 62}, {"length": 70}], "hem": {}},
        {"wearer": WITH_HIP},
        ["Hoop 1 lies on the wearer"],
    ),
    "door": (
        {"stage": {"door": 20}},
        {"stage": {"door": 30}},
        ["wide and the door 20 in", "tilt or squeeze"],
    ),
    "riser": (
        {"stage": {"riser": 18}},
        {"stage": {"riser": 7}},
        ["riser is 18 in", "going up, the front", "coming down, the back"],
    ),
    "skirt_on_floor": (
        {"skirt": {"weight": "0.5 kg", "below_hem": 20}},
        {"skirt": {"weight": "0.5 kg", "below_hem": 16}},
        ["20 in below the hem hoop", "all round"],
    ),
}


@pytest.mark.parametrize("code", CASES)
def test_warning_fires_and_says_what_to_do(code: str) -> None:
    fires, _, words = CASES[code]
    report, _ = hung(**fires)
    assert report.trusted
    texts = [warning.text for warning in report.warnings if warning.code == code]
    assert texts, codes(report)
    for word in words:
        assert word in " ".join(texts)


@pytest.mark.parametrize("code", CASES)
def test_warning_is_silent_where_all_is_well(code: str) -> None:
    _, silent, _ = CASES[code]
    report, _ = hung(**silent)
    assert code not in codes(report)


def test_a_plain_cage_gives_no_warning() -> None:
    assert codes(plain()[0]) == []


def test_the_whole_cage_counts_at_the_door_and_not_the_hem_alone() -> None:
    """A lantern: the middle hoop is the widest, and the hem alone would pass."""
    hoops = [{"length": 52}, {"length": 80}, {"length": 60}]
    report, _ = hung(hoops=hoops, stage={"door": 24}, hem={})
    assert report.hem.widest_m < 24 * 0.0254
    assert "door" in codes(report)


def test_sideways_through_the_door() -> None:
    """An oval kept by ties passes turned sideways."""
    ties = [
        {"from": f"hoop {hoop} tape {one}", "to": f"hoop {hoop} tape {other}", "length": length}
        for hoop, length in ((1, 12), (2, 14), (3, 16))
        for one, other in ((1, 4), (8, 5))
    ]
    report, _ = hung(ties=ties, stage={"door": 22}, hem={})
    door = next(warning for warning in report.warnings if warning.code == "door")
    assert "Sideways she passes" in door.text


def test_a_cage_that_did_not_settle_says_only_that() -> None:
    report, settled = plain()
    unsettled = replace(settled, settled=False, stable=False, residual=0.4, worst_node="hoop 2 at tape 3")
    lame = measure(unsettled)
    assert codes(lame) == ["not_settled"]
    assert "hoop 2 at tape 3" in lame.warnings[0].text
    assert "not an answer" in lame.warnings[0].text
    assert not lame.trusted
    assert report.trusted


def test_an_unstable_cage_says_so() -> None:
    _, settled = plain()
    report = measure(replace(settled, stable=False, lowest_eigenvalue=-0.3))
    assert codes(report) == ["not_stable"]


def test_a_hoop_that_lies_on_the_floor_has_no_place_of_its_own() -> None:
    """Without friction it can slide: no answer, and the reason is said."""
    round_waist = {"waist": 26, "waist_height": 22, "waist_breadth": 8.28, "waist_depth": 8.28}
    report, settled = hung(wearer=round_waist, hem={})
    assert codes(report)[:2] == ["not_stable", "on_floor"]
    # Drops of 9, 8 and 7 in and steps of 4.14, 1.59 and 1.27 in reach 22.72 in down from a band edge at 21.5 in.
    said = str(why_not(settled, "design.yaml"))
    assert "hoop 3 lies on the floor" in said
    assert "the hem would be 1 1/4 in below it" in said
    assert "Shorten the drops by 5 1/4 in or more all round" in said
    assert "no shape" not in said
