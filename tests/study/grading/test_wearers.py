"""The list of wearers: what is read of it, and every slip told with its line."""

from __future__ import annotations

import pytest

from cage3d.errors import CageError
from cage3d.study.grading.wearers import waists_of, wearers_of

INCH = 0.0254


def test_fractions_units_and_what_is_left_empty():
    text = "Code, Role ,Waist,Hip (cm),hip_drop,Waist-Height,hem\nW 1,Maid,24 1/2,101.5,,40½,\n"
    (row,) = wearers_of(text, "w.csv", "in")
    assert (row.code, row.role, row.folder, row.line) == ("W 1", "Maid", "w-1", 2)
    assert row.given == {"waist": "24 1/2", "hip": "101.5 cm", "waist_height": "40½"}
    assert row.metres == pytest.approx({"waist": 24.5 * INCH, "hip": 1.015, "waist_height": 40.5 * INCH})
    assert row.hem is None


def test_a_spreadsheet_with_byte_order_mark_semicolons_and_decimal_commas():
    text = "\ufeffName;Waist;Hem height;;\r\nW-1;61,5;22,5;;\r\n;;;;\r\nW-2;70;;;\r\n"
    first, second = wearers_of(text, "w.csv", "cm")
    assert (first.code, first.given, first.hem) == ("W-1", {"waist": "61.5"}, pytest.approx(0.225))
    assert (second.code, second.line) == ("W-2", 4)


def test_a_unit_of_its_own_goes_before_that_of_the_column():
    (row,) = wearers_of("code\twaist cm\nA\t24 in\n", "w.csv", "mm")
    assert row.metres["waist"] == pytest.approx(24 * INCH)


def test_a_waist_that_is_not_level_has_four_heights():
    heads = "code,waist,waist height front,waist height left,waist height back,waist height right"
    (row,) = wearers_of(f"{heads}\nA,26,41,41 1/4,41 1/2,41 3/4\n", "w.csv", "in")
    assert row.given["waist_height"] == {"front": "41", "left": "41 1/4", "back": "41 1/2", "right": "41 3/4"}


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("code,waist\n", 1, "names no wearer"),
        ("", 1, "column code is missing"),
        ("code,hip\nA,39\n", 1, "column waist is missing"),
        ("code,waist,hipp\nA,26,39\n", 1, "Did you mean hip?"),
        ("code,waist,waist\nA,26,26\n", 1, "twice"),
        ("code,waist,hip\nA,,39\n", 2, "she has no waist"),
        ("code,waist\n,26\n", 2, "has no code"),
        ("code,waist\nA,26\nB,28\nA,30\n", 4, "stands in line 2 too"),
        ("code,waist\nW 1,26\nw-1,28\n", 3, "folder would be called w-1"),
        ("code,waist\n../up,26\n", 2, "slash"),
        ("code,waist\n..,26\n", 2, ".."),
        ("code,waist\nA\x07,26\n", 2, "control characters"),
        (f"code,waist\n{'A' * 61},26\n", 2, "longer than 60"),
        ("code,waist\nA,26 elephants\n", 2, "'elephants' is not a unit"),
        ("code,waist\nA,-26\n", 2, "more than nothing"),
        ('code,waist\nA,"66,5"\n', 2, "a comma in a number"),
        ("code,waist,hip\nA,66,5,104\n", 2, "4 cells"),
        ("code,waist,waist height front\nA,26,41\n", 2, "front, left, back and right"),
        ("code,waist\nA,24-36\n", 2, "two numbers"),
    ],
)  # fmt: skip
def test_a_slip_is_told_with_its_line(text: str, line: int, words: str):
    with pytest.raises(CageError) as fault:
        wearers_of(text, "w.csv", "in")
    (problem,) = fault.value.problems
    assert problem.place == f"w.csv:{line}"
    assert words in f"{problem.why} {problem.try_this}"


def test_all_slips_at_once_and_no_wearer_without_units():
    with pytest.raises(CageError) as fault:
        wearers_of("code,waist\nA,26\nB,\nB,x\n", "w.csv", None)
    assert [problem.line for problem in fault.value.problems] == [2, 3, 4]
    assert "needs its unit" in fault.value.problems[0].why


def test_folders_of_the_order_itself_are_no_wearers():
    rows = wearers_of("code,waist\nold,26\nCON,26\n", "w.csv", "in")
    assert [row.folder for row in rows] == ["old-cage", "con-cage"]


def test_a_range_of_waists():
    rows = waists_of("24..36 by 4", "in")
    assert [row.code for row in rows] == ["Waist 24 in", "Waist 28 in", "Waist 32 in", "Waist 36 in"]
    assert [row.metres["waist"] / INCH for row in rows] == pytest.approx([24, 28, 32, 36])
    assert [row.folder for row in waists_of("60 to 65 cm by 2 cm", None)] == [
        "waist-600-mm",
        "waist-620-mm",
        "waist-640-mm",
    ]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("36..24 by 2", "24 in..36 in by 2"),
        ("24..36", "the step between"),
        ("24..36 by 0", "more than nothing"),
        ("24..36 by -2", "more than nothing"),
        ("24..36 by 0.001", "500 at most"),
        ("a..b by 2", "not a length"),
    ],
)
def test_a_range_that_is_none(text: str, words: str):
    with pytest.raises(CageError) as fault:
        waists_of(text, "in")
    assert words in str(fault.value)
