"""Blocks of marks, bars of the order of cutting and tags, as they are drawn."""

from __future__ import annotations

from itertools import pairwise

import pytest
from on_paper import MM, Told, assert_words, drawn

from cage3d.sheets.delivery import Tag
from cage3d.sheets.least_steel import Bar
from cage3d.sheets.pages.bars import BarDrawing
from cage3d.sheets.pages.delivery import TagRow
from cage3d.sheets.pages.marks import MarkedLength
from cage3d.sheets.paper.fonts import letters
from cage3d.sheets.steel import SteelMark
from cage3d.sheets.writing import Writing

WIDTH = 180 * MM
METRIC = Writing(inches=False)


def test_marks_stand_to_scale_and_in_cells_of_20_millimetres_or_more() -> None:
    """1900 mm over 190 mm of paper: a mark at 100 mm lies at 10 mm. Nine cells abreast of 190 / 9 mm, two rows of
    11 mm under 7 mm of title, 5 mm of steel and 2 mm blank; a cell's line ends 2 mm before the next.
    """
    wide, cell = 190 * MM, 190 / 9
    names = ["tape 5", "CB", "other end", "CF · tape 1", *(f"tape {n}" for n in (2, 3, 4, 6, 7))]
    ats = {name: 0.1 * n for n, name in enumerate(names, start=1)}
    marks = [SteelMark(tuple(name.split(" · ")), at) for name, at in ats.items()]
    ends = [*marks, SteelMark(("second end",), 1.898)]
    block = MarkedLength("Hoop 1", "from the back", 1.898, 1.9, ends, METRIC, letters(), wide)
    tall = (7 + 5 + 2 + 2 * 11) * MM
    assert block.wrap(1, 1) == pytest.approx((wide, tall))
    page = drawn(block, wide)
    after = letters().width("Hoop 1", 13, True) + 8
    first_row, second_row = tall - 14 * MM, tall - 25 * MM
    wanted: list[Told] = [
        ("Hoop 1", "left", 0, tall - 13, 13, True, 0),
        ("from the back", "left", after, tall - 13, 8, False, 0.3),
        ("cut 1898 mm", "right", wide, tall - 13, 13, True, 0),
        ("second end", "left", 0, second_row - 8, 8, False, 0.2),
        ("1898", "left", 0, second_row - 24, 15, True, 0),
    ]
    for column, (name, at) in enumerate(ats.items()):
        wanted.append((name, "left", column * cell * MM, first_row - 8, 8, False, 0.2))
        wanted.append((f"{at * 1000:.0f}", "left", column * cell * MM, first_row - 24, 15, True, 0))
    assert_words(page, wanted)

    steel = tall - 12 * MM
    ticks = {round(line.x / MM, 3): line for line in page.lines if line.x == line.to_x}
    assert sorted(ticks) == pytest.approx([10 * n for n in range(1, 10)], abs=0.002), "none at the far end"
    for place, tick in ticks.items():
        centre = place in (20, 40)
        assert tick.y == pytest.approx(steel, abs=0.01)
        assert (tick.to_y - tick.y) / MM == pytest.approx(4.6 if centre else 3.4, abs=0.01)
        assert (tick.wide, tick.grey) == ((1.6 if centre else 0.8), 0)
    (bar,) = page.blocks
    assert (bar.x, bar.y, bar.wide / MM, bar.tall / MM) == pytest.approx((0, steel, 190, 2.2), abs=0.01)
    assert (bar.line, bar.fill) == (0.8, None)
    under = [line for line in page.lines if line.y == line.to_y]
    assert {(line.wide, line.grey) for line in under} == {(0.4, 0.6)}
    places = sorted((line.y, line.x / MM, line.to_x / MM) for line in under)
    assert places[0] == pytest.approx((second_row - 28.5, 0, cell - 2), abs=0.02)
    assert places[1:] == [
        pytest.approx((first_row - 28.5, n * cell, (n + 1) * cell - 2), abs=0.02) for n in range(9)
    ]


def test_figures_keep_clear_of_the_next_and_are_of_one_size() -> None:
    """The widest at 15 pt decides: it ends 2 mm before the next cell, and 9 pt are the least."""
    inches, wide = Writing(inches=True), 190 * MM
    marks = [SteelMark((f"tape {n}",), n * 20.8125 * 0.0254) for n in range(1, 9)]
    page = drawn(MarkedLength("Hoop 1", "", 5.0, 5.0, marks, inches, letters(), wide), wide)
    figures = [words for words in page.words if words.bold and words.said[0].isdigit()]
    (size,) = {words.size for words in figures}
    widest = max(letters().width(inches.figure(mark.at), 15, True) for mark in marks)
    assert widest > (190 / 9 - 2) * MM
    assert size == pytest.approx(15 * (190 / 9 - 2) * MM / widest, abs=0.001)


