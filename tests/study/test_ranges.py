"""Figures by the names that makers say, and the values that they take in turn."""

from __future__ import annotations

import re

import pytest
from settled import sample_path

from cage3d.design.read import read
from cage3d.errors import CommandError
from cage3d.study.sweeping.ranges import steps_of
from cage3d.study.sweeping.spoken import varying_named

A, D, E = (read(sample_path(letter)) for letter in "ade")
INCH = 0.0254


@pytest.mark.parametrize(
    ("said", "places", "value"),
    [
        ("hoop 4 length", ["hoops[3].length"], 83.25 * INCH),
        ("Length of hoop 4", ["hoops[3].length"], 83.25 * INCH),
        ("hoop 4", ["hoops[3].length"], 83.25 * INCH),
        ("tape 3 drop 2", ["tapes.drops[2][1]"], 5 * INCH),
        ("drop of hoop 2 on tape 3", ["tapes.drops[2][1]"], 5 * INCH),
        ("drop of hoop 3 at the back", ["tapes.drops[4][2]", "tapes.drops[5][2]"], 5.25 * INCH),
        ("drop 3 at her left", ["tapes.drops[2][2]"], 5 * INCH),
        ("drop 3 at the sides", ["tapes.drops[2][2]", "tapes.drops[7][2]"], 5 * INCH),
        ("lower tie length", ["ties[1].length"], 26 * INCH),
        ("tie 2", ["ties[1].length"], 26 * INCH),
        ("tightness", ["panels[0].tightness"], 0.05),
        ("skirt weight", ["skirt.weight"], 2.0),
        ("thickness of the steel", ["steel.thickness"], 0.0005),
        ("hoop 2 steel width", ["hoops[1].steel.width"], 0.007),
        ("her hip", ["wearer.hip"], 39 * INCH),
        ("waist height", ["wearer.waist_height"], 41.5 * INCH),
        ("number of tapes", ["tapes.count"], 10),
    ],
)
def test_a_figure_by_its_name(said: str, places: list[str], value: float):
    """Sample D: tapes 5 and 6 stand beside centre back, tape 3 at her left, tape 8 at her right."""
    found = varying_named(D, said)
    assert list(found.places) == places
    assert found.values[0] == pytest.approx(value)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("hoop 9 length", "the cage has 6 hoops. Write hoop 1 to hoop 6"),
        ("hop 4 length", "Did you mean hoop 4 length?"),
        ("waist heigth", "Did you mean waist height?"),
        ("padding thickness", "the design has no padding"),
        ("knee", "the design does not say this figure. Write knee: under wearer"),
        ("hem", "this is what comes out, and not what is cut"),
        ("elephants", "Write hoop 2 length, drop 3 at the back"),
    ],
)
def test_names_that_are_none(said: str, words: str):
    with pytest.raises(CommandError, match=re.escape(words)):
        varying_named(D, said)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("drop 5", "this cage has levels in place of drops. Write level 5"),
        ("drop 9 at the back", "this cage has levels in place of drops. Write level 1"),
        ("elephants", "Write hoop 2 length, level 3 at the back"),
    ],
)
def test_drops_of_a_cage_on_its_own_cloth_are_levels(said: str, words: str):
    with pytest.raises(CommandError, match=re.escape(words)):
        varying_named(read(sample_path("i")), said)


def test_a_tie_in_a_design_without():
    with pytest.raises(CommandError, match="the design has no ties"):
        varying_named(A, "tie length")


