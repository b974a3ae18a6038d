"""What is filled in by hand, on every section: boxes, frames, lines and grids."""

from __future__ import annotations

import csv
from dataclasses import replace
from itertools import pairwise

import pytest
from on_paper import MM, Drawn, drawn
from reportlab.platypus import Table
from sections_drawn import IDENTITY, WIDTH, making, section_of, tables

from cage3d.report.foreseen import CertaintyReport, HoopWithin
from cage3d.sheets.making import Making
from cage3d.sheets.pages import record
from cage3d.sheets.paper.fonts import letters
from cage3d.sheets.tables import fitting_record


def test_each_hoop_has_a_box_to_tick() -> None:
    blocks = drawn(tables("cutting")[0], WIDTH, 3000).blocks
    assert [(round(block.wide / MM, 2), round(block.tall / MM, 2)) for block in blocks] == [(4.5, 4.5)] * 2


def framed(page: Drawn) -> tuple[set[float], set[float]]:
    """Left and right ends and levels of the upright lines of a frame."""
    lines = [line for line in page.lines if line.x == line.to_x]
    return {round(line.x, 1) for line in lines}, {round(y, 1) for line in lines for y in (line.y, line.to_y)}


def test_what_is_filled_in_by_hand_is_framed() -> None:
    """Final lengths of ties in the last column; two readings of each measure; the log of repairs all over."""
    ties, repairs = tables("delivery")
    uprights, ends = framed(drawn(ties, WIDTH, 3000))
    # One tie: a row of 13 pt with 3 above and 4 under.
    assert (uprights, min(ends), max(ends)) == ({425.0, 500.0}, 0, 20)
    uprights, ends = framed(drawn(repairs, WIDTH, 3000))
    assert (uprights, min(ends)) == ({0.0, 65.0, 245.0, 425.0, 500.0}, 0)
    # Six rows to write in, of 3 pt and a line as tall as letters of 10 pt on 12, and 5 mm blank.
    page = drawn(repairs, WIDTH, 3000)
    heights = [
        above - below
        for above, below in pairwise(
            sorted({round(line.y, 1) for line in page.lines if line.y == line.to_y}, reverse=True)
        )
    ]
    assert len(heights) == 6
    assert heights == pytest.approx([15 + 5 * MM] * 6, abs=0.1)
    assert max(ends) == pytest.approx(6 * (15 + 5 * MM), abs=0.2), "the head has no frame"
    readings = tables("measuring")[0]
    uprights, ends = framed(drawn(readings, WIDTH, 3000))
    assert (uprights, min(ends)) == ({290.0, 350.0, 410.0}, 0)
    # Four rows of 12 pt, a blank field's, with 1.5 above and 2.5 under.
    assert max(ends) == pytest.approx(4 * 16, abs=0.1)


def test_fields_of_the_measuring_sheet_stand_three_abreast() -> None:
    (blanks,) = (item for item in section_of("measuring") if isinstance(item, Table) and not item.repeatRows)
    page = drawn(blanks, WIDTH, 3000)
    uprights, ends = framed(page)
    assert sorted(uprights) == pytest.approx([0, WIDTH / 3, WIDTH * 2 / 3, WIDTH], abs=0.1)
    # Two rows of 11 pt with 3 above and 5 mm under.
    assert (min(ends), max(ends)) == pytest.approx((0, 2 * (14 + 5 * MM)), abs=0.1)
    inner = {line.wide for line in page.lines if 0.1 < line.x == line.to_x < WIDTH - 0.1}
    assert 0.4 in inner


def test_two_lines_to_write_on_end_the_measuring_sheet_and_four_the_fitting() -> None:
    counts = [
        [item.count for item in section_of(name) if isinstance(item, record.WritingLines)]
        for name in ("measuring", "record")
    ]
    assert counts == [[2], [4]]


@pytest.mark.parametrize(
    ("hoops", "abreast"), [(2, [2]), (8, [8]), (9, [5, 4]), (12, [6, 6]), (17, [6, 6, 5])]
)
def test_heights_stand_in_grids_of_eight_hoops_at_most(hoops: int, abreast: list[int]) -> None:
    one = making().report.hoops[0]
    report = making().report.__class__(**{**vars(making().report), "hoops": (one,) * hoops})
    own = Making(**{**vars(making()), "report": report})
    story = record.record_pages(own, IDENTITY, letters(), WIDTH)
    grids = [(before, item) for before, item in pairwise(story) if isinstance(item, record.HeightGrid)]
    assert [len(grid.hoops) for _, grid in grids] == abreast
    # A grid begins where it is whole, or 120 mm of it: eight tapes take 8 + 8 x 8.6 = 76.8 mm.
    assert [before.height / MM for before, _ in grids] == pytest.approx([76.8] * len(abreast))


def test_a_long_grid_asks_for_120_millimetres() -> None:
    own = Making(**{**vars(making()), "stations": making().stations.repeat(2)})
    story = record.record_pages(own, IDENTITY, letters(), WIDTH)
    (before,) = (before for before, item in pairwise(story) if isinstance(item, record.HeightGrid))
    assert before.height / MM == pytest.approx(120)


def test_the_fitting_record_tells_how_sure_each_height_is() -> None:
    """At every tape of every hoop its own, in millimetres to a tenth; nothing where it was not asked."""
    own = making()
    tapes, hoops = own.design.tapes.count, len(own.design.hoops)
    within = [[0.001 * hoop + 0.00021 * tape for tape in range(tapes)] for hoop in range(1, hoops + 1)]
    sure = CertaintyReport(
        0.9,
        tuple(HoopWithin(number, *[0.003] * 6, tuple(each)) for number, each in enumerate(within, 1)),
        *[0.003] * 5, "sewing", (),
    )  # fmt: skip
    asked = replace(own, report=replace(own.report, certainty=sure))
    rows = list(csv.DictReader(fitting_record(asked).decode("utf-8-sig").splitlines()))
    assert [row["plus_or_minus_mm"] for row in rows[:2]] == ["1.0", "1.2"]
    assert [float(row["plus_or_minus_mm"]) for row in rows] == pytest.approx(
        [1e3 * one for each in within for one in each], abs=0.051
    )
    not_asked = replace(own, report=replace(own.report, certainty=None))
    bare = csv.DictReader(fitting_record(not_asked).decode("utf-8-sig").splitlines())
    assert {row["plus_or_minus_mm"] for row in bare} == {""}
