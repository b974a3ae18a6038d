"""What can be moved: how it is grouped, written, bounded, and what moves together; values by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from fitted import ON_TAPES, SAMPLES

from cage3d.live import fitting
from cage3d.live.fitting import Opened, Values, accepts, nearest_that_can_be, open_file, open_text
from cage3d.live.joined import joined
from cage3d.units import INCH

TEXT = ON_TAPES[0].read_text("utf-8")
HOOP = "hoops[3].length"


def opened(*changes: tuple[str, str]) -> Opened:
    """Sample A with some of its text changed."""
    text = TEXT
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return open_text(Path("petticoat.yaml"), text)


def test_a_slider_goes_by_eighths_a_fifth_either_way():
    """74 in: a fifth is 14.8 in, which are 118 eighths, 14 3/4 in."""
    hoop = opened().controls[HOOP]
    assert hoop.step == pytest.approx(INCH / 8)
    assert (hoop.least, hoop.most) == pytest.approx((59.25 * INCH, 88.75 * INCH))
    assert (hoop.text_of(hoop.least), hoop.text_of(hoop.most)) == ("59 1/4", "88 3/4")


def test_a_hoop_that_slides_is_moved_between_its_ends():
    """Worn at 74 in, it slides from 70 to 76; the other hoops go a fifth either way."""
    join = ("{length: 74, join: {overlap: 2}}", "{length: 74, join: {overlap: 2, least: 70, most: 76}}")
    known = opened(join).controls
    assert (known[HOOP].least, known[HOOP].most) == pytest.approx((70 * INCH, 76 * INCH))
    assert known["hoops[2].length"].most == pytest.approx(opened().controls["hoops[2].length"].most)


@pytest.mark.parametrize(
    ("place", "value", "text"),
    [
        (HOOP, 7.5 * INCH, "7 1/2"),
        (HOOP, 59.41 * INCH, "59.41"),
        (HOOP, 72.015625 * INCH, "72 1/64"),
        ("steel.thickness", 0.55e-3, "0.55 mm"),
        ("skirt.weight", 1.25, "1.25 kg"),
        ("tapes.drops[7][0]", 8.0 * INCH, "8"),
    ],
)
def test_a_value_is_written_as_she_writes_it(place: str, value: float, text: str):
    assert opened().controls[place].text_of(value) == text


@pytest.mark.parametrize(
    ("old", "new", "unit", "suffix", "text"),
    [
        ("{length: 74,", "{length: 188 cm,", "cm", " cm", "190 cm"),
        ("{length: 74,", "{length: 6' 2,", "in", " in", "74 51/64 in"),
        ("{length: 74,", '{length: 74",', "in", " in", "74 51/64 in"),
    ],
)
def test_it_stays_in_the_unit_that_it_was_written_in(old: str, new: str, unit: str, suffix: str, text: str):
    hoop = opened((old, new)).controls[HOOP]
    assert (hoop.unit, hoop.suffix) == (unit, suffix)
    value = 1.9 if unit == "cm" else 74.796875 * INCH
    assert hoop.text_of(value) == text


FEET = """
name: A cage in feet
units: ft
wearer: {waist: 26 in, waist_height: 41 1/2 in}
steel: {width: 7 mm, thickness: 0.5 mm}
tapes: {count: 8, drops: [8 in, 0.5]}
hoops: [{length: 4}, {length: 5.25}]
"""


def test_bare_numbers_of_a_design_in_feet_get_their_unit():
    """A bare number would be feet, and nobody writes 5.2917."""
    hoop = open_text(Path("petticoat.yaml"), FEET).controls["hoops[1].length"]
    assert (hoop.value, hoop.text, hoop.unit, hoop.suffix) == (pytest.approx(63 * INCH), "63 in", "in", " in")
    assert hoop.text_of(63.5 * INCH) == "63 1/2 in"


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.name[0])
def test_what_a_slider_writes_reads_as_it_stands(sample: Path):
    design = open_file(sample)
    for place, one in design.controls.items():
        assert 0.0 <= one.least < one.value + one.step <= one.most + one.step
        for value in (one.least, one.value, one.value + one.step, one.most):
            read = design.number_of(place, one.text_of(value))
            assert read == pytest.approx(value, abs=2e-4 * one.scale)


def test_what_a_maker_never_wrote_is_no_slider():
    places = set(opened().controls)
    assert not {"skirt.fullness", "skirt.on_cage", "steel.set_radius", "hoops[0].steel.width"} & places
    assert "skirt.on_cage" in opened(("weight: 0.8 kg", "weight: 0.8 kg, on_cage: 90 %")).controls
    own = opened(("{length: 74,", "{length: 74, steel: {thickness: 0.7 mm},")).controls
    assert own["hoops[3].steel.thickness"].text == "0.7 mm"
    assert "hoops[3].steel.width" not in own


def test_a_share_is_no_more_than_the_whole():
    share = opened(("weight: 0.8 kg", "weight: 0.8 kg, on_cage: 90 %")).controls["skirt.on_cage"]
    assert (share.most, share.text_of(share.most)) == (1.0, "100 %")


def test_which_part_of_the_picture_a_slider_belongs_to():
    parts = {place: one.part for place, one in opened().controls.items()}
    assert parts[HOOP] == {"group": "hoops", "number": 4}
    assert parts["tapes.drops[7][0]"] == {"group": "tapes", "number": 8}
    assert parts["skirt.weight"] == {"group": "skirt", "number": 0}
    assert parts["steel.width"] is None


def test_what_moves_together():
    """Eight tapes at 22.5, 67.5, ... degrees from centre front: cos 67.5 over cos 22.5 is tan 22.5, 0.414214."""
    design = opened()
    told = {one["name"]: one for one in joined(design.design, list(design.controls.values()))}
    assert list(told)[:4] == ["All hoops", "Drop 1 all round", "Drop 1 back against front",
                              "Drop 1 sides against front and back"]  # fmt: skip
    tilt = told["Drop 1 back against front"]
    assert tilt["places"] == [f"tapes.drops[{tape}][0]" for tape in range(8)]
    assert tilt["shares"] == [-1, -0.414214, 0.414214, 1, 1, 0.414214, -0.414214, -1]
    assert told["Drop 4 sides against front and back"]["shares"] == [-1, 1, 1, -1, -1, 1, 1, -1]
    assert set(told["All drops"]["shares"]) == {1.0}
    assert len(told["All drops"]["places"]) == 32


def test_four_tapes_at_the_eighths_have_no_sides_of_their_own():
    """At 45, 135, ... degrees the wave of sides against front and back is nothing on every tape."""
    design = opened(("count: 8", "count: 4"))
    names = [one["name"] for one in joined(design.design, list(design.controls.values()))]
    assert "Drop 1 back against front" in names
    assert "Drop 1 sides against front and back" not in names


def test_the_nearest_of_a_drop_is_as_long_as_the_hoops_want():
    """Hoops of 69 and 74 in lie 5 / 2 pi = 0.796 in apart: of eighths 7/8 in is the shortest that spans it."""
    design = opened()
    told = nearest_that_can_be(design, {}, {f"tapes.drops[{tape}][3]": "1/4" for tape in range(8)})
    assert set(told.values()) == {"7/8"}
    assert len(told) == 8


def test_there_is_no_nearest_where_nothing_lies_between():
    design = opened()
    refused = {HOOP: "101"}
    assert nearest_that_can_be(design, {HOOP: "100 3/8"}, refused) == {}
    assert nearest_that_can_be(design, {}, {HOOP: "much"}) == {}
    assert nearest_that_can_be(design, {}, {"name": "7"}) == {}


def test_a_number_that_is_far_too_large_has_its_nearest_at_once(monkeypatch: pytest.MonkeyPatch):
    """Halving 100,000 steps asks the rules 17 times."""
    asked: list[Values] = []

    def counted(design: Opened, values: Values) -> bool:
        asked.append(values)
        return accepts(design, values)

    monkeypatch.setattr(fitting, "accepts", counted)
    assert nearest_that_can_be(opened(), {}, {HOOP: "9" * 150}) == {HOOP: "100 3/8"}
    assert len(asked) <= 17
