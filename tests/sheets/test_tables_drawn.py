"""Columns, the room that a heading keeps, blanks and rules of every section, by hand."""

from __future__ import annotations

import csv
from dataclasses import replace
from functools import cache
from itertools import pairwise
from types import SimpleNamespace
from typing import Any

import pytest
from lopsided import lopsided
from on_paper import MM, Drawn, drawn
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, PageBreak, Paragraph, Spacer, Table

from cage3d.report.foreseen import CertaintyReport, HoopWithin, MarkReport, SlipReport, SpreadReport
from cage3d.sheets.draper import Draping, Girth, Gore, draping_of
from cage3d.sheets.making import Making, prepared
from cage3d.sheets.pages import assembly, cutting, delivery, draper, materials, measuring, record, tapes
from cage3d.sheets.pages.marks import MarkedLength
from cage3d.sheets.paper.drawing import SUBTITLE
from cage3d.sheets.paper.fonts import letters
from cage3d.sheets.paper.frame import Identity
from cage3d.sheets.tables import fitting_record
from cage3d.sheets.writing import Writing

WIDTH = 500.0
IDENTITY = Identity("Lopsided", "Act I", "W-07", "0123abcd")
SLIP = SlipReport(0.001, 0.0, -0.002, 0.0)
MARKS = (MarkReport(1, 1, 0.0, -0.8, 0.0, 0.0, 0.003, SLIP, SLIP),)


@cache
def making(units: str = "mm") -> Making:
    settled, report = lopsided()
    own = prepared(
        settled.cage, replace(report, marks=MARKS, spread=SpreadReport(0.0016, 0.003, 0.9, 0.007)), None
    )
    return replace(own, writing=Writing.of(units))


@cache
def draping() -> Draping:
    return draping_of(*lopsided())


def section_of(name: str) -> list[Flowable]:
    """One section of the sheets, or the measuring sheet, made anew."""
    fonts = letters()
    if name == "measuring":
        return measuring.measuring_story(fonts, WIDTH)
    if name == "draper":
        return draper.draper_pages(making(), draping(), fonts, WIDTH)
    if name == "record":
        return record.record_pages(making(), IDENTITY, fonts, WIDTH)
    if name == "delivery":
        return delivery.delivery_pages(making(), IDENTITY, fonts, WIDTH)
    pages = {
        "cutting": cutting.cutting_pages,
        "tapes": tapes.tape_pages,
        "materials": materials.material_pages,
        "assembly": assembly.assembly_pages,
    }
    return pages[name](making(), fonts, WIDTH)


def flat(story: list[Flowable]) -> list[Flowable]:
    """A story with what is kept together one after another."""
    return [
        part for item in story for part in (flat(item._content) if isinstance(item, KeepTogether) else [item])
    ]


# Of each heading, how many mm must be left on the page for it to begin there.
KEPT = {
    "cutting": {"Order of cutting": 60},
    "tapes": {"Ribbon to cut": None, "Casing lines from the zero, mm": 50, "Waistband: marks from the cut end": None},
    "materials": {},
    "assembly": {
        "Heights to check above the floor, mm": 70, "If it hangs off": 60,
        "What a mark that is 3 mm off does": 40,
    },
    "record": {
        "Heights above the floor at each tape, mm": None, "Ties, as they end": 40, "Seen at the fitting": 45,
        "Before it is worn": None,
    },
    "draper": {"Girths, mm": None, "Lengths over the cage, mm": 60, "Spread of each gore, mm": 60},
    "delivery": {"Ties, final lengths": None, "Repairs": 70, "Tags": 60},
    "measuring": {"Heights of the waist": 30, "The wearer": 30, "The place and the stuff": 30},
}  # fmt: skip


@pytest.mark.parametrize("section", KEPT)
def test_a_heading_stays_with_what_it_heads(section: str) -> None:
    found: dict[str, float | None] = {}
    before: Flowable | None = None
    for item in flat(section_of(section)):
        if isinstance(item, Paragraph) and item.style.name == SUBTITLE.name:
            room = item.getPlainText()
            found[room] = before.height / MM if isinstance(before, CondPageBreak) else None
        before = item
    assert found == {
        head: None if room is None else pytest.approx(room) for head, room in KEPT[section].items()
    }


