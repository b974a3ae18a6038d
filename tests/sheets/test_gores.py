"""The sheets of a petticoat of gores: its sample's figures by hand, its pattern measured on paper, its cloth."""

from __future__ import annotations

import csv
import re
from io import StringIO

import numpy as np
import pytest
from gored import gored
from made import POINT, pages_of, sample, sheets_of

from cage3d.design.read import read
from cage3d.errors import DesignError
from cage3d.shape.lay_out import lay_out
from cage3d.sheets.cloth_layout import laid_on_cloth
from cage3d.sheets.gores import beside_line, gore_sets
from cage3d.sheets.paper.drawing import THICK
from cage3d.sheets.paper.sizes import paper_named
from cage3d.sheets.tiles import OVERLAP, contains, tiles_of, within

INCH = 25.4


def rows(table: str) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(sheets_of(sample("i")).tables[f"{table}.csv"].decode())))


def test_the_samples_gores_by_hand() -> None:
    """Seams at 12, 23, 36, 64, 77 and 88 %; 26 in at the waist, 1.01 times hoop and opening round each hoop."""
    told = rows("gores")
    assert [(row["between_seams"], row["side"], row["set"], row["on_the_fold"]) for row in told] == [
        ("1–2", "L", "A", "yes"), ("2–3", "L", "B", "yes"), ("3–4", "CB", "C", "yes"), ("4–5", "R", "B", "yes"),
        ("5–6", "R", "A", "yes"), ("6–1", "CF", "D", "yes"),
    ]  # fmt: skip
    round_it = [26.0, *(1.01 * girth for girth in (47 + 8, 58 + 8, 74, 83, 90))]
    for row, share in zip(told, (0.11, 0.13, 0.28, 0.13, 0.11, 0.24), strict=True):
        widths = [float(row[key]) for key in row if key.startswith("width") and key.endswith("_mm")]
        assert widths == pytest.approx([share * girth * INCH for girth in round_it], abs=0.051)


def test_the_samples_casing_lines_by_hand() -> None:
    """Strip of 7 mm at the bottom of its casing: stitched 3.5 mm below its middle, and an inch above that."""
    told = rows("casing-lines")
    assert len(told) == 6 * 5
    for row, level in zip(told, 6 * [9.5, 16, 22, 28, 33.75], strict=True):
        lines = [float(row[f"{name}_mm"]) for name in ("upper_line", "steel", "lower_line")]
        assert lines == pytest.approx(
            [level * INCH + 3.5 - INCH, level * INCH, level * INCH + 3.5], abs=0.051
        )


def test_the_samples_materials_by_hand() -> None:
    told = {row["material"]: row for row in rows("materials")}
    # Along every casing but its opening, and an inch at either end (common practice).
    strips = 1.01 * (55 + 66 + 74 + 83 + 90) - 2 * 8 + 5 * 2
    assert float(told["Strips for the casings"]["needed"]) == pytest.approx(strips * INCH / 1000, abs=6e-4)
    # An inch and 7 mm at either edge, of 140 g/m2.
    wide = (INCH + 14) / 1000
    assert float(told["Strips for the casings"]["weight_kg"]) == pytest.approx(
        strips * INCH / 1000 * wide * 0.140, abs=1e-4
    )
    # Finished frusta and what is beyond them: an inch above and below, five eighths at both edges of six gores.
    girths = [26.0, *(1.01 * girth for girth in (55, 66, 74, 83, 90))]
    drops = [9.5, 6.5, 6, 6, 5.75]
    finished = sum((a + b) / 2 * d for a, b, d in zip(girths, girths[1:], drops, strict=False))
    beyond = girths[0] + girths[-1] + 12 * 0.625 * (sum(drops) + 2)
    cut = (finished + beyond) * (INCH / 1000) ** 2
    assert float(told["Cloth for the gores"]["weight_kg"]) == pytest.approx(0.140 * cut, rel=0.03)
    assert "Ribbon for the tapes" not in told


def test_the_pattern_measures_right_on_paper() -> None:
    """On the last page of set A stand the notches of hoops 4 and 5: 5 3/4 in apart on the seam, 5/8 in long."""
    pages = pages_of(sheets_of(sample("i")).pdf)
    (page,) = [page for page in pages if "gores 1–2 L" in page.text and "Row 4 of 4" in page.text]
    on_page = [line for line in page.lines if 60 < line["top"] < 780 and 60 < line["bottom"] < 780]
    marks = [line for line in on_page if line["linewidth"] == pytest.approx(THICK, abs=0.01)]
    notches = [line for line in marks if line["x1"] - line["x0"] < 60 and line["bottom"] - line["top"] < 30]
    assert len(notches) == 2
    for line in notches:
        length = np.hypot(line["x1"] - line["x0"], line["bottom"] - line["top"]) * POINT
        assert length == pytest.approx(0.625 * INCH / 1000, abs=2e-4)
    # The seam's end of a notch is the one nearer to the fold, at the left.
    ends = [min(line["pts"], key=lambda point: point[0]) for line in notches]
    assert np.hypot(*np.subtract(*ends)) * POINT == pytest.approx(5.75 * INCH / 1000, abs=2e-4)


