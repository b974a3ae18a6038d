"""Columns of the tables of every section, by hand, and what stands in them."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from on_paper import MM, Drawn, drawn
from reportlab.platypus import Table
from sections_drawn import WIDTH, columns, making, section_of, tables

from cage3d.sheets.draper import Draping, Girth, Gore
from cage3d.sheets.pages import cutting, draper
from cage3d.sheets.pages.marks import MarkedLength
from cage3d.sheets.paper.fonts import letters
from cage3d.sheets.writing import Writing

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
