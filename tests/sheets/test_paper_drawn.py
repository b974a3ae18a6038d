"""Letters, tables and boxes as they lie on the paper, in points by hand."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

import pytest
from on_paper import MM, assert_words, drawn, drawn_by
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas

from cage3d.sheets.pages import cutting, delivery, measuring, tapes
from cage3d.sheets.paper import drawing as look
from cage3d.sheets.paper.fonts import letters

LETTERING = [
    (look.BODY, 9.5, 13.5, False, 0.0, "left", 0, 0),
    (look.SMALL, 8, 11, False, 0.25, "left", 0, 0),
    (look.HEAD, 8, 10, True, 0.0, "left", 0, 0),
    (look.HEAD_RIGHT, 8, 10, True, 0.0, "right", 0, 0),
    (look.CELL, 10, 13, False, 0.0, "left", 0, 0),
    (look.CELL_RIGHT, 10, 13, False, 0.0, "right", 0, 0),
    (look.NUMBER, 15, 18, True, 0.0, "left", 0, 0),
    (look.FIGURE, 15, 18, True, 0.0, "right", 0, 0),
    (look.TITLE, 19, 23, True, 0.0, "left", 0, 5),
    (look.SUBTITLE, 12, 15, True, 0.0, "left", 9, 3),
    (cutting.CUT, 19, 23, True, 0.0, "right", 0, 0),
    (cutting.ENDS, 10, 13, False, 0.0, "left 8", 0, 0),
    (tapes.INSTRUCTION, 9.5, 13.5, False, 0.0, "left", 0, 4),
    (tapes.BIG_CELL_RIGHT, 10.5, 13, False, 0.0, "right", 0, 0),
    (delivery.KEPT, 9.5, 13.5, False, 0.0, "left", 0, 4),
    (measuring.ROW, 9, 11, False, 0.25, "left", 0, 0),
]


@pytest.mark.parametrize(
    ("style", "size", "leading", "bold", "grey", "place", "before", "after"),
    LETTERING,
    ids=[style.name for style, *_ in LETTERING],
)
def test_letters_have_their_size_and_weight(
    style: ParagraphStyle,
    size: float,
    leading: float,
    bold: bool,
    grey: float,
    place: str,
    before: float,
    after: float,
) -> None:
    """Two words in a column that holds one: as high as two leadings, the first line's foot one size under its top."""
    paragraph = look.say(letters(), "Petticoat Petticoat", style)
    one = letters().width("Petticoat", size, bold)
    page = drawn(paragraph, one * 1.4)
    edge, at = ("right", one * 1.4) if place == "right" else ("left", 8.0 if place == "left 8" else 0.0)
    assert paragraph.height == pytest.approx(2 * leading)
    assert_words(
        page,
        [
            ("Petticoat", edge, at, 2 * leading - size, size, bold, grey),
            ("Petticoat", edge, at, leading - size, size, bold, grey),
        ],
    )
    assert (paragraph.getSpaceBefore(), paragraph.getSpaceAfter()) == (before, after)


def test_only_the_beginning_is_bold() -> None:
    page = drawn(look.bold_then(letters(), "Care.", "Never wash", look.CELL), 300)
    assert [(words.said.strip(), words.bold) for words in page.words] == [
        ("Care.", True),
        ("Never wash", False),
    ]


@pytest.mark.parametrize(
    ("align", "left"), [("left", 100.0), ("middle", 100.0 - 20.0), ("right", 100.0 - 40.0)]
)
def test_a_text_stands_where_it_is_put(align: Literal["left", "middle", "right"], left: float) -> None:
    """Forty points wide: the size is taken so."""
    size = 40.0 / letters().width("Hoop 1", 1.0, True)

    def draw(canvas: Canvas) -> None:
        assert look.draw_text(canvas, letters(), 100, 70, "Hoop 1", size, True, align, 0.3) == pytest.approx(
            40.0
        )

    page = drawn_by(draw, 300, 300)
    assert_words(page, [("Hoop 1", "left", left, 70, size, True, 0.3)])


def test_lines_of_a_text_follow_each_other() -> None:
    """Letters of 10 pt: 13.5 pt from foot to foot."""
    wide = letters().width("Petticoat", 10)
    ends = []
    page = drawn_by(
        lambda canvas: ends.append(
            look.text_block(canvas, letters(), 7, 200, wide + 1, "Petticoat Petticoat", 10)
        ),
        300,
        300,
    )
    assert [words.foot for words in page.words] == pytest.approx([200, 186.5])
    assert {words.left for words in page.words} == {7}
    assert ends == pytest.approx([173.0])


@pytest.mark.parametrize(
    ("width", "lines"),
    [(2.0, ["one two", "three"]), (1.0, ["one", "two", "three"]), (0.72, ["one", "two", "thr", "ee"])],
)
def test_a_text_is_broken_at_blanks_and_only_then_in_a_word(width: float, lines: list[str]) -> None:
    """width: in widths of "three"."""
    wide = width * letters().width("three", 10) + 0.01
    told = letters().wrapped("one two three", 10, wide)
    assert " ".join(told).replace(" ", "") == "onetwothree"
    assert all(letters().width(line, 10) <= wide for line in told)
    assert told == lines


def test_a_text_that_just_fits_stays_on_its_line() -> None:
    assert letters().wrapped("one two", 10, letters().width("one two", 10)) == ["one two"]


def test_a_text_too_long_ends_in_three_dots() -> None:
    own = letters()
    assert own.shortened("Petticoat", 10, own.width("Petticoat", 10)) == "Petticoat"
    room = own.width("Pettic…", 10)
    assert own.shortened("Petticoat", 10, room) == "Pettic…"
    assert own.shortened("Petti coat", 10, own.width("Petti …", 10)) == "Petti…"