def test_pages_overlap_and_hold_the_whole_gore() -> None:
    (one,) = gore_sets(lay_out(gored({"gores": 5, "seams": "on"})))
    tiles = tiles_of(one, paper_named("a4"))
    first, below = (next(tile for tile in tiles if tile.row == row) for row in (1, 2))
    assert below.top == pytest.approx(first.top + first.high - OVERLAP)
    places = one.outline[one.outline[:, 0] >= 0.0] / POINT
    for x, y in places:
        assert any(t.left <= x <= t.left + t.wide and t.top <= y <= t.top + t.high for t in tiles)


def test_gores_lie_apart_on_the_cloth() -> None:
    """Twenty thousand places drawn by lot on the cloth: none in two gores, and the cloth holds them all."""
    sets = gore_sets(lay_out(read(sample("i"))))
    layout = laid_on_cloth(sets, 1.5)
    outlines = [laid.outline for laid in layout.gores]
    assert len(outlines) == 6
    for outline in outlines:
        assert outline.min() >= -1e-9
        assert outline[:, 0].max() <= 1.5
        assert outline[:, 1].max() <= layout.length + 1e-9
    lot = np.random.default_rng(1)
    for place in lot.uniform(size=(4000, 2)) * [1.5, layout.length]:
        assert sum(contains(outline, place) for outline in outlines) <= 1


def test_every_other_gore_of_a_row_stands_on_its_head() -> None:
    """All six of the cone beside one another on cloth of 6 m: hems and waists by turns at the row's upper edge."""
    sets = gore_sets(lay_out(gored({"gores": 6, "seams": "on"})))
    laid = sorted(laid_on_cloth(sets, 6.0).gores, key=lambda one: one.outline[:, 0].min())
    assert len(laid) == 6
    wide_above = [
        bool(
            np.ptp(one.outline[one.outline[:, 1] < middle, 0])
            > np.ptp(one.outline[one.outline[:, 1] > middle, 0])
        )
        for one in laid
        for middle in [one.outline[:, 1].min() / 2.0 + one.outline[:, 1].max() / 2.0]
    ]
    assert wide_above in ([False, True] * 3, [True, False] * 3)


def test_more_gores_abreast_take_less_cloth() -> None:
    sets = gore_sets(lay_out(read(sample("i"))))
    lengths = [laid_on_cloth(sets, width).length for width in (0.9, 1.5, 3.0)]
    assert lengths == sorted(lengths, reverse=True)
    assert lengths[0] > 1.4 * lengths[1] > 1.4 * lengths[2]


def test_a_line_beside_a_corner() -> None:
    """Straight down and then out by 45 degrees: beside its corner at 1 / cos(22.5 degrees) of the distance."""
    line = np.array([[0.0, 0.0], [0.0, 1.0], [1.0, 2.0]])
    off = beside_line(line, 0.1)
    assert off[0] == pytest.approx([-0.1, 0.0])
    assert np.linalg.norm(off[1] - line[1]) == pytest.approx(0.1 / np.cos(np.pi / 8))
    assert np.linalg.norm(off[2] - line[2]) == pytest.approx(0.1)


def test_left_and_right_gores_are_cut_as_mirror_images() -> None:
    """Longer behind than in front: gores at her sides lean, and her right ones are turned over."""
    sets = gore_sets(lay_out(gored({"levels": {"front": [240, 480, 720], "back": [270, 540, 810]}})))
    assert [(one.names, one.mirrored, one.even) for one in sets] == [
        (("1–2 L", "5–6 R"), (False, True), False),
        (("2–3 L", "4–5 R"), (False, True), False),
        (("3–4 CB",), (False,), True),
        (("6–1 CF",), (False,), True),
    ]


def test_sheets_of_cloth_speak_of_seams() -> None:
    text = "\n".join(page.text for page in pages_of(sheets_of(sample("i")).pdf))
    assert re.findall(r"\b[Tt]apes? \d", text) == []
    for words in ("5 hoops on 6 gores", "4 Gores at full size", "Slit the middle of gore 6–1", "Seam 6 R"):
        assert words in text
    assert "Marking strips" not in text


def test_what_cannot_be_sewn_is_refused_at_the_cloth() -> None:
    with pytest.raises(DesignError) as caught:
        gore_sets(lay_out(gored({"allowance": {"hem": 2}})))
    assert caught.value.problems[0].where == "cloth.allowance.hem"
    with pytest.raises(DesignError) as caught:
        gore_sets(
            lay_out(gored({"levels": [250, 500, 515]}, hoops=[{"length": n} for n in (1200, 1600, 1610)]))
        )
    assert caught.value.problems[0].where.startswith("cloth.levels")


def test_a_line_is_cut_off_at_the_edges_of_its_page() -> None:
    """Across a square of 10 from side to side, back over its corner, and past it."""
    low, high = np.zeros(2), np.array([10.0, 10.0])
    line = np.array([[-5.0, 5.0], [15.0, 5.0], [15.0, 8.0], [8.0, 15.0], [8.0, -5.0], [20.0, -5.0]])
    told = within(line, low, high)
    assert [stretch.tolist() for stretch in told] == [[[0.0, 5.0], [10.0, 5.0]], [[8.0, 10.0], [8.0, 0.0]]]
    inside = np.array([[1.0, 1.0], [2.0, 3.0], [4.0, 4.0]])
    assert [stretch.tolist() for stretch in within(inside, low, high)] == [inside.tolist()]
