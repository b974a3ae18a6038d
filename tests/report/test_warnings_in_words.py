"""What a warning says: which side, which steps, which units, and what to do about it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hung import codes, data, drops, hung, plain

from cage3d.design.read import read_data
from cage3d.report import Report, measure
from cage3d.report.summary import fine_at_most, summary
from cage3d.report.warnings.place import steps_under
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.units import show_length


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