def test_a_name_too_long_for_its_cell_is_shortened() -> None:
    long = SteelMark(("tape with a very long name indeed",), 0.1)
    page = drawn(
        MarkedLength("x", "", 1, 1, [long, SteelMark(("end",), 1)], METRIC, letters(), 20.01 * 9 * MM), WIDTH
    )
    (said,) = (words for words in page.words if words.said.startswith("tape"))
    assert said.said.endswith("…")
    assert 18 * MM - 8 < said.right <= 18 * MM


def test_a_bar_is_cut_to_scale_with_its_figures_under_it() -> None:
    """3 m over 180 mm: hoops of 1.5 m and 1.2 m take 90 and 72 mm. The bar is 7 mm high under 12 pt of title; one
    line of 13 pt under it, 4 and 6 pt blank.
    """
    bar = BarDrawing(Bar(3.0, None, (2, 1), (1.5, 1.2)), 1, METRIC, letters(), WIDTH)
    tall = 12 + 7 * MM + 4 + 13 + 6
    assert bar.wrap(1, 1) == pytest.approx((WIDTH, tall))
    page = drawn(bar, WIDTH)
    low = tall - 12 - 7 * MM
    assert_words(
        page,
        [
            ("Length 1: 3000 mm (3.00 m)", "left", 0, tall - 9, 8, True, 0),
            ("2", "middle", 45 * MM, low + 6, 11, True, 0),
            ("1", "middle", (90 + 36) * MM, low + 6, 11, True, 0),
            ("hoop 2: 1500 → hoop 1: 1200 → left over 300", "left", 0, low - 12, 9.5, False, 0),
        ],
    )
    told = [(block.x / MM, block.wide / MM, block.tall / MM, block.line, block.fill) for block in page.blocks]
    assert told == [
        pytest.approx((0, 180, 7, 0.8, 0.93), abs=0.005),
        pytest.approx((0, 90, 7, 0.8, 1), abs=0.005),
        pytest.approx((90, 72, 7, 0.8, 1), abs=0.005),
    ]
    assert {round(block.y, 2) for block in page.blocks} == {round(low, 2)}


def test_a_piece_too_short_for_its_number_has_none_and_long_words_go_on() -> None:
    """Pieces of 1.8 mm on paper have no room for a digit and 2 pt; each further line of words is 13 pt lower."""
    hoops, cuts = tuple(range(1, 31)), (0.03,) * 30
    bar = BarDrawing(Bar(3.0, None, hoops, cuts), 2, METRIC, letters(), WIDTH)
    page = drawn(bar, WIDTH)
    assert not {str(hoop) for hoop in hoops} & {words.said for words in page.words}
    lines = [words for words in page.words if words.size == 9.5]
    assert len(lines) > 2
    assert bar.height == pytest.approx(12 + 7 * MM + 4 + 13 * len(lines) + 6)
    assert [a.foot - b.foot for a, b in pairwise(lines)] == pytest.approx([13.0] * (len(lines) - 1))
    digit = letters().width("1", 6, True)  # the smallest that is drawn
    for room, shown in ((2.1, True), (1.9, False)):
        length = (digit + room) / WIDTH * 3.0
        tight = drawn(BarDrawing(Bar(3.0, None, (1,), (length,)), 1, METRIC, letters(), WIDTH), WIDTH)
        assert any(words.said == "1" for words in tight.words) is shown
    whole = BarDrawing(Bar(3.0, None, (), ()), 1, METRIC, letters(), WIDTH)
    assert whole.words() == "not cut: left over 3000"


def test_tags_stand_six_abreast() -> None:
    """30 mm each, 13 mm high, 3 mm blank before the words; the words keep 2 mm from the tag's end."""
    row = TagRow([Tag("Hoop 1", "66 in, open front"), Tag("Tape 2 L", "set A " * 20)], letters(), WIDTH)
    assert row.wrap(1, 1) == pytest.approx((WIDTH, 13 * MM))
    page = drawn(row, WIDTH)
    assert_words(
        page,
        [
            ("Hoop 1", "left", 3 * MM, 13 * MM - 15, 12, True, 0),
            ("66 in, open front", "left", 3 * MM, 8, 7.5, False, 0),
            ("Tape 2 L", "left", 33 * MM, 13 * MM - 15, 12, True, 0),
        ],
    )
    (long,) = (words for words in page.words if words.said.startswith("set A"))
    assert 58 * MM - 7.5 < long.right <= 58 * MM
    assert long.size == 6  # smaller first, then cut short
    assert [(block.x / MM, block.y, block.wide / MM, block.tall / MM) for block in page.blocks] == [
        pytest.approx((0, 0, 30, 13), abs=0.005),
        pytest.approx((30, 0, 30, 13), abs=0.005),
    ]
    assert {block.line for block in page.blocks} == {0.4}
