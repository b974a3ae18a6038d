"""A cage on its own cloth for other wearers: levels by hand on a cone, hoops and girths, and what is bought for all."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt
from pathlib import Path

import numpy as np
import pytest
from gored import TEXT, gored

from cage3d.flow import report_for
from cage3d.sheets.order import Order, order_of, ordered
from cage3d.study.grading.first import first_columns, lengths_of_rows, to_marks
from cage3d.study.grading.grade import Graded, How, Pattern, graded, pattern_of
from cage3d.study.grading.hoops import length_round, lengths_for
from cage3d.study.grading.wearers import wearers_of
from cage3d.study.numbers import numbers_of

FINE = How(step=2.5e-4)
STEP = 0.4 / (2.0 * pi)  # m from one hoop of the cone to the next, and from the waist to hoop 1
FALL = sqrt(0.25**2 - STEP**2)  # m
SIDED = "levels: {front: [250, 500, 750], back: [250, 500, 750]}"


def cone(folder: Path, levels: str = "levels: [250, 500, 750]") -> Pattern:
    path = folder / "cone.yaml"
    path.write_text(TEXT.replace("levels: [250, 500, 750]", levels), "utf-8")
    return pattern_of(path)


def each(pattern: Pattern, table: str, how: How = FINE) -> list[Graded]:
    return [graded(pattern, row, how) for row in wearers_of(table, "w.csv", "mm")]


def levels(cage: Graded) -> np.ndarray:
    """(6, 3) m down every seam."""
    return np.cumsum(cage.design.tapes.drops, axis=1)


def test_for_the_same_wearer_nothing_changes(tmp_path: Path):
    pattern = cone(tmp_path)
    (cage,) = each(pattern, "code,waist,waist height\nW-01,800,1000\n", How())
    wearer = "wearer: {waist: 800, waist_height: 1000, waist_breadth: 250, waist_depth: 250"
    assert wearer in pattern.text
    assert (
        cage.text
        == f"# Graded for W-01 from cone.yaml.\n{pattern.text.replace(wearer, wearer + ', code: W-01')}"
    )
    assert cage.most_off < 1e-5


@pytest.mark.parametrize("written", ["levels: [250, 500, 750]", SIDED])
def test_levels_of_other_waists_by_hand(tmp_path: Path, written: str):
    """The cloth above hoop 1 is the slant from her waist to a hoop that stays: sqrt(fall^2 + step^2).

    What lies below keeps its 250 mm from casing to casing: every level goes by as much as the first.
    """
    table = "code,waist,waist breadth,waist depth\nA,720,230,230\nB,880,280,280\n"
    for waist, cage in zip((0.72, 0.88), each(cone(tmp_path, written), table), strict=True):
        hand = sqrt(FALL**2 + ((1.2 - waist) / (2.0 * pi)) ** 2)
        found = levels(cage)
        assert found[:, 0] == pytest.approx([hand] * 6, abs=7e-4)
        assert np.diff(found, axis=1) == pytest.approx(np.full((6, 2), 0.25))
        assert (cage.reached, cage.longer) == (True, ())


def test_her_height_goes_into_the_first_stretch_or_into_all(tmp_path: Path):
    """30 mm taller: 30 mm more of fall in the first stretch; shared, each of three equal ones has 10 mm of it."""
    table = "code,waist,waist height\nA,800,1030\n"
    (first,) = each(cone(tmp_path), table)
    assert levels(first)[0, 0] == pytest.approx(sqrt((FALL + 0.03) ** 2 + STEP**2), abs=7e-4)
    assert np.diff(levels(first), axis=1) == pytest.approx(np.full((6, 2), 0.25))
    (shared,) = each(cone(tmp_path), table, replace(FINE, shared=True))
    slant = sqrt((FALL + 0.01) ** 2 + STEP**2)
    assert levels(shared) == pytest.approx(slant * np.array([[1, 2, 3]] * 6), abs=1.5e-3)


def test_a_waist_that_is_higher_behind_is_met_by_waves(tmp_path: Path):
    """20 mm higher at the back: cloth there longer by 20 mm's slant, in front as it was; by side two levels each."""
    table = (
        "code,waist,waist height,waist height front,waist height left,waist height back,waist height right\n"
        "A,800,,1000,1010,1020,1010\n"
    )
    (cage,) = each(cone(tmp_path, SIDED), table)
    design = cage.design.cloth
    assert design is not None
    front, back = design.levels.front, design.levels.back  # type: ignore[union-attr]
    more = sqrt((FALL + 0.02) ** 2 + STEP**2) - 0.25
    assert front[0] == pytest.approx(0.25, abs=2e-3)
    assert back[0] - front[0] == pytest.approx(more, abs=2e-3)
    assert cage.reached