def test_only_the_measuring_sheet_begins_on_the_page_it_is_on() -> None:
    for name in KEPT:
        assert isinstance(section_of(name)[0], PageBreak) == (name != "measuring"), name


# mm of blank, in order: after cautions, before tables and between blocks.
BLANK = {
    # After the caution and the list; before the bar and after the plan; after the marks' intro and each of two hoops.
    "cutting": [4, 2, 1, 4, 3, 2, 2],
    # Before the caution, after both tables, before and after two tables of casing lines, before the waistband.
    "tapes": [3, 1, 1, 4, 4, 2],
    "materials": [2],
    "assembly": [3, 1, 1],
    "record": [3, 2, 4],
    "draper": [1, 1, 1, 3],
    "delivery": [2, 1],
    "measuring": [2, 2],
}


@pytest.mark.parametrize("section", BLANK)
def test_blank_between_the_parts_of_a_section(section: str) -> None:
    found = [item.height / MM for item in flat(section_of(section)) if type(item) is Spacer]
    if section == "record":  # and 1.6 mm under every caution of wearing
        found, cautions = found[:3], found[3:]
        assert cautions == pytest.approx([1.6] * len(cautions))
        assert cautions
    assert found == pytest.approx(BLANK[section])


def columns(one: Table) -> list[float]:
    """pt, of each column."""
    return list(one._colWidths)


def tables(section: str) -> list[Table]:
    """The tables of a section, cautions apart."""
    return [item for item in section_of(section) if isinstance(item, Table) and item.repeatRows]


# Of the page's width, per cent; what is written in mm takes its mm and leaves the rest to the words.
COLUMNS = {
    "cutting": [[8, 17, 14, 13, 17, 2, 24, 5]],
    "tapes": [[5, 15, 36, 11, 12, 9, 12], [9, *[91 / 5] * 5], [9, *[91 / 5] * 3]],
    "materials": [[48, 14, 15, 10]],
    "draper": [[20, 18, 14], [16, 16, 14, 6, 16, 16, 14], [24, *[76 / 9] * 3]],
    "delivery": [[22, 24, 24, 15, 15], [13, 36, 36, 15]],
    "record": [[22, 24, 24, 15, 15]],
    "measuring": [[27, 31, 12, 12, 18]] * 3,
}


@pytest.mark.parametrize("section", COLUMNS)
def test_columns_share_the_width(section: str) -> None:
    found = [columns(one) for one in tables(section)]
    wanted = [[share / 100 * WIDTH for share in row] for row in COLUMNS[section]]
    assert found == [pytest.approx(row, abs=0.05) for row in wanted]


def test_in_inches_the_cut_stands_in_eighths_too() -> None:
    inches = cutting.cut_table(making("in"), letters(), WIDTH)
    assert columns(inches) == pytest.approx([share * 5 for share in (8, 17, 14, 13, 17, 12, 14, 5)])


def test_columns_of_the_assembly() -> None:
    """A box of 4.5 mm in 8 mm and a number in 12; four boxes of 17 by 9 mm in 20 beside figures that share what
    14 mm for the hoop leave; a quarter for what is seen, 24 % for a mark and the rest for both ways it may be off.
    """
    steps, heights, off, marks = tables("assembly")
    assert columns(steps) == pytest.approx([8 * MM, 12 * MM, WIDTH - 20 * MM], abs=0.05)
    share = (WIDTH - 14 * MM) / 4
    assert columns(heights) == pytest.approx([14 * MM, *[share - 20 * MM, 20 * MM] * 4], abs=0.05)
    assert columns(off) == pytest.approx([125, 375], abs=0.05)
    assert columns(marks) == pytest.approx([120, 190, 190], abs=0.05)
    boxes = {
        (round(block.wide / MM, 2), round(block.tall / MM, 2)) for block in drawn(heights, WIDTH, 3000).blocks
    }
    assert boxes == {(17, 9)}
    assert len(drawn(heights, WIDTH, 3000).blocks) == 4 * 2
    ticks = drawn(steps, WIDTH, 3000)
    assert {(round(block.wide / MM, 2), round(block.tall / MM, 2)) for block in ticks.blocks} == {(4.5, 4.5)}
    numbers = [words.said for words in ticks.words if words.size == 15]
    assert numbers == [str(number) for number in range(1, len(numbers) + 1)]
    assert len(numbers) == len(ticks.blocks) > 5


