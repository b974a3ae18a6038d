"""What a maker reads on the sheets: her notes, one system of units, no empty column, no words cut short."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest
from made import Page, hung_design, pages_of, sample, sheets_of

from cage3d.design.read import read_data
from cage3d.report import report_text
from cage3d.sheets import make_sheets
from cage3d.sheets.assembly.ties import tie_steps
from cage3d.sheets.writing import Writing

METRIC: dict[str, Any] = {
    "name": "in centimetres",
    "units": "cm",
    "notes": "Let out for the second act.",
    "wearer": {"waist": 64, "waist_height": 100},
    "steel": {"width": "7 mm", "thickness": "0.5 mm"},
    "tapes": {"count": 8, "width": 2, "drops": [40, 10]},
    "hoops": [{"length": 120}, {"length": 140, "join": {"tube": 3}}],
    "ties": [{"from": "hoop 2 tape 1", "to": "hoop 2 tape 4", "length": 30}] * 2,
    "stage": {"door": 76},
}


@cache
def pages(**changes: str) -> tuple[Page, ...]:
    return tuple(pages_of(make_sheets(*hung_design(read_data(METRIC | changes))).pdf))


def words(**changes: str) -> str:
    return " ".join(" ".join(page.text.split()) for page in pages(**changes))


def test_notes_of_the_design_stand_on_the_first_page_in_the_record_and_in_the_report() -> None:
    own = METRIC["notes"]
    assert own in " ".join(pages()[0].text.split())
    assert f"Notes of the design {own}" in words()
    _, report = hung_design(read_data(METRIC))
    assert f"Notes: {own}" in report_text(report)
    assert "Notes of the design" not in words(notes=" ")


def test_long_notes_go_on_in_the_record() -> None:
    many = " ".join(f"word{number}" for number in range(400))
    first = " ".join(pages(notes=many)[0].text.split())
    assert "word0 word1" in first
    assert "goes on in the fitting record" in first
    assert "word399" not in first
    assert "word398 word399" in words(notes=many)


def test_a_design_in_centimetres_has_millimetres_throughout() -> None:
    assert not re.findall(r"\d cm\b", words())
    # The squares to check the printer by are in both.
    assert set(re.findall(r"[\d¹²³⁄₁₂₄₈₆]+ in\b", words())) <= {"2 in", "4 in"}


@pytest.mark.parametrize("letter", ["a", "d"])
def test_a_design_in_inches_has_fractions_as_they_are_printed(letter: str) -> None:
    said = " ".join(" ".join(page.text.split()) for page in pages_of(sheets_of(sample(letter)).pdf))
    assert not re.findall(r"\d/\d+ in\b", said)


def test_costs_have_a_column_only_where_prices_are_written() -> None:
    (page,) = (page for page in pages() if page.text.startswith("5 Materials"))
    assert "Cost" not in page.text


def test_the_ends_of_a_tube_carry_their_unit() -> None:
    assert "1 tube 30 mm" in words()


def test_what_holds_for_every_tie_is_said_once() -> None:
    assert words().count("with a bow, not a knot") == 1
    assert words().count("where the legs move") == 1


def tie_words(*runs: str | None) -> list[str]:
    ties = [METRIC["ties"][0] | ({"runs": side} if side else {}) for side in runs]
    return [step.text for step in tie_steps(read_data(METRIC | {"ties": ties}).ties, Writing(inches=False))]


def test_ties_that_bear_on_her_are_not_kept_clear_of_her_legs() -> None:
    general, one, other = tie_words(None, "behind")
    assert "Those that pass her may bear on her; lead the others clear" in general
    assert "behind" not in one
    assert "behind" in other
    assert "legs" not in tie_words("behind", "before")[0]
    assert "Lead each clear of where the legs move." in tie_words(None, None)[0]


def test_the_first_page_tells_which_cage_and_how_much_lies_behind() -> None:
    first = " ".join(pages()[0].text.split())
    assert "Made of 2 hoops on 8 tapes" in first
    assert "only from pages that bear the same" in first
    alike = " ".join(pages_of(sheets_of(sample("a")).pdf)[0].text.split())
    assert "Of that behind the waist 50 %" in alike  # every tape and hoop alike before and behind


def test_nothing_on_a_strip_of_two_centimetres_is_cut_short() -> None:
    (page,) = (page for page in pages() if page.text.startswith("4 Tapes"))
    assert "…" not in page.text
    assert "tapes 1–4 L, 5–8 R" in page.text
    assert "into the band" in page.text
