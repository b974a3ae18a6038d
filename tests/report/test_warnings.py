"""Each warning fires where it should, says what it is about, and is silent where it should be."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hung import WITH_HIP, codes, data, hung, plain

from cage3d.design.read import read_data
from cage3d.report import Report, measure
from cage3d.report.summary import fine_at_most, summary
from cage3d.report.warnings.place import steps_under
from cage3d.report.why_not import why_not
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.units import show_length

STRIP = {"width": "12 mm", "thickness": "0.6 mm"}
LONG = [9, 10, 10]
OPENED = [{"length": 52}, {"length": 62}, {"length": 90}]


def drops(**tapes: list[float]) -> dict[str, Any]:
    """Eight tapes alike, but for some: t3=[...]."""
    rows = [tapes.get(f"t{tape}", [9, 8, 7]) for tape in range(1, 9)]
    return {"count": 8, "drops": rows}


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


def text_of(report: Report, code: str) -> str:
    """The one warning with this code."""
    (text,) = (warning.text for warning in report.warnings if warning.code == code)
    return text


LOW_BACK = drops(**{f"t{tape}": [9, 8, 7 + 0.4 * min(tape - 1, 8 - tape)] for tape in range(1, 9)})


@pytest.mark.parametrize(
    ("reach", "tread", "steps"),
    [(0.30, None, 1), (0.10, 0.30, 1), (0.449, 0.30, 1), (0.45, 0.30, 2), (0.75, 0.30, 3)],
)
def test_steps_under_a_hem(reach: float, tread: float | None, steps: int) -> None:
    """From the middle of a step 30 cm deep the next edge is 15 cm away, the second 45, the third 75."""
    assert steps_under(reach, tread) == steps


@pytest.mark.parametrize(
    ("riser", "said"), [(18, "Swinging it catches all the same"), (19, "It must be lifted")]
)
def test_a_step_that_is_cleared_is_not_said_to_be_met(riser: int, said: str) -> None:
    """The plain cage's hem hangs 18 1/4 in up: over a step of 18 it has a quarter, over one of 19 none."""
    report, _ = hung(stage={"riser": riser}, hem={})
    assert said in text_of(report, "riser")


def test_small_lengths_are_in_the_makers_own_system() -> None:
    """0.3 mm are less than half a thirty-second of an inch (0.397 mm), 2.8 mm 3.5 of them."""
    report, _ = plain()
    assert fine_at_most(report, 0.0003) == "less than 1/32 in"
    assert fine_at_most(report, 0.0028) == "up to 1/8 in"
    assert fine_at_most(replace(report, units="cm"), 0.0028) == "up to 2.8 mm"


def test_the_front_counts_going_up_and_the_back_coming_down() -> None:
    """A hem that is high enough in front and too low behind, by its own heights in the table."""
    report, _ = hung(tapes=LOW_BACK, stage={"riser": 17}, hem={})
    hem = report.hoops[-1]
    assert hem.height_front_m > (17 + 1) * 0.0254 > hem.height_back_m
    text = text_of(report, "riser")
    assert "front" not in text
    assert "coming down, the back of the hem" in text
    turned = [list(row) for row in reversed([*LOW_BACK["drops"][4:], *LOW_BACK["drops"][:4]])]
    low_front, _ = hung(tapes=LOW_BACK | {"drops": turned}, stage={"riser": 17}, hem={})
    assert low_front.hoops[-1].height_front_m < low_front.hoops[-1].height_back_m
    assert "going up, the front of the hem" in text_of(low_front, "riser")
    assert "back" not in text_of(low_front, "riser")


def test_cloth_on_the_floor_behind_is_told_there() -> None:
    """A skirt that just clears the floor in front: where it lies follows from the heights of the hem hoop."""
    report, _ = hung(tapes=LOW_BACK, skirt={"weight": "0.3 kg", "below_hem": 17.5}, hem={})
    high, low = report.hoops[-1].height_front_m / 0.0254, report.hoops[-1].height_back_m / 0.0254
    assert high > 17.5 > low
    text = text_of(report, "skirt_on_floor")
    assert "at the back" in text
    assert "front" not in text


def test_a_skirt_adds_an_inch_on_each_side_at_the_door() -> None:
    """70 in round are 22.3 in across: bare through 23 1/2 in, and not with the skirt."""
    bare, _ = hung(stage={"door": 23.5})
    assert "door" not in codes(bare)
    dressed, _ = hung(stage={"door": 23.5}, skirt={"weight": "0.2 kg"}, hem={})
    assert "With its skirt (1 in on each side" in text_of(dressed, "door")
    wide = dressed.width_side_side_m + 2 * 0.0254
    assert f"{show_length(wide, 'in')} wide" in text_of(dressed, "door")


def test_a_level_hem_is_moved_all_round() -> None:
    """Changed where it is highest alone, a level hem would tilt."""
    report, _ = hung(hem={"clearance": [8, 10]})
    assert "all round" in text_of(report, "hem_clearance")
    uneven, _ = hung(tapes=LOW_BACK, hem={"clearance": [17, 17.5]})
    assert "where it is highest" in text_of(uneven, "hem_clearance")


def test_what_happened_on_the_way_is_told() -> None:
    _, settled = plain()
    report = measure(replace(settled, notes=("hoop 1 snapped to another shape",)))
    assert codes(report) == ["on_the_way"]
    assert report.warnings[0].text == "Hoop 1 snapped to another shape."


def test_lengths_in_the_designs_units() -> None:
    metric = data(units="mm", wearer={"waist": 660, "waist_height": 1054}, waistband={"depth": 25})
    metric |= {"tapes": {"count": 8, "drops": [230, 200, 180]}, "hem": {"clearance": [200, 250]}}
    metric |= {"hoops": [{"length": 1320}, {"length": 1570}, {"length": 1780}], "stage": {}}
    report = measure(settle(lay_out(read_data(metric), 32)))
    text = next(warning.text for warning in report.warnings if warning.code == "hem_clearance")
    assert "200 mm to 250 mm" in text
    assert " in " not in text.replace(" in to", "")


def test_what_bends_round_her_is_told() -> None:
    """A waist far narrower than the hip close below it: tapes lie on it, and a tie goes round it, not through it."""
    wearer = {"waist": 24, "waist_height": 41.5, "hip": 44, "hip_drop": 4}
    ties = [{"from": "hoop 1 tape 2", "to": "hoop 1 tape 6", "length": 19}]
    report, settled = hung(
        wearer=wearer, hoops=[{"length": 52}, {"length": 62}, {"length": 70}], hem={}, ties=ties
    )
    assert [tie.on_wearer for tie in report.ties] == [True]
    lying = {(tape.tape, part.to_hoop) for tape in report.tapes for part in tape.segments if part.on_wearer}
    assert lying == {(1, 1), (7, 1), (8, 1)}, (
        "the tie draws the hoop aside; other tapes hang slack or clear her"
    )
    row = settled.cage.connectivity.segment_count
    way = settled.state.ways[row]
    assert np.linalg.norm(np.diff(way, axis=0), axis=1).sum() == pytest.approx(
        settled.pull_spans[row], abs=1e-5
    )
    form = settled.cage.form
    assert form is not None
    assert form.clearance(way).min() > 0.0
    text = "\n".join(summary(report))
    assert "Tie 1 bends round the wearer." in text
    assert "Tapes 1, 7 and 8 to hoop 1 lie on the wearer." in text
    without, _ = hung(wearer={"waist": 24, "waist_height": 41.5}, hem={}, ties=ties)
    assert "round the wearer" not in "\n".join(summary(without))
