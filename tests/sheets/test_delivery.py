"""The card that goes with the cage, and the sheet that comes before it."""

from __future__ import annotations

from math import pi
from typing import Any

import pytest
from made import hung_design, hung_sample, pages_of, sample, sheets_of

from cage3d.design.read import read_data
from cage3d.report.cautions import wearing_cautions
from cage3d.sheets import cautions, measuring_sheet
from cage3d.sheets.delivery import coiled, folding, tags
from cage3d.sheets.making import Making, prepared
from cage3d.sheets.writing import Writing

DATA: dict[str, Any] = {
    "name": "card",
    "units": "mm",
    "wearer": {"waist": 600, "waist_height": 1000},
    "steel": {"width": 7, "thickness": 0.5, "modulus": "200 GPa", "yield_stress": "1000 MPa"},
    "tapes": {"count": 4, "stations": "on", "drops": [200]},
    "hoops": [{"length": 1200}],
}
LONG = {"tapes": {"count": 4, "stations": "on", "drops": [600]}, "hoops": [{"length": 2400}]}


def making_of(**changes: Any) -> Making:
    settled, report = hung_design(read_data(DATA | changes))
    return prepared(settled.cage, report, None)


def test_a_hoop_twisted_into_three_rings() -> None:
    """1200 mm in three rings: radius 63.66 mm; 0.25 mm off the middle strains 0.393 % of the 0.5 % at yield."""
    making = making_of()
    share = (0.25 / (1200 / (6 * pi))) / 0.005
    assert coiled(making.cuts[0]) == pytest.approx(share)
    assert "bent to 79 % of what its steel bears" in folding(making)
    assert "Never twist" in folding(making)


def test_a_long_hoop_of_thin_steel_may_be_twisted() -> None:
    assert "may be twisted to travel" in folding(making_of(**LONG))
    open_only = folding(
        making_of(tapes=DATA["tapes"] | {"stations": "between"}, hoops=[{"length": 1200, "opening": "front"}])
    )
    assert "wist" not in open_only


def test_a_tag_for_every_hoop_and_tape() -> None:
    told = [(tag.title, tag.text) for tag in tags(making_of())]
    assert told == [
        ("Hoop 1", "1200 mm, joined back"),
        ("Tape 1 CF", "set A"),
        ("Tape 2 L", "set A"),
        ("Tape 3 CB", "set A"),
        ("Tape 4 R", "set A"),
    ]


def test_the_card_of_the_egg() -> None:
    words = " ".join(
        " ".join(page.text.split())
        for page in pages_of(sheets_of(sample("d")).pdf)
        if page.text.startswith("9 To go")
    )
    for said in (
        "Folding.",
        "Care.",
        "Spares.",
        "Repairs",
        "Ties, final lengths",
        "upper tie",
        "Hoop 6",
        "Tape 10 R",
    ):
        assert said in words


@pytest.mark.parametrize("letter", ["a", "d"])
def test_each_caution_stands_once(letter: str) -> None:
    settled, report = hung_sample(sample(letter))
    words = " ".join(" ".join(page.text.split()) for page in pages_of(sheets_of(sample(letter)).pdf))
    worn = [text for _, text in wearing_cautions(settled.cage.design, report, Writing(True).height)]
    iron = cautions.iron(steel.section for steel in settled.cage.steels)
    for text in (cautions.CUTTING["steel"][1], iron, cautions.KINKS["steel"][1], *worn):
        assert words.count(" ".join(text.split())) == 1, text


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_measuring_sheet_has_two_readings_and_four_heights_on_one_page(paper: str) -> None:
    (page,) = pages_of(measuring_sheet(paper))
    words = " ".join(page.text.split())
    assert words.count("Waist above the floor") == 4
    assert "First Second" in words
    for key in ("waist_height", "hip_drop", "knee_height", "riser", "clearance"):
        assert key in words
    assert "not a safety certificate" not in words


def test_the_measuring_sheet_is_the_same_each_time() -> None:
    assert measuring_sheet() == measuring_sheet()