def test_levels_of_a_seam_go_together_to_marks():
    """Of a cone on seams each row is one column of three ones; by side seam 1, 30 degrees off, has (1 +- cos) / 2."""
    design = gored()
    columns = first_columns(design)
    assert columns.shape == (3 + 18, 6)
    assert np.flatnonzero(columns[:, 1]).tolist() == [6, 7, 8]
    assert lengths_of_rows(design) == pytest.approx(np.eye(6))
    sided = gored({"levels": {"front": [250, 500, 750], "back": [250, 500, 750]}})
    share = (1.0 + np.cos(pi / 6)) / 2.0
    assert lengths_of_rows(sided)[0] == pytest.approx([share, 1.0 - share])
    marked = to_marks(design, numbers_of(design) + 0.0123 * columns[:, 1], 5e-3)
    assert marked[6:9] == pytest.approx([0.26, 0.51, 0.76])
    assert marked[9:12] == pytest.approx([0.25, 0.5, 0.75])


def test_an_open_hoop_in_cloth_is_longer_and_its_opening_as_wide():
    """1050 mm and an opening of 150 mm round 1200: round 1320 mm it is 1170 mm long, and no 10 % longer."""
    hoops = [
        {"length": 1050, "opening": "front"},
        {"length": 1600, "join": "none"},
        {"length": 2000, "join": "none"},
    ]
    design = gored(hoops=hoops)
    assert length_round(design, 1.05, 1.2, 1.32) == pytest.approx(1.17)
    wearer = design.wearer.model_copy(
        update={"hip": 1.2, "hip_drop": 0.2, "hip_breadth": 0.4, "hip_depth": 0.35}
    )
    hers = design.model_copy(update={"wearer": wearer})
    first, second, third = lengths_for(hers, np.array([0.75, 0.5, 0.25]), np.full(3, 0.02))
    assert first == pytest.approx(
        pi * (0.4 + 0.04) - 0.15, abs=0.03
    )  # half her breadth and 20 mm, to a centimetre
    assert (second, third) == (1.6, 2.0)


@pytest.fixture(scope="module")
def two(tmp_path_factory: pytest.TempPathFactory) -> Order:
    pattern = cone(tmp_path_factory.mktemp("order"))
    cages = each(pattern, "code,waist\nA,800\nB,800\n")
    return order_of(pattern.design, [ordered(cage, report_for((), cage.settled)) for cage in cages])


def test_an_order_buys_cloth_and_counts_gores(two: Order):
    """Casings: 1212 + 1616 + 2020 mm and three times the inch at both ends, for each cage; no ribbon."""
    rows = {row.key: row for row in two.materials}
    assert "ribbon" not in rows
    assert rows["casing"].amount == pytest.approx(2.0 * (1.212 + 1.616 + 2.02 + 3 * 2 * 0.0254))
    assert rows["cloth"].detail.startswith("for each cage 6 gores")
    works = {work.name: work.count for work in two.quote.works}
    assert (works["Gores"], works["Casings"]) == (12, 6)
    assert "Tapes" not in works
