"""Slips that makers and their word processors make: each told on its own line, with what to write."""

from __future__ import annotations

from pathlib import Path

import pytest
from petticoat import GOOD, problems_of

from cage3d.design.read import read, read_text
from cage3d.errors import DesignError
from cage3d.units import INCH, OUNCE, POUND

HOOPS = GOOD[GOOD.index("hoops") :]

# id: (what is replaced, by what), line of the fault, what its message must hold; there is one message only.
SLIPS: dict[str, tuple[tuple[str, str], int, str]] = {
    # a colon
    "first line": (("name: Short", "name Short"), 1, "a : is missing after name. Write name: Short petticoat"),
    "units": (("units: in", "units in"), 2, "a : is missing after units. Write units: in"),
    "first of a group": (("waist: 26", "waist 26"), 4, "a : is missing after waist. Write waist: 26"),
    "last of a group": (("waist_height:", "waist_height"), 5, "missing after waist_height. Write waist_height: 41 1/2"),
    "a blank in the key too": (("waist_height:", "waist height"), 5, "Write waist_height: 41 1/2"),
    "of a list": (("drops:", "drops"), 9, "a : is missing after drops. Write drops: [8 1/4, 6, 5 1/2, 5]"),
    "of the hoops": (("hoops:", "hoops"), 10, "a : is missing after hoops"),
    "of a group": (("wearer:", "wearer"), 3, "a : is missing after wearer"),
    "before a bracket": (("steel: {", "steel {"), 6, "Write steel: {width: 7 mm, thickness: 0.5 mm}"),
    "in a bracket": (("{width: 7", "{width 7"), 6, "a : is missing after width. Write width: 7 mm"),
    "in a hoop": (("{length: 60}", "{length 60}"), 12, "a : is missing after length. Write length: 60"),
    "in a hoop without brackets": (("- {length: 60}", "- length 60"), 12, "Write length: 60"),
    "of what may be left out": (("{length: 60}", "{length: 60, carries 1 kg}"), 12, "Write carries: 1 kg"),
    "at the end": (("{length: 74}\n", "{length: 74}\nskirt {weight: 1 kg}\n"), 15, "Write skirt: {weight: 1 kg}"),
    "of a misspelt key": (("waist: 26", "waits 26"), 4, "Write waist: 26"),
    "of a key that is none": (("units: in", "colour red\nunits: in"), 2, "a key without its :"),
    "no blank after it": (("units: in", "units:in"), 2, "a blank is missing after the :. Write units: in"),
    "no blank in a bracket": (("{length: 60}", "{length:60}"), 12, "a blank is missing after the :"),
    "an equals sign": (("waist: 26", "waist = 26"), 4, "= stands after waist where a : belongs. Write waist: 26"),
    "a colon of another script": (("waist: 26", "waist：26"), 4, "Write waist: 26"),
    # signs put in by programs
    "en dash before a hoop": (("  - {length: 60}", "  – {length: 60}"), 12, "– is not the -.*Write - {length: 60}"),
    "em dash before the first hoop": (("  - {length: 48}", "  — {length: 48}"), 11, "— is not the -"),
    "minus before a hoop": (("  - {length: 60}", "  − {length: 60}"), 12, "− is not the -"),
    "bullet before a hoop": (("  - {length: 60}", "  • {length: 60}"), 12, "• is not the -"),
    "en dashes before all": ((HOOPS, HOOPS.replace("-", "–")), 11, "– is not the -.*in 3 more lines"),
    "dash without a blank": (("  - {length: 60}", "  -{length: 60}"), 12, "a blank is missing after the -"),
    "non-breaking indent": (("  waist: 26", "\u00a0\u00a0waist: 26"), 4, "non-breaking blank.*space bar"),
    "non-breaking indents": ((GOOD, GOOD.replace("  ", "\u00a0\u00a0")), 4, "non-breaking blank.*in 7 more lines"),
    "non-breaking after the colon": (("waist: 26", "waist:\u00a026"), 4, "non-breaking blank stands after the :"),
    "curly quotes round a colon": (("Short petticoat", "“Short: petticoat”"), 1, "“ is no quote.*Write \""),
    "curly quotes round a key": (("waist: 26", "“waist”: 26"), 4, "curly quotes.*Write waist:"),
    "curly quotes round a word": (("{length: 60}", "{length: 60, opening: “front”}"), 12, "curly quotes.*front"),
    "curly quotes round a number": (("{length: 60}", "{length: “60”}"), 12, "curly quotes"),
    # keys and numbers
    "capital key": (("wearer:", "Wearer:"), 3, "keys are written in small letters. Write wearer:"),
    "key with a blank": (("waist_height:", "Waist height:"), 5, "Did you mean waist_height"),
    "decimal comma": (("waist: 26", "waist: 66,5 cm"), 4, "Write 66.5 cm with a point"),
    "decimal comma in a bracket": (("{length: 60}", "{length: 152,5 cm}"), 12, "ends it inside.*Write 152.5 cm"),
    "decimal comma in the drops": (("[8 1/4, 6,", "[8,25 in, 6,"), 9, "8,25 in: a comma.*inside.*Write 8.25 in"),
    "decimal comma without a unit": (("[8 1/4, 6, 5 1/2, 5]", "[8 1/4, 6, 5,5, 5]"), 9, "5,5: a comma.*Write 5.5 with"),
    "decimal comma in the hem": (("hoops:", "hem: {clearance: [17,5 cm, 20]}\nhoops:"), 10, "Write 17.5 cm with"),
    "thousands": (("{length: 60}", "{length: 60, carries: '1,000 g'}"), 12, "Write 1000 g or 1.000 g"),
    "lost weight": (("hoops:", "skirt: {weight: 0,8 kg}\nhoops:"), 10, "weight: 0,8 kg.*Write 0.8 kg"),
    "two waists": (("waist: 26", "waist: 26-27"), 4, "two numbers stand here, and one belongs here"),
    "two waists in words": (("waist: 26", "waist: 26 to 26 1/2"), 4, "two numbers stand here"),
    "one clearance": (("hoops:", "hem: {clearance: 9}\nhoops:"), 10, "one height stands here.*8 to 10"),
    "hem of two numbers": (("hoops:", "hem: 8-10\nhoops:"), 10, r"Write hem: {clearance: 8-10}"),
    "skirt of a weight": (("hoops:", "skirt: 1 lb 12 oz\nhoops:"), 10, r"Write skirt: {weight: 1 lb 12 oz}"),
}  # fmt: skip