def cells(rows: int, columns: int) -> list[list[object]]:
    """A head, and rows of a short text each beside a box 33 pt high, so that what is not in the middle shows."""
    head: list[object] = [
        look.Box(8, 33),
        *(look.say(letters(), f"head {n}", look.HEAD) for n in range(1, columns)),
    ]
    body: list[list[object]] = [
        [look.say(letters(), f"row {row} {column}", look.CELL) for column in range(columns - 1)]
        + [look.Box(8, 33)]
        for row in range(1, rows)
    ]
    return [head, *body]


def test_a_table_has_a_rule_under_its_head_and_hairlines_under_its_rows() -> None:
    """Rows of 3 + 33 + 4 pt. In the middle: 3 pt blank above and 4 below 13 pt, foot 10 under its top; in the head
    at the bottom: 4 pt blank under 10 pt, foot 8 under its top.
    """
    page = drawn(look.table(cells(4, 3), [60, 80, 50]), 300)
    assert {(round(line.y, 2), line.wide, round(line.grey, 2)) for line in page.lines} == {
        (120, 0.8, 0.0), (80, 0.4, 0.45), (40, 0.4, 0.45), (0, 0.4, 0.45),
    }  # fmt: skip
    for level in (120, 80, 40, 0):
        spans = sorted((line.x, line.to_x) for line in page.lines if abs(line.y - level) < 0.01)
        assert (spans[0][0], spans[-1][1]) == pytest.approx((0, 190), abs=0.01)
        assert all(end == pytest.approx(start, abs=0.01) for (_, end), (start, _) in pairwise(spans))
    assert_words(
        page,
        [("head 1", "left", 63, 126, 8, True, 0), ("head 2", "left", 143, 126, 8, True, 0)]
        + [
            (
                f"row {row} {column}",
                "left",
                3 + 60 * column,
                120 - 40 * row + (40 + 4 - 3 - 13) / 2 + 3,
                10,
                False,
                0,
            )
            for row in (1, 2, 3)
            for column in (0, 1)
        ],
    )
    assert sorted((block.x, block.y) for block in page.blocks)[-1] == pytest.approx((143, 84))


def test_what_stands_right_in_a_table_keeps_three_points_from_its_edge() -> None:
    rows = [[look.say(letters(), "a", look.HEAD_RIGHT)], [look.say(letters(), "b", look.CELL_RIGHT)]]
    page = drawn(look.table(rows, [70]), 300)
    assert [words.right for words in page.words] == pytest.approx([67, 67], abs=0.01)


def test_a_head_stands_again_on_the_next_page() -> None:
    parts = look.table(cells(4, 3), [60, 80, 50]).split(300, 100)
    assert [[words.said for words in drawn(part).words][:2] for part in parts] == [["head 1", "head 2"]] * 2


def test_a_caution_stands_in_a_box_beside_its_triangle() -> None:
    """11 mm for the triangle and 6 pt on every side of it and of the words; 4 pt above and 6 under them."""
    page = drawn(look.caution(letters(), "Kinks", "never", 400), 500)
    tall = 4 + 6.2 * MM + 6
    assert_words(page, [("Kinks.", "left", 11 * MM + 6, (tall + 6 - 4 - 13) / 2 + 3, 10, True, 0)])
    corners = {
        (round(x, 2), round(y, 2))
        for line in page.lines
        for x, y in ((line.x, line.y), (line.to_x, line.to_y))
    }
    assert corners == {(0, 0), (400, 0), (0, round(tall, 2)), (400, round(tall, 2))}
    assert {(line.wide, line.grey) for line in page.lines} == {(0.8, 0.0)}
    xs = sorted({round(curve["x0"] - 50, 1) for curve in page.curves})
    assert xs[0] == pytest.approx(6, abs=0.1), "the triangle's corner"


def test_the_triangle_is_seven_millimetres_wide_and_has_its_mark() -> None:
    page = drawn(look.Triangle())
    corners = max(
        (curve["pts"] for curve in page.curves),
        key=lambda pts: max(x for x, _ in pts) - min(x for x, _ in pts),
    )
    flat = {(round((x - 50) / MM, 2), round((1000 - y - 50) / MM, 2)) for x, y in corners}
    assert flat == {(0, 0), (7, 0), (3.5, 6.2)}
    (bar,) = page.blocks
    assert ((bar.x + bar.wide / 2) / MM, bar.y / MM, bar.wide, bar.tall / MM) == pytest.approx(
        (3.5, 2.1, 1.6, 2.2)
    )
    assert (bar.edge, bar.fill) == (None, 0.0)
    dot = min(page.curves, key=lambda curve: curve["width"])
    assert ((dot["x0"] + dot["x1"]) / 2 - 50) / MM == pytest.approx(3.5)
    assert ((dot["y0"] + dot["y1"]) / 2 - 50) / MM == pytest.approx(1.2)
    assert dot["width"] == pytest.approx(2.0)
    assert (dot["stroke"], dot["fill"]) == (False, True)
    white = [curve for curve in page.curves if curve is not dot]
    assert [(curve["linewidth"], curve["fill"], curve["stroke"]) for curve in white] == [(1.6, True, True)]
    assert white[0]["non_stroking_color"] in ((1, 1, 1), (1.0,), 1)


def test_a_box_to_tick_and_a_gap() -> None:
    box = look.Box(17 * MM, 9 * MM)
    (block,) = drawn(box).blocks
    assert (block.wide / MM, block.tall / MM, block.line, block.fill) == (
        pytest.approx(17),
        pytest.approx(9),
        0.8,
        None,
    )
    assert box.wrap(1, 1) == pytest.approx((17 * MM, 9 * MM))
    assert look.gap(4).wrap(100, 100)[1] == pytest.approx(4 * MM)