def test_each_hoop_has_a_box_to_tick() -> None:
    blocks = drawn(tables("cutting")[0], WIDTH, 3000).blocks
    assert [(round(block.wide / MM, 2), round(block.tall / MM, 2)) for block in blocks] == [(4.5, 4.5)] * 2


def levels(page: Drawn, wide: float, grey: float) -> list[float]:
    """y of level lines of a width and grey, from the top, each once."""
    found = {
        round(line.y, 1)
        for line in page.lines
        if line.y == line.to_y and line.wide == wide and round(line.grey, 2) == grey
    }
    return sorted(found, reverse=True)


@pytest.mark.parametrize("section", ["cutting", "materials"])
def test_a_sum_has_a_rule_over_it(section: str) -> None:
    """Black under the head and over the sum, from edge to edge."""
    page = drawn(tables(section)[0], WIDTH, 3000)
    head, total = levels(page, 0.8, 0.0)
    said = [words for words in page.words if words.said in ("All hoops", "All together")]
    assert [words.foot < total for words in said] == [True]
    spans = sorted(
        (line.x, line.to_x) for line in page.lines if line.wide == 0.8 and round(line.y, 1) == total
    )
    assert (spans[0][0], spans[-1][1]) == pytest.approx((0, sum(columns(tables(section)[0]))), abs=0.02)
    assert head > total


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


@pytest.mark.parametrize(("hoops", "columns_"), [(1, [2 + 0]), (8, [9]), (9, [9, 2])])
def test_spreads_of_eight_hoops_stand_abreast(hoops: int, columns_: list[int]) -> None:
    """Each table begins with the waist; figures of hoop 9 stand under hoop 9."""
    gore = Gore(("1–2",), tuple(0.1 * (level + 1) for level in range(hoops + 1)))
    own = SimpleNamespace(
        writing=Writing(False),
        says=str,
        heights_within="",
        design=SimpleNamespace(stuff="steel", hoops=(None,) * hoops, tapes=SimpleNamespace(count=8)),
    )
    told: Any = draper.draper_pages(
        own,
        Draping((Girth("floor", 0.0, 1.0),), (), (gore,), tuple(f"hoop {hoop + 1}" for hoop in range(hoops))),
        letters(),
        WIDTH,
    )
    last = [item for item in told if isinstance(item, Table)][2:]
    found = [[words.said for words in drawn(one, WIDTH, 3000).words] for one in last]
    for table, count in zip(found, columns_, strict=True):
        assert (table[0], table[1], table[count + 1], table[count + 2]) == ("Gores", "Waist", "1–2", "100")
    assert found[-1][-1] == f"{100 * (hoops + 1)}"
    assert found[-1][columns_[-1]] == f"Hoop {hoops}"


def test_places_of_the_lengths_stand_in_two_columns() -> None:
    """Four centres and eight tapes: six places beside six."""
    page = drawn(tables("draper")[1], WIDTH, 3000)
    left = [words.said for words in page.words if words.left < 70 and words.size == 10]
    right = [words.said for words in page.words if 255 < words.left < 330 and words.size == 10]
    assert left == ["front", "her left", "back", "her right", "tape 1 L", "tape 2 L"]
    assert right == ["tape 3 L", "tape 4 L", "tape 5 R", "tape 6 R", "tape 7 R", "tape 8 R"]


def test_marks_are_drawn_over_the_cut_end_to_end() -> None:
    """Hoop 1 is cut 1050 mm and ends there; each hoop's block ends with its second end."""
    blocks = [item for item in section_of("cutting") if isinstance(item, MarkedLength)]
    assert [(block.title, block.cut, block.marks[-1].text, block.marks[-1].at) for block in blocks] == [
        ("Hoop 1", pytest.approx(1.05), "second end", pytest.approx(1.05)),
        ("Hoop 2", pytest.approx(1.0), "second end", pytest.approx(1.0)),
    ]


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