@pytest.mark.parametrize("case", SLIPS, ids=[name.replace(" ", "-") for name in SLIPS])
def test_a_slip_is_told_once_on_its_own_line(case: str) -> None:
    (old, new), line, message = SLIPS[case]
    assert old in GOOD
    found = problems_of(GOOD.replace(old, new, 1))
    assert len(found) == 1, "\n".join(map(str, found))
    assert found[0].line == line, str(found[0])
    with pytest.raises(DesignError, match=message.replace("{", r"\{").replace("[", r"\[")):
        raise DesignError(found)


def test_two_decimal_commas_are_told_each_and_the_rest_is_judged_too() -> None:
    drops = GOOD.replace("[8 1/4, 6, 5 1/2, 5]", "[8,25 in, 6,5 in, 5 1/2, 5]").replace(
        "waist: 26", "waist: 3 elephants"
    )
    said = [str(problem) for problem in problems_of(drops)]
    assert [text.split(": ", 1)[1].split(":")[0] for text in said] == ["waist", "8,25 in", "6,5 in"]


@pytest.mark.parametrize("row", ["[8, 6, 5, 5, 5]", "[8,6,5,5,5]", "[8 1/4, 6,5 1/2, 5, 4]"])
def test_a_row_that_is_too_long_otherwise_is_told_by_its_count(row: str) -> None:
    """With blanks after its commas, or with more than one place where two numbers might be one."""
    (problem,) = problems_of(GOOD.replace("[8 1/4, 6, 5 1/2, 5]", row))
    assert "5 drops: there are 4 hoops" in str(problem)


