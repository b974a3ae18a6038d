"""A design on its own cloth: its levels, ease, gap and weight are moved; values by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from fitted import ON_CLOTH, page_of, served
from gored import TEXT as CONE_TEXT

from cage3d.errors import CageError, DesignError
from cage3d.flow import settle_file
from cage3d.live.fitting import Opened, nearest_that_can_be, open_text
from cage3d.live.joined import joined
from cage3d.live.saving import saved
from cage3d.live.seeking import beside_waves, sought_values
from cage3d.report import measure, report_json
from cage3d.scene.pulls import pull_lines
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.grading.drops import hem_of
from cage3d.units import INCH

TEXT = ON_CLOTH[0].read_text("utf-8")
LEVELS = "levels: [9 1/2, 16, 22, 28, 33 3/4]"
FOURTH = "cloth.levels[3][2]"  # seam 4, hoop 3
BY_SIDE = "levels: {front: [9 1/2, 16, 22, 28, 33 3/4], back: [10, 17, 23, 29, 35]}"
CUT = "girths: [55 1/2, 67, 75, 84, 91]"


def opened(*changes: tuple[str, str], path: Path = Path("petticoat.yaml")) -> Opened:
    """The sample with some of its text changed."""
    text = TEXT
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return open_text(path, text)


def test_what_such_a_design_has():
    design = opened()
    assert list(dict.fromkeys(one.group for one in design.controls.values())) == [
        "Lengths", "Levels", "Cloth", "Panels", "Skirt", "Steel"]  # fmt: skip
    texts = {place: one.text for place, one in design.controls.items() if one.group == "Cloth"}
    assert texts == {"cloth.ease": "1 %", "cloth.gap": "8", "cloth.fabric": "140 g/m2"}
    weight = design.controls["cloth.fabric"]
    assert (weight.value, weight.unit, weight.text_of(0.155)) == (pytest.approx(0.14), "g/m2", "155 g/m2")
    laces = [one.text for one in design.controls.values() if one.group == "Panels"]
    assert laces == ["13", "14 1/2", "15 1/2"]


def test_what_does_nothing_is_no_slider():
    closed = opened((", opening: front", ", join: {overlap: 2}"))
    assert "cloth.gap" not in closed.controls
    by_name = opened(("fabric: 140 g/m2", "fabric: calico"))
    assert "cloth.fabric" not in by_name.controls
    cut = opened(("ease: 1 %", CUT))
    assert "cloth.ease" not in cut.controls
    assert (cut.controls["cloth.girths[1]"].name, cut.controls["cloth.girths[1]"].text) == (
        "Cloth girth at hoop 2", "67")  # fmt: skip
    girths = next(
        one for one in joined(cut.design, list(cut.controls.values())) if one["name"] == "All girths"
    )
    assert girths["places"] == [f"cloth.girths[{hoop}]" for hoop in range(5)]


def test_which_part_of_the_picture_a_slider_belongs_to():
    parts = {place: one.part for place, one in opened(("ease: 1 %", CUT)).controls.items()}
    assert parts[FOURTH] == {"group": "cloth", "number": 4}
    assert parts["cloth.girths[1]"] == {"group": "hoops", "number": 2}
    assert parts["cloth.gap"] is None
    sided = opened((LEVELS, BY_SIDE)).controls["cloth.levels.back[2]"]
    assert (sided.part, sided.name, sided.text) == (
        {"group": "hoops", "number": 3}, "Level 3 at the back", "23")  # fmt: skip


def test_what_moves_together():
    """Seams at 12, 23, 36 % and as far the other way: cos 43.2 = 0.729, cos 82.8 = 0.1253, cos 129.6 = -0.6374."""
    design = opened()
    told = {one["name"]: one for one in joined(design.design, list(design.controls.values()))}
    assert not {"All drops", "Drop 1 all round"} & told.keys()
    tilt = told["Level 3 back against front"]
    assert tilt["places"] == [f"cloth.levels[{seam}][2]" for seam in range(6)]
    assert tilt["shares"] == pytest.approx([-1, -0.1719, 0.8744, 0.8744, -0.1719, -1], abs=1e-4)
    below = told["Level 4 and all below"]
    assert (below["at"], len(below["places"]), set(below["shares"])) == (3, 12, {1.0})
    assert (told["All levels"]["at"], len(told["All levels"]["places"])) == (None, 30)
    assert "Level 5 and all below" not in told  # that is level 5 all round


def test_levels_by_side_move_together():
    design = opened((LEVELS, BY_SIDE))
    told = {one["name"]: one for one in joined(design.design, list(design.controls.values()))}
    tilt = told["Level 2 back against front"]
    assert tilt["places"] == ["cloth.levels.front[1]", "cloth.levels.back[1]"]
    assert tilt["shares"] == [-1.0, 1.0]
    moved = design.design_with({"cloth.levels.front[1]": "15", "cloth.levels.back[1]": "18"})
    assert moved.cloth is not None
    assert moved.cloth.levels_at_seams()[0][1] == pytest.approx(  # 12 %: half way, and cos 43.2 of the half difference
        (16.5 - 1.5 * 0.728969) * INCH, abs=1e-7)  # fmt: skip


def test_one_seam_has_a_row_of_its_own_and_all_of_them_alike_have_one(tmp_path: Path):
    path = tmp_path / "petticoat.yaml"
    path.write_text(TEXT, "utf-8")
    design = opened(path=path)
    saved(design, {FOURTH: "22 1/4"})
    row, own = "[9 1/2, 16, 22, 28, 33 3/4]", "[9 1/2, 16, 22 1/4, 28, 33 3/4]"
    after = path.read_text("utf-8")
    assert after.replace(" ", "").replace("\n", "").count(own.replace(" ", "")) == 1
    assert after.replace(" ", "").replace("\n", "").count(row.replace(" ", "")) == 5
    path.write_text(TEXT, "utf-8")
    saved(design, {f"cloth.levels[{seam}][2]": "22 1/4" for seam in range(6)})
    assert path.read_text("utf-8") == TEXT.replace(LEVELS, f"levels: {own}")


def test_the_nearest_of_a_level_is_as_far_down_as_the_hoops_want():
    """Hoops 4 and 5, 83 and 90 in round, lie 7 / 2 pi = 1.114 in apart, and hoop 4 28 in down: of eighths 29 1/8."""
    design = opened()
    refused = {f"cloth.levels[{seam}][4]": "26" for seam in range(6)}
    with pytest.raises(DesignError):
        design.design_with(refused)
    assert set(nearest_that_can_be(design, {}, refused).values()) == {"29 1/8"}


def test_a_seam_that_is_warned_of_as_slack_is_drawn_so():
    """Cloth half way to the seams beside it may pull meanwhile: that is told with the seam, and does not hide it."""
    settled = settle(lay_out(opened().design_with({FOURTH: "24"})))
    report = measure(settled)
    (said,) = (warning.text for warning in report.warnings if warning.code == "slack_tape")
    drawn = [pull for pull in pull_lines(settled, report) if pull.group == "cloth" and pull.slack > 0.0016]
    assert "seam 4 above hoop 3" in said
    longest = max(drawn, key=lambda pull: pull.slack)
    assert (longest.number, longest.slack > 0.01, longest.words[:6]) == (4, True, "slack ")


def test_the_way_back_moves_levels_of_the_seams_that_are_free():
    """The hem of a cone that hangs 265 mm above the floor, wanted 10 mm lower in front and 10 mm higher behind."""
    wanted = "wanted: [{hoop: 3, front: 255, left: 265, back: 275, right: 265}]"
    design = open_text(Path("cone.yaml"), f"{CONE_TEXT}{wanted}\n")
    free = [f"cloth.levels[{seam}][2]" for seam in range(6)]
    values, said = sought_values(design, {}, free, print)
    assert said.startswith("Reached:")
    assert values
    assert set(values) <= set(free)
    moved = settle(lay_out(design.design_with(values)))
    assert hem_of(moved) == pytest.approx([0.255, 0.265, 0.275, 0.265], abs=0.0032)
    with pytest.raises(CageError, match="Set some lengths, levels or ties free"):
        sought_values(design, {}, ["cloth.gap"], print)


def test_rows_that_are_free_all_round_keep_left_and_right_alike():
    """All of a cone's levels are free: seam 1 goes as 6, 2 as 5, 3 as 4; one seam alone goes for itself."""
    wanted = "wanted: [{hoop: 3, front: 255, left: 265, back: 275, right: 265}]"
    design = open_text(Path("cone.yaml"), f"{CONE_TEXT}{wanted}\n")
    free = [place for place in design.controls if place.startswith("cloth.levels")]
    values, said = sought_values(design, {}, free, print)
    assert said.startswith("Reached:")
    for seam, other in ((0, 5), (1, 4), (2, 3)):
        assert values.get(f"cloth.levels[{seam}][2]") == values.get(f"cloth.levels[{other}][2]")
    assert beside_waves(["seam 1 level 2", "hoop 1 length"], ["seam 2 level 2"]) == [
        "seam 1 level 2",
        "hoop 1 length",
    ]
    assert beside_waves(["seam 1 level 2", "seam 2 level 2"], ["seam 1 level 3"]) == []


