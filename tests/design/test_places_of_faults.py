"""Line and column of a fault, what is repeated of it and what to write instead, counted by hand in a short text."""

from __future__ import annotations

import pytest
from petticoat import GOOD, problems_of

from cage3d.design.faults import place_of, place_text
from cage3d.design.keys import no_such_key
from cage3d.design.slips import known_words
from cage3d.wording import nearest

HOOP_2 = "{length: 60}"

# What is replaced, by what; line and column; what is repeated; what to write.
PLACES: dict[str, tuple[str, str, tuple[int, int], str, str]] = {
    "no colon": ("waist: 26", "waist 26  # of her", (4, 3), "waist 26", "Write waist: 26"),
    "no colon in a bracket": (HOOP_2, "{length 60}", (12, 6), "length 60", "Write length: 60"),
    "no colon above the last": (
        HOOP_2, "{length: 60, carries 1 kg, rest: top}", (12, 18), "carries 1 kg", "Write carries: 1 kg",
    ),
    "no colon, no key": ("units: in", "colour red\nunits: in", (2, 1), "colour red", "Write key: value"),
    "no colon, no key, inside": ("  waist: 26", "  colour red\n  waist: 26", (4, 3), "colour red", "Write key: value"),
    "no colon over remarks": (
        "  waist: 26", "  colour red\n\n  # one\n  waist: 26", (4, 3), "colour red", "Write key: value",
    ),
    "no blank": ("units: in", "units:in", (2, 1), "units:in", "Write units: in"),
    "nothing after it": ("wearer:", "wearer", (3, 1), "wearer", "Write wearer: with the rest indented below it"),
    "dash": (f"- {HOOP_2}", f"– {HOOP_2}", (12, 3), f"– {HOOP_2}", f"Write - {HOOP_2}"),
    "no blank after a dash": (f"- {HOOP_2}", f"-{HOOP_2}", (12, 3), f"-{HOOP_2}", f"Write - {HOOP_2}"),
    "blank of a program": (
        "  waist: 26", "\u00a0\u00a0waist: 26", (4, 3), "waist: 26",
        "Take away all that stands before the first letter, and indent anew with the space bar",
    ),
    "long line": (
        "waist: 26", "waist " + "x" * 100, (4, 3), "waist " + "x" * 54, "Write waist: " + "x" * 60,
    ),
    "misspelt key": (HOOP_2, "{lenght: 60}", (12, 6), "lenght", "Did you mean length?"),
    "unknown key": (
        HOOP_2, "{length: 60, colour: red}", (12, 18), "colour",
        "Known here: length, beside, tapes, stations, opening, overhang, ends, join, join_at, carries, steel, rest",
    ),
    "repeated key": (HOOP_2, "{length: 60, length: 61}", (12, 18), "length", "Leave one of the two out"),
    "curly key": ("waist: 26", "“waist”: 26", (4, 3), "“waist”", "Write waist:"),
    "wrong word": (
        HOOP_2, "{length: 60, opening: frnot}", (12, 27), "opening: frnot",
        "Did you mean front? The words are none, front, back, left, right",
    ),
    "no word near": (
        HOOP_2, "{length: 60, opening: up}", (12, 27), "opening: up", "Write one of none, front, back, left, right",
    ),
    "tag": ("waist: 26", "waist: !x 26", (4, 10), "!x", "Leave the word with ! out"),
    "name of nothing": ("waist: 26", "waist: *w", (4, 10), "*w", "Put the value in quotes if * is part of it"),
    "control character": ("Short petticoat", "Short\x07", (1, 12), "", "Save the file as plain text (UTF-8)"),
    "control character below": ("count: 8", "count: 8\x07", (8, 11), "", "Save the file as plain text (UTF-8)"),
    "second colon": (
        "Short petticoat", "Short: petticoat", (1, 12), "name: Short: petticoat",
        "Put the text in quotes, or line it up with the lines above",
    ),
    "tab": ("  waist: 26", "\twaist: 26", (4, 1), "waist: 26", "Indent with blanks (two a level)"),
    "comma": (HOOP_2, "{length: 152,5 cm}", (12, 14), "length: 152,5 cm", "Write 152.5 cm with a point"),
    "comma in a list": ("5 1/2, 5]", "5,5, 5]", (9, 21), "5,5", "Write 5.5 with a point"),
    "comma in a list of commas without blanks": (
        "[8 1/4, 6, 5 1/2, 5]", "[8,25 in, 6,5, 5]", (9, 11), "8,25 in", "Write 8.25 in with a point",
    ),
    "missing": ("  waist: 26\n", "", (4, 3), "", "Write waist: 26 in"),
    "missing value": ("waist: 26", "waist:", (4, 3), "", "Write waist: 26 in"),
    "too long a list": (
        "hoops:", "hem: {clearance: [8, 9, 10]}\nhoops:", (10, 18), "", "Leave the others out",
    ),
    "strip as one": (
        "steel: {width: 7 mm, thickness: 0.5 mm}", "steel: 7 x 0.5", (6, 8), "steel: 7 x 0.5",
        "Write steel: {width: 7 mm, thickness: 0.5 mm}",
    ),
    "stage of a door": ("units: in", "units: in\nstage: 34", (3, 8), "stage: 34", "Write stage: {door: 34}"),
    "drops as one": (
        "[8 1/4, 6, 5 1/2, 5]", "eight", (9, 10), "drops: eight", "Write drops: [8 1/4 in, 6 in], one for each hoop",
    ),
    "hoop as one": (
        HOOP_2, "60", (12, 5), "60", "Write - {length: 60}, or hoops: [{length: 60}, ...]",
    ),
    "band as one": (
        "units: in", "units: in\nwaistband: 1", (3, 12), "waistband: 1",
        "Write {key: value, key: value}, or the keys indented below",
    ),
    "a key for a group": ("units: in", "units: in\nstage: door 34", (3, 8), "stage: door 34", "Write door: 34"),
}  # fmt: skip


