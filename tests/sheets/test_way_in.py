"""Where she gets into a petticoat of gores, by hand, and how it stands on the pattern; no word runs over an edge."""

from __future__ import annotations

import csv
from functools import cache
from io import StringIO
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from gored import gored
from made import POINT, hung_design, pages_of, sample, sheets_of

from cage3d.sheets import make_sheets
from cage3d.sheets.gores import GoreSet
from cage3d.sheets.making import Making, prepared
from cage3d.sheets.way_in import down_to, open_to, slit_on, way_in

INCH = 0.0254
SLIT = 9 * INCH


@cache
def cone(gores: int = 6, seams: Any = None, opening: str = "none") -> Making:
    """The cone's making; opening: of its upper hoop."""
    first = {"length": 1200, "opening": opening} if opening != "none" else {"length": 1200, "join": "none"}
    hoops = [first, {"length": 1600, "join": "none"}, {"length": 2000, "join": "none"}]
    settled, report = hung_design(gored({"gores": gores, "seams": seams}, hoops=hoops))
    return prepared(settled.cage, report, None)


def test_between_the_ends_of_an_open_hoop_it_is_nine_inches_deep() -> None:
    """Six gores between seams at 1/12, 3/12, ...: the last spans centre front, which is its middle."""
    into = way_in(cone(opening="front"))
    assert (into.seam, into.gore, into.share) == (None, 6, pytest.approx(0.5))
    assert into.depth == pytest.approx(SLIT)


def test_it_ends_above_the_casing_of_a_closed_hoop() -> None:
    """Hoop 1 lies 250 mm down, 10 mm strip at the bottom of 1 in: stitched from 229.6 mm on; half an inch above."""
    assert way_in(cone()).depth == pytest.approx(0.250 + 0.005 - INCH - INCH / 2)


def test_a_seam_at_centre_front_is_left_open() -> None:
    into = way_in(cone(seams="on"))
    assert (into.seam, into.gore) == (1, 1)
    (one,) = cone(seams="on").gores
    told = sorted(open_to(one, into, 6), key=lambda found: found[0])
    assert [side for side, _ in told] == [0, 1]
    # Straight down both seams of the first gore, from the waistband's edge.
    for side, place in told:
        assert np.linalg.norm(place - one.flat[0, -side]) == pytest.approx(into.depth, abs=1e-6)
    assert slit_on(one, into) is None


def test_a_gore_that_is_not_even_about_centre_front_is_slit_where_that_is() -> None:
    """From 95 to 10 %: centre front lies a third of the way across."""
    assert way_in(cone(4, ("10 %", "40 %", "70 %", "95 %"))).share == pytest.approx(1 / 3)


def test_down_a_gore_by_hand() -> None:
    """300 wide with 20 above the waistband and lines 100 apart: a third across, 150 down, past the first line."""
    rows = np.array([[[0.0, y], [150.0, y], [300.0, y]] for y in (-20.0, 0.0, 100.0, 200.0)])
    assert down_to(rows, 1 / 3, 150.0) == pytest.approx(
        np.array([[100.0, -20.0], [100.0, 0.0], [100.0, 100.0], [100.0, 150.0]])
    )


def test_on_a_gore_that_is_drawn_turned_over_it_lies_on_the_other_side() -> None:
    rows = np.array([[[0.0, y], [300.0, y]] for y in (0.0, 400.0)])
    one: Any = SimpleNamespace(gores=(2, 4), mirrored=(False, True), top=rows[0] - [0.0, 20.0], flat=rows)
    into: Any = SimpleNamespace(seam=None, gore=4, share=0.25, depth=100.0)
    line = slit_on(one, into)
    assert line is not None
    assert line[-1] == pytest.approx([225.0, 100.0])
    assert slit_on(one, SimpleNamespace(seam=None, gore=3, share=0.25, depth=100.0)) is None  # type: ignore[arg-type]
    left_open: Any = SimpleNamespace(seam=4, gore=4, share=0.0, depth=100.0)
    ((side, place),) = open_to(one, left_open, 8)
    assert (side, place.tolist()) == (1, [300.0, 100.0])


def test_the_sample_has_it_in_its_pattern_and_on_its_page() -> None:
    tables = sheets_of(sample("i")).tables
    found = list(csv.DictReader(StringIO(tables["gore-pattern.csv"].decode())))
    slit = [(row["set"], float(row["x_mm"]), float(row["y_mm"])) for row in found if row["line"] == "slit"]
    assert slit == [("D", 0.0, pytest.approx(-25.4)), ("D", 0.0, 0.0), ("D", 0.0, pytest.approx(228.6))]
    (page,) = [page for page in pages_of(sheets_of(sample("i")).pdf) if "slit to here, 9 in" in page.text]
    thick = [line for line in page.lines if line["linewidth"] > 1.2 and abs(line["x1"] - line["x0"]) < 0.1]
    assert any(line["bottom"] - line["top"] > 50 for line in thick), "the slit is cut along the fold"


@pytest.mark.parametrize(("gores", "words"), [(6, "waistband's lower edge"), (24, "waistband")])
def test_words_end_before_the_seam(gores: int, words: str) -> None:
    """Half of a gore of 800 mm in 24 is 17 mm wide at the waistband: the long words would run out over its edge."""
    settled, report = hung_design(gored({"gores": gores, "gap": 100}))
    making = prepared(settled.cage, report, None)
    one: GoreSet = making.gores[0]
    pages = pages_of(make_sheets(settled, report).pdf)
    page = next(page for page in pages if f"gores {one.names[0]}" in page.text and "Row 1 of" in page.text)
    found = [word for word in page.words if word["text"] == words.split()[-1] and word["bottom"] < 400]
    assert found
    left = min(line["x0"] for line in page.lines if line["bottom"] - line["top"] > 100)
    assert max(word["x1"] for word in found) < left + one.flat[0, -1, 0] / POINT + 1.0
    assert ("lower edge" in page.text) == (words != "waistband")