def test_what_waves_cannot_give_is_sought_seam_by_seam():
    """Higher at her left than at her right, which no wave of front, back and sides is."""
    wanted = "wanted: [{hoop: 3, left: 275, right: 255}]"
    design = open_text(Path("cone.yaml"), f"{CONE_TEXT}{wanted}\n")
    free = [f"cloth.levels[{seam}][2]" for seam in range(6)]
    values, said = sought_values(design, {}, free, print)
    assert said.startswith("Reached:")
    heights = hem_of(settle(lay_out(design.design_with(values))))
    assert heights[[1, 3]] == pytest.approx([0.275, 0.255], abs=0.0032)


def test_it_is_dragged_rested_and_saved(tmp_path: Path):
    """Told at rest is what `check` says of the saved file."""
    path = tmp_path / "petticoat.yaml"
    path.write_text(TEXT, "utf-8")
    with served(path) as fitting, page_of(fitting) as page:
        assert page.opened["aimable"][4:6] == ["hoops[4].length", "cloth.levels[0][0]"]
        assert len(page.opened["aimable"]) == 5 + 6 * 5 + 3  # hoops, seams by levels, widths of the panel
        for text in ("22 1/4", "22 1/2", "22 3/4"):
            assert page.move({FOURTH: text, "cloth.fabric": "200 g/m2"})["kind"] == "shape"
        values = {FOURTH: "22 3/4", "cloth.fabric": "200 g/m2"}
        assert page.move(values, rest=True)["kind"] == "shape"
        told = page.until("figures", seq=page.seq, foretold=False)["report"]
        assert page.ask("save")["kind"] == "done"
    known = report_json(measure(settle_file(path)))
    for key in ("lowest_m", "highest_m", "width_side_side_m", "width_front_back_m"):
        here, there = ([hoop[key] for hoop in one["hoops"]] for one in (told, known))
        assert here == pytest.approx(there, abs=1e-6)
    assert told["weight_kg"] == pytest.approx(known["weight_kg"], abs=1e-6)