@pytest.mark.parametrize(
    ("words", "shown", "written"),
    [
        (["hoop 4 length", "66..70", "by", "2"], ["66 in", "68 in", "70 in"], "68 in"),
        (["hoop", "4", "length", "66..70", "by", "2"], ["66 in", "68 in", "70 in"], "68 in"),
        (["hoop 4 length 66 to 70 by 2"], ["66 in", "68 in", "70 in"], "68 in"),
        (["drop 3", "1/2..1", "by", "1/4"], ["1/2 in", "3/4 in", "1 in"], "0.75 in"),
        (["hoop 4 length", "66 1/2..67", "by", "1/4"], ["66 1/2 in", "66 3/4 in", "67 in"], "66.75 in"),
        (["hoop 4 length", "167..171 cm by 2"], ["167 cm", "169 cm", "171 cm"], "169 cm"),
        (["hoop 4 length", "5 ft 6 in..70 in", "by", "2 in"], ["66 in", "68 in", "70 in"], "68 in"),
        (["hoop 4 length", "70..66", "by", "-2"], ["70 in", "68 in", "66 in"], "68 in"),
        (["hoop 4 length", "-2..+2", "by", "2"], ["-2 in", "0 in", "+2 in"], "74 in"),
        (["hoop 4 length", "0..+2", "by", "1"], ["0 in", "+1 in", "+2 in"], "75 in"),
        (["skirt weight", "0.4..0.8 kg", "by", "0.2"], ["0.4 kg", "0.6 kg", "0.8 kg"], "0.6 kg"),
        (["steel thickness", "0.4..0.6 mm", "by", "0.1"], ["0.4 mm", "0.5 mm", "0.6 mm"], "0.5 mm"),
        (["tape count", "6..10", "by", "2"], ["6", "8", "10"], "8"),
    ],
)  # fmt: skip
def test_values_in_turn(words: list[str], shown: list[str], written: str):
    """What is written into the design is the maker's own number with its unit, so that it reads as hers would."""
    (steps,) = steps_of(A, words)
    assert [steps.shown(place) for place in range(steps.count)] == shown
    assert set(steps.written(1).values()) == {written}


def test_a_range_may_stop_short_of_its_end():
    (steps,) = steps_of(A, ["hoop 4 length", "66..77", "by", "2"])
    assert (steps.count, steps.shown(5), steps.missed) == (6, "76 in", True)


def test_two_figures():
    first, second = steps_of(A, ["hip", "38..40", "by", "1", "drop 3 at the back", "-1/2..+1/2", "by", "1/2"])
    assert (first.figure.name, first.count) == ("hip", 3)
    assert (second.figure.name, second.shown(2)) == ("drop 3 at the back", "+1/2 in")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "no figure is named"),
        (["hip"], "the range is missing"),
        (["hip", "38..40"], "the step is missing. Write by 2"),
        (["hip", "38..40", "waist", "24..28", "by", "1"], "hip: 38..40 waist 24..28 by 1: the step is missing"),
        (["hip", "40..38", "by", "1"], "the step leads away from the end, so no value lies in the range. Write 38"),
        (["hip", "38..40", "by", "-1"], "Write 38..40 by 1"),
        (["hip", "38..40", "by", "0"], "a step of nothing"),
        (["hip", "38..38", "by", "1"], "both ends are the same"),
        (["hip", "38..40", "by", "3"], "the step is longer than the range"),
        (["hip", "38..1e20", "by", "1e-9"], "more steps than anybody looks at"),
        (["hip", "38..nan", "by", "1"], "NaN is not a number"),
        (["hip", "38..inf", "by", "1"], "cannot be infinite"),
        (["hip", "38..x", "by", "1"], "this is not a length"),
        (["hip", "38..40 kg", "by", "1"], "kg is the unit of a weight"),
        (["hip", "38..40", "by", "2 elephants"], "'elephants' is not a unit known here"),
        (["hip", "38,5..40", "by", "1"], "Write 38.5 with a point"),
        (["hip", "-1..40", "by", "1"], "one end has a sign and the other has none"),
        (["skirt weight", "0.4..0.8", "by", "0.2"], "a weight needs its unit"),
        (["tape count", "6..10", "by", "1/2"], "a whole number"),
        (["hip", "38..40", "by", "1", "her hip", "3..4", "by", "1"], "both figures change the same number"),
        (["hip", "38..40", "by", "1", "waist", "3..4", "by", "1", "knee", "1..2", "by", "1"], "more than two figures"),
        (["x" * 300, "38..40", "by", "1"], "far too long"),
    ],
)  # fmt: skip
def test_ranges_that_are_none(words: list[str], said: str):
    with pytest.raises(CommandError, match=re.escape(said)):
        steps_of(A, words)


def test_numbers_that_differ_take_changes_only():
    """Drop 3 of sample D runs from 4 7/8 to 5 1/4 in: one value would level what was meant to differ."""
    with pytest.raises(CommandError, match=r"differ, 4 7/8 in to 5 1/4 in\. Write changes with their signs"):
        steps_of(D, ["drop 3", "5..6", "by", "1/2"])
    (steps,) = steps_of(D, ["drop 3", "-1/2..+1/2", "by", "1/2"])
    assert steps.written(2)["tapes.drops[0][2]"] == "5.625 in"  # 5 1/8 and 1/2


def test_bare_numbers_of_a_design_without_units():
    bare = E.model_copy(update={"units": None})
    with pytest.raises(CommandError, match="a length needs its unit"):
        steps_of(bare, ["hip", "38..40", "by", "1"])