@pytest.mark.parametrize("case", PLACES)
def test_place_and_remedy(case: str) -> None:
    old, new, place, said, remedy = PLACES[case]
    assert old in GOOD
    (problem,) = problems_of(GOOD.replace(old, new, 1))
    assert (problem.line, problem.column) == place
    assert (problem.said, problem.try_this) == (said, remedy)


def test_a_line_as_long_as_no_maker_writes_is_no_slip() -> None:
    for more, told in ((1000 - len("  waist "), True), (1001 - len("  waist "), False)):
        (problem,) = problems_of(GOOD.replace("waist: 26", "waist " + "x" * more, 1))
        assert ("a : is missing after waist" in problem.why) == told


def test_places_in_words_and_back() -> None:
    for place, text in ((("hoops", 2, "length"), "hoops[2].length"), (("a", 0, 1), "a[0][1]"), ((), "")):
        assert place_text(place) == text
        assert place_of(text) == place


def test_words_that_were_meant() -> None:
    """Twice the letters in common over all letters: len and length 6 of 9, le and length 4 of 8."""
    assert nearest("len", ["length"]) == "length"
    assert nearest("le", ["length"]) is None
    assert nearest("len", ["length"], 0.7) is None
    assert no_such_key("len", ["length"])[1] == "Did you mean length?"
    assert no_such_key("le", ["length"])[1] == "Known here: length"


def test_the_longest_key_that_a_line_begins_with() -> None:
    assert known_words("waist height 41") == ("waist_height", " 41")
    assert known_words("high-hip drop: 4") == ("high_hip_drop", ": 4")
    assert known_words("Waist 26") == ("waist", " 26")
    assert known_words("waits 26") == ("waist", " 26")
    assert known_words("colour red") == ("colour", " red")
    assert known_words("7 x 0.5") == ("", "7 x 0.5")


def test_a_fault_that_is_meant_twice_is_told_where_it_is_written() -> None:
    """What stands for another line (`*two`) has its fault at that line, once for one hoop and its repetition."""
    text = GOOD.replace(HOOP_2, "&two {length: -60}").replace("{length: 69}", "*two")
    assert [problem.place for problem in problems_of(text)] == ["petticoat.yaml:12:19"]


def test_a_fault_of_the_steel_that_a_hoop_repeats_is_told_at_the_steel() -> None:
    text = (
        GOOD.replace("steel: {", "steel: &s {")
        .replace("0.5 mm", "-0.5 mm")
        .replace(HOOP_2, "{length: 60, steel: *s}")
    )
    assert [problem.place for problem in problems_of(text)] == ["petticoat.yaml:6:36"]


def test_one_value_in_two_places_is_told_as_each_of_them() -> None:
    text = GOOD.replace("waist: 26", "waist: &w 26 kg").replace(HOOP_2, "{length: *w}")
    assert [(problem.place, problem.said) for problem in problems_of(text)] == [
        ("petticoat.yaml:4:10", "waist: 26 kg"),
        ("petticoat.yaml:4:10", "length: 26 kg"),
    ]