def test_whole_drops_without_blanks_are_drops() -> None:
    assert len(read_text(GOOD.replace("[8 1/4, 6, 5 1/2, 5]", "[8,6,5 in,5]"), "x.yaml").tapes.drops[0]) == 4


def test_two_colons_missing_one_below_the_other() -> None:
    found = problems_of(GOOD.replace("waist: 26", "waist 26").replace("waist_height:", "waist_height"))
    assert [problem.line for problem in found] == [4, 5]


def test_bare_hoops_are_answered_with_what_to_write() -> None:
    for bare in ("hoops: [48, 60, 69, 74]\n", "hoops:\n  - 48\n  - 60\n  - 69\n  - 74\n"):
        found = problems_of(GOOD.replace(HOOPS, bare))
        assert [problem.try_this.split(",")[0] for problem in found] == [
            f"Write - {{length: {length}}}" for length in (48, 60, 69, 74)
        ]


@pytest.mark.parametrize(
    ("written", "inches"),
    [
        ("8-10", (8, 10)),
        ("[8-10]", (8, 10)),
        ("17 to 18 1/2", (17, 18.5)),
        ("17-18 1/2", (17, 18.5)),
        ("7-1/2 to 8-1/2", (7.5, 8.5)),
        ("8 – 10 in", (8, 10)),
        ("8 in to 10 in", (8, 10)),
        ("25.4 to 50.8 cm", (10, 20)),
        ("8 to 25.4 cm", (8 / 2.54, 10)),
        ("[8, 10]", (8, 10)),
    ],
)
def test_two_heights(written: str, inches: tuple[float, float]) -> None:
    heights = read_text(GOOD + f"hem: {{clearance: {written}}}\n").hem.clearance
    assert heights == pytest.approx([INCH * height for height in inches])


def test_pounds_and_ounces() -> None:
    skirt = read_text(GOOD + "skirt: {weight: 1 lb 12 oz}\n").skirts[0]
    assert skirt.weight == pytest.approx(POUND + 12 * OUNCE)


def test_a_key_that_was_meant_is_judged_with_the_rest() -> None:
    found = problems_of(GOOD.replace("wearer:", "Wearer:").replace("waist: 26", "waist: 3 elephants"))
    assert [problem.line for problem in found] == [3, 4]


def test_texts_that_are_meant_stay_as_they_are() -> None:
    notes = "notes: |\n  – waist was let out\n  waist 26\n\u00a0\u00a0Wearer: tall\n".replace(
        "\u00a0\u00a0W", "  \u00a0W"
    )
    design = read_text(GOOD.replace("Short petticoat", "“Short” – petticoat") + notes)
    assert design.name == "“Short” – petticoat"
    assert design.notes is not None
    assert "– waist was let out\nwaist 26" in design.notes


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (GOOD.encode("utf-16"), "UTF-16.*Save it as UTF-8"),
        (GOOD.encode("utf-16-le"), "UTF-16.*Save it as UTF-8"),
        (GOOD.encode("utf-16-be"), "UTF-16.*Save it as UTF-8"),
        (rb"{\rtf1\ansi name: Short petticoat\par}", r"word processor \(RTF\).*plain text"),
        (b"PK\x03\x04\x14\x00\x06\x00word/document.xml", "docx"),
        (b"%PDF-1.7\n", "a PDF"),
        (b"\n<!DOCTYPE html>\n<html><body>name: Short petticoat</body></html>", "a web page.*Raw or Download"),
        (b"<pre>name: Short petticoat</pre>", "a web page"),
    ],
    ids=["utf-16", "utf-16-le", "utf-16-be", "rtf", "docx", "pdf", "html", "pre"],
)  # fmt: skip
def test_files_of_other_programs_are_named(tmp_path: Path, content: bytes, message: str) -> None:
    file = tmp_path / "petticoat.yaml"
    file.write_bytes(content)
    with pytest.raises(DesignError, match=message):
        read(file)
