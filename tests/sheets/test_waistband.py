"""Marks on the waistband's ribbon, every one worked out by hand."""

from __future__ import annotations

import csv
from io import StringIO
from typing import Any

import pytest
from made import hung_design, pages_of

from cage3d.design.read import read_data
from cage3d.sheets import make_sheets

DATA: dict[str, Any] = {
    "name": "band",
    "units": "mm",
    "wearer": {"waist": 600, "waist_height": 1000},
    "waistband": {"depth": 20, "overlap": 100},
    "steel": {"width": 10, "thickness": 0.5},
    "tapes": {"count": 4, "stations": "on", "drops": [200]},
    "hoops": [{"length": 1000}],
}
TURN = 25.4  # 1 in, common practice


def marks_of(**changes: Any) -> list[tuple[str, float]]:
    made = make_sheets(*hung_design(read_data(DATA | changes)))
    rows = csv.DictReader(StringIO(made.tables["waistband-marks.csv"].decode()))
    return [(row["mark"], float(row["from_cut_end_mm"])) for row in rows]


def test_from_the_buckle_at_centre_back_by_her_right() -> None:
    """Quarters of 600 mm after the turning; 700 mm cut, of which 74.6 mm are the tongue."""
    assert marks_of() == [
        ("CB, buckle + tape 3", TURN),
        ("tape 4", TURN + 150),
        ("CF + tape 1", TURN + 300),
        ("tape 2", TURN + 450),
        ("CB again", TURN + 600),
        ("tongue's end", 700),
    ]


def test_a_cage_that_opens_in_front_is_buckled_there() -> None:
    """Four tapes half a step off: at 75, 225, 375 and 525 mm from centre front by her left."""
    tapes = DATA["tapes"] | {"stations": "between"}
    assert marks_of(tapes=tapes, hoops=[{"length": 1000, "opening": "front"}]) == [
        ("CF, buckle", TURN),
        ("tape 1", TURN + 75),
        ("tape 2", TURN + 225),
        ("CB", TURN + 300),
        ("tape 3", TURN + 375),
        ("tape 4", TURN + 525),
        ("CF again", TURN + 600),
        ("tongue's end", 700),
    ]


def test_a_short_overlap_is_shared_between_turning_and_tongue() -> None:
    marks = dict(marks_of(waistband={"depth": 20, "overlap": 30}))
    assert marks["CB, buckle + tape 3"] == pytest.approx(15)
    assert marks["CB again"] == pytest.approx(615)


def test_the_marks_stand_on_the_tapes_page() -> None:
    made = make_sheets(*hung_design(read_data(DATA)))
    words = " ".join(
        " ".join(page.text.split()) for page in pages_of(made.pdf) if "Waistband: marks" in page.text
    )
    for figure in ("25", "175", "325", "475", "625", "700"):
        assert f" {figure} " in words
    assert "from the buckle at centre back by her right" in words
    assert "turn 25 mm under" in words
    assert "the last 75 mm are the tongue" in words
