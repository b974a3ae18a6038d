"""The fitting record as it is drawn: fields, boxes for heights, lines to write on."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest
from on_paper import MM, Told, assert_words, drawn

from cage3d.report.record import HoopReport
from cage3d.sheets.pages.record import HeightGrid, WhoAndWhen, WritingLines
from cage3d.sheets.paper.fonts import letters
from cage3d.sheets.paper.frame import Identity
from cage3d.sheets.writing import Writing

WIDTH = 180 * MM
METRIC = Writing(inches=False)


def test_who_and_when_has_its_fields_filled_in_or_blank() -> None:
    """Rows of 11 mm, each field's foot 3 mm over its row's, its line 4 pt lower; 3 mm between two fields."""
    block = WhoAndWhen(Identity("Gown", "Act I", "W-07", "0123abcd"), letters(), WIDTH)
    assert block.wrap(1, 1) == pytest.approx((WIDTH, 44 * MM))
    page = drawn(block, WIDTH)
    fields = [
        # row from the top, the field's start and share of the width, what is filled in
        ("Design", 0, 0.0, 0.76, "Gown"),
        ("Version", 0, 0.76, 0.24, "0123abcd"),
        ("Production", 1, 0.0, 0.76, "Act I"),
        ("Wearer", 1, 0.76, 0.24, "W-07"),
        ("Date", 2, 0.0, 0.24, ""),
        ("Fitted by", 2, 0.24, 0.28, ""),
        ("Bare, or with which skirt", 2, 0.52, 0.48, ""),
        ("Shoes, corset", 3, 0.0, 1.0, ""),
    ]
    lines = {(round(line.y, 1), round(line.x, 1), round(line.to_x, 1)) for line in page.lines}
    assert {(line.wide, line.grey) for line in page.lines} == {(0.4, 0)}
    for word, row, start, share, filled in fields:
        foot, left = (33 - 11 * row + 3) * MM, start * WIDTH
        last = round(start + share, 6) == 1.0
        wanted: list[Told] = [(word, "left", left, foot, 8, False, 0.3)]
        if filled:
            wanted.append((filled, "left", left + letters().width(word, 8) + 6, foot, 10, True, 0))
        assert_words(page, wanted)
        end = left + share * WIDTH - (0 if last else 3 * MM)
        assert (round(foot - 4, 1), round(left, 1), round(end, 1)) in lines
    assert len(lines) == len(fields)


def test_a_name_too_long_for_its_field_is_shortened() -> None:
    page = drawn(WhoAndWhen(Identity("Gown " * 60, "", "", ""), letters(), WIDTH), WIDTH)
    (name,) = (words for words in page.words if words.said.startswith("Gown"))
    end = 0.76 * WIDTH - 3 * MM
    assert end - 12 < name.right <= end


def hoops(count: int) -> list[HoopReport]:
    """Hoop h hangs at tape t at h.1t m."""
    return [
        cast(
            HoopReport,
            SimpleNamespace(
                number=hoop,
                at_tape=lambda tape, hoop=hoop: SimpleNamespace(z_m=0.1 * hoop + 0.001 * tape),
            ),
        )
        for hoop in range(1, count + 1)
    ]


@pytest.mark.parametrize("count", [2, 5])
def test_a_box_for_every_height_with_what_is_foretold(count: int) -> None:
    """22 mm for the tape's name, the rest shared by four hoops or more; rows of 8.6 mm under a head of 8 mm."""
    grid = HeightGrid(hoops(count), ["CF", "L", "R"], METRIC, letters(), WIDTH)
    tall = (8 + 3 * 8.6) * MM
    assert grid.wrap(1, 1) == pytest.approx((WIDTH, tall))
    page = drawn(grid, WIDTH)
    pitch = 158 / max(count, 4) * MM
    wanted: list[Told] = []
    for hoop in range(count):
        wanted.append((f"Hoop {hoop + 1}", "left", 22 * MM + hoop * pitch, tall - 11, 9, True, 0))
    for row, side in enumerate(("CF", "L", "R")):
        foot = (2 - row) * 8.6 * MM
        wanted.append((f"Tape {row + 1} {side}", "left", 0, foot + 8, 9, True, 0))
        for hoop in range(count):
            figure = f"{100 * (hoop + 1) + row + 1}"
            wanted.append((figure, "left", 22 * MM + hoop * pitch + 2, foot + 8.6 * MM - 9, 8, False, 0.3))
    assert_words(page, wanted)
    assert len(page.blocks) == 3 * count
    for block in page.blocks:
        assert (block.wide, block.tall, block.line, block.edge, block.fill) == (
            pytest.approx(pitch - 1.5 * MM, abs=0.01), pytest.approx(8.6 * MM, abs=0.01), 0.8, 0.0, None,
        )  # fmt: skip
    assert {round((block.x - 22 * MM) / pitch, 2) for block in page.blocks} == set(range(count))
    assert {round(block.y / MM / 8.6, 2) for block in page.blocks} == {0, 1, 2}


def test_the_boxes_go_on_overleaf_and_keep_their_tapes() -> None:
    """34 mm hold the head and three rows; two rows are too few to begin with."""
    grid = HeightGrid(hoops(1), list("1234567"), METRIC, letters(), WIDTH)
    first, rest = grid.split(WIDTH, 34 * MM)
    sure = HeightGrid(hoops(1), list("1234567"), METRIC, letters(), WIDTH, within=["± 3"])
    for part in (sure, *sure.split(WIDTH, 34 * MM)):
        assert [words.said for words in drawn(part, WIDTH).words if words.size == 7] == ["± 3"]
    said = [
        [words.said for words in drawn(part, WIDTH).words if words.said.startswith("Tape")]
        for part in (first, rest)
    ]
    assert said == [[f"Tape {n} {n}" for n in (1, 2, 3)], [f"Tape {n} {n}" for n in (4, 5, 6, 7)]]
    assert [words.said for words in drawn(rest, WIDTH).words if words.size == 8] == [
        "104",
        "105",
        "106",
        "107",
    ]
    again: Any = rest.split(WIDTH, 34 * MM)[1]
    assert [words.said for words in drawn(again, WIDTH).words if words.bold][1:] == ["Tape 7 7"]
    assert grid.split(WIDTH, (8 + 3 * 8.6) * MM - 1) == []


def test_lines_to_write_on_lie_nine_millimetres_apart() -> None:
    block = WritingLines(4, WIDTH)
    assert block.wrap(1, 1) == pytest.approx((WIDTH, 36 * MM))
    page = drawn(block, WIDTH)
    assert [(line.x, line.to_x, line.y) for line in page.lines] == [
        pytest.approx((0, WIDTH, 9 * row * MM + 1), abs=0.01) for row in range(4)
    ]
    assert {(line.wide, line.y == line.to_y) for line in page.lines} == {(0.4, True)}
