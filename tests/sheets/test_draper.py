"""What the draper measures, against cages whose girths, lengths and gores are plain by hand."""

from __future__ import annotations

import csv
import re
from io import StringIO
from math import hypot, sqrt
from typing import Any

import numpy as np
import pytest
from made import hung_design, hung_sample, pages_of, sample, sheets_of

from cage3d.design.read import read_data
from cage3d.sheets import make_sheets
from cage3d.sheets.draper import draping_of, fall, length_of, taut

# Straight down from a round waist of 1 m: the hoop 200 mm under a band 20 mm deep, its lower edge at 990 mm.
UPRIGHT: dict[str, Any] = {
    "name": "upright",
    "units": "mm",
    "wearer": {
        "waist": 1000,
        "waist_height": 1000,
        "waist_breadth": 318,
        "waist_depth": 318,
        "knee_height": 500,
    },
    "waistband": {"depth": 20},
    "steel": {"width": 10, "thickness": 0.5},
    "tapes": {"count": 8, "stations": "on", "drops": [200]},
    "hoops": [{"length": 1000, "join": "none"}],
}


def measures(data: dict[str, Any]) -> dict[tuple[str, str], float]:
    made = make_sheets(*hung_design(read_data(data))).tables["draper.csv"].decode()
    return {(row["measure"], row["at"]): float(row["length_mm"]) for row in csv.DictReader(StringIO(made))}


def test_a_cage_that_hangs_straight_down() -> None:
    told = measures(UPRIGHT)
    for place in ("waist", "hoop 1", "knee", "floor"):
        assert told["girth", place] == pytest.approx(1000, abs=0.3), place
    for place in ("front", "her left", "back", "her right", "tape 1 CF", "tape 2 L", "tape 8 R"):
        assert told["waist to hem", place] == pytest.approx(210, abs=0.3), place
        assert told["waist to floor", place] == pytest.approx(1000, abs=0.3), place
    for place in ("waist", "hoop 1"):
        assert told["gore 1–2, spread", place] == pytest.approx(125, abs=0.3)
        assert told["gore 8–1, spread", place] == pytest.approx(125, abs=0.3)


def test_a_wider_hoop_and_a_knee_above_it() -> None:
    """Steel of 1.6 m under the waist of 1 m: radii 254.6 and 159.2 mm, a step of 95.5 mm, so that a tape of 600 mm
    falls sqrt(600^2 - 95.5^2) = 592.3 mm: to 397.7 mm. A knee at 500 mm is 500 / 602.3 of the way from the waist.
    """
    told = measures(
        UPRIGHT | {"tapes": {"count": 8, "drops": [600]}, "hoops": [{"length": 1600, "join": "none"}]}
    )
    assert told["girth", "hoop 1"] == pytest.approx(1600, abs=1.0)
    assert told["girth", "knee"] == pytest.approx(1000 + 600 * 500 / 602.3, abs=2.0)
    slope = hypot(95.5, 602.3)
    assert told["waist to hem", "tape 1 L"] == pytest.approx(slope, abs=2.0)
    assert told["waist to floor", "tape 1 L"] == pytest.approx(slope + 397.7, abs=2.0)


def test_a_cloth_bridges_a_hoop_that_lies_further_in() -> None:
    down = [(0.1, 1.0), (0.3, 0.8), (0.2, 0.6), (0.4, 0.4)]
    line = taut([np.array([0.0, r, z]) for r, z in down])
    assert length_of(line) == pytest.approx(sqrt(0.08) + sqrt(0.01 + 0.16))


def test_from_a_lantern_the_cloth_falls_from_its_widest_hoop() -> None:
    """Out to 0.4 m at 0.6 m, in again to 0.3 m at 0.3 m; to the floor straight down from 0.6 m."""
    found = [np.array([0.0, r, z]) for r, z in ((0.4, 0.6), (0.3, 0.3))]
    row = fall("back", np.array([0.0, 0.1, 1.0]), found)
    assert row.to_hem == pytest.approx(0.5 + sqrt(0.01 + 0.09))
    assert row.to_floor == pytest.approx(0.5 + 0.6)


def test_an_opening_is_bridged_and_gores_add_up_to_the_girth() -> None:
    settled, report = hung_sample(sample("d"))
    draping = draping_of(settled, report)
    girths = {row.place: row.girth for row in draping.girths}
    for hoop, steel in enumerate(settled.cage.steels, start=1):
        whole = sum(len(gore.names) * gore.spreads[hoop] for gore in draping.gores)
        assert whole == pytest.approx(girths[f"hoop {hoop}"], abs=0.002)
        opened = settled.cage.design.hoops[hoop - 1].opening != "none"
        assert (girths[f"hoop {hoop}"] > steel.finished + 0.01) == opened
    assert sum(len(gore.names) for gore in draping.gores) == settled.cage.design.tapes.count


def test_the_page_has_the_figures() -> None:
    words = " ".join(
        page.text for page in pages_of(sheets_of(sample("c")).pdf) if page.text.startswith("8 For the")
    )
    assert re.search(r"hoop 7 \S+ 110\b", words)
    assert "Gores Waist Hoop 1" in words
