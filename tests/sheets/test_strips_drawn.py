"""A marking strip as drawn, every line and word of it, in millimetres along the tape from its zero."""

from __future__ import annotations

import pytest
from on_paper import MM, assert_words
from on_strips import (
    A4,
    CASINGS,
    HOLDS,
    PART_2,
    TAPE,
    TOP,
    figures,
    fitting,
    level_lines,
    numbers,
    page_of,
    rounded,
    upright,
    y,
)

from cage3d.sheets.pages.strips import JOINING
from cage3d.sheets.paper.fonts import letters
from cage3d.sheets.strips import pitch, strip_width, tiles_of
from cage3d.sheets.tapes import Casing, TapeSet
from cage3d.sheets.writing import Writing


def test_the_upper_part_of_a_strip() -> None:
    page = page_of(20, tiles_of(TAPE, A4)[0])
    after = letters().width("A", 17, True) + 5
    into = fitting("into the band", 6.5, False, 13.4 * MM - 1, 5)
    assert_words(
        page,
        [
            ("A", "left", 0, TOP - 16, 17, True, 0),
            ("part 1 of 2", "left", after, TOP - 7, 6.5, False, 0),
            ("cut 2 × 2", "left", after, TOP - 15.5, 6.5, False, 0),
            ("tapes 1, 2 L", "left", 0, TOP - 25.5, 6.5, False, 0),
            ("Full size. Casings 25 mm high, shaded; dashed across a casing: the steel at rest.",
             "left", 0, 10, 6.5, False, 0),
            (JOINING, "left", 0, 1, 6.5, False, 0),
            # In the longest stretch without a casing, -25 to 150, the letter and which way is up.
            ("A", "middle", 10 * MM, y(62.5) - 4, 20, True, 0),
            ("↑", "middle", 10 * MM, y(62.5) + 18, 14, False, 0),
            ("waistband", "middle", 10 * MM, y(62.5) - 14, 6.5, False, 0),
            ("into the band", "left", 6.6 * MM, y(-12.5) - 2.5, into, False, 0),
        ],
    )  # fmt: skip
    assert "fold under" not in {words.said for words in page.words}
    # Cut and zero heavy, casing lines light, the steel of short dashes, the join of long ones.
    assert rounded(level_lines(page, 20)) == rounded(
        [
            (y(-25), 1.6, ()), (y(0), 1.6, ()), (y(150), 0.8, ()), (y(175), 0.8, ()),
            (y(160), 0.4, (4, 3)), (y(PART_2), 0.4, (6, 4)),
        ]
    )  # fmt: skip
    ends = (round(y(HOLDS - 25), 1), round(y(-25), 1))
    assert upright(page) == [(0, *ends), (20, *ends)]
    (shade,) = page.blocks
    assert (shade.x, shade.y, shade.wide / MM, shade.tall / MM) == pytest.approx(
        (0, y(175), 20, 25), abs=0.01
    )
    assert (shade.edge, shade.fill) == (None, pytest.approx(0.93))


def test_the_ruler_on_a_strips_edge() -> None:
    """A tick every 5 mm, longer and with its number every 20 where no figure, letter or dashed line is near."""
    page = page_of(20, tiles_of(TAPE, A4)[0])
    ticks = {
        round(line.y, 1): (round(line.to_x / MM, 2), line.wide)
        for line in page.lines
        if abs(line.y - line.to_y) < 0.01 and abs(line.x) < 0.01 and line.to_x < 4 * MM
    }
    wanted = {round(y(5 * n), 1): ((3.2 if n % 4 == 0 else 1.6), 0.4) for n in range(-5, 43)}
    assert ticks == wanted
    assert {
        said: (pytest.approx(x), pytest.approx(foot, abs=0.02))
        for said, (x, foot, _) in numbers(page).items()
    } == {str(n): (3.7, y(n) - 2.2) for n in (20, 40, 80, 100, 120, 140, 200)}
    assert {grey for _, _, grey in numbers(page).values()} == {0.3}


def test_figures_stand_beside_their_lines() -> None:
    """2.6 mm from the line they belong to; letters of 11 pt bold, the smaller ones of 8, as far as they fit."""
    room = (20 - 6.6) * MM - 1
    first, second = tiles_of(TAPE, A4)
    wanted = {
        -25.0: {"cut": (-22.4, 8, False), "0 band": (2.6, 10, True), "150": (147.4, 11, True),
                "hoop 1": (162.5, 8, False), "175": (177.6, 11, True)},
        PART_2: {"380": (377.4, 11, True), "hoop 2": (392.5, 8, False), "405": (407.6, 11, True),
                 "cut 440": (412.4, 8, False)},
    }  # fmt: skip
    for tile, (start, told) in zip((first, second), wanted.items(), strict=True):
        found = figures(page_of(20, tile), start)
        assert set(found) == set(told)
        for said, (along, size, bold) in told.items():
            own = fitting(said, size, bold, room)
            assert found[said] == (
                pytest.approx(6.6, abs=0.01), pytest.approx(along, abs=0.01), pytest.approx(own), bold,
            ), said  # fmt: skip


def test_the_lower_part_of_a_strip() -> None:
    page = page_of(20, tiles_of(TAPE, A4)[1])
    start = PART_2
    after = letters().width("A", 17, True) + 5
    assert_words(page, [("part 2 of 2", "left", after, TOP - 7, 6.5, False, 0)])
    assert rounded(level_lines(page, 20)) == rounded(
        [
            (y(start, start), 0.4, (6, 4)), (y(380, start), 0.8, ()), (y(405, start), 0.8, ()),
            (y(400, start), 0.4, (4, 3)), (y(415, start), 1.6, ()),
        ]
    )  # fmt: skip
    ends = (round(y(415, start), 1), round(y(start, start), 1))
    assert upright(page) == [(0, *ends), (20, *ends)]
    middle = (start + 380) / 2
    assert_words(page, [("A", "middle", 10 * MM, y(middle, start) - 4, 20, True, 0)])


@pytest.mark.parametrize("part", [0, 1])
def test_the_cross_lies_in_the_middle_of_the_overlap(part: int) -> None:
    """4 mm below the dashed line, 2.6 mm from the right edge: a circle of 1.3 mm and lines of 2 mm each way."""
    page = page_of(20, tiles_of(TAPE, A4)[part])
    start = -25.0 if part == 0 else PART_2
    x, level = 17.4 * MM, y(PART_2 + 4, start)
    (circle,) = page.curves
    assert ((circle["x0"] + circle["x1"]) / 2 - 50, (circle["y0"] + circle["y1"]) / 2 - 50) == pytest.approx(
        (x, level), abs=0.02
    )
    assert circle["width"] / MM == pytest.approx(2.6, abs=0.01)
    cross = [(line.x, line.y, line.to_x, line.to_y) for line in page.lines]
    for wanted in ((x - 2 * MM, level, x + 2 * MM, level), (x, level - 2 * MM, x, level + 2 * MM)):
        assert any(line == pytest.approx(wanted, abs=0.02) for line in cross)


def test_a_figure_under_the_next_part_goes_to_the_other_side_of_its_line() -> None:
    """A casing that ends 2 mm above the join: its figure would be covered 2.6 mm below, and stands as far above."""
    lower = PART_2 - 2.0
    casing = Casing(1, (lower - 25) / 1000, (lower - 10) / 1000, lower / 1000)
    one = TapeSet("A", (1, 2), ("L", "L"), (casing, CASINGS[1]), 0.400, 0.025, 0.015, 2, 0.440)
    page = page_of(20, tiles_of(one, A4)[0])
    said = Writing(False).figure(lower / 1000)
    (figure,) = (words for words in page.words if words.said == said)
    middle = (TOP - 10.5 * MM - figure.foot - 0.36 * figure.size) / MM - 25
    # The hoop's number stands 12.5 mm above the line, so nothing else is in its way.
    assert middle == pytest.approx(lower - 2.6, abs=0.01)


def test_a_narrow_strip_has_its_figures_beside_it() -> None:
    """12 mm wide: figures 4 mm to the right in their full size, level with their lines or 4.4 mm apart, a hairline
    to each; the number of the ruler is kept from nothing but letter and dashed lines.
    """
    page = page_of(12, tiles_of(TAPE, A4)[0])
    found = figures(page, -25.0)
    told = {"cut": (-25, 8, False), "0 band": (0, 10, True), "150": (150, 11, True), "hoop 1": (162.5, 8, False),
            "175": (175, 11, True)}  # fmt: skip
    assert set(found) == set(told)
    for said, (along, size, bold) in told.items():
        # A page's first figures keep 1 mm from the headings.
        level = max(along, -24) if said == "cut" else along
        assert found[said] == (
            pytest.approx(16, abs=0.01), pytest.approx(level, abs=0.01), pytest.approx(size), bold,
        ), said  # fmt: skip
        leader = (12 * MM, y(along), 16 * MM - 1.5, y(level))
        ends = [(line.x, line.y, line.to_x, line.to_y) for line in page.lines if line.wide == 0.4]
        assert any(end == pytest.approx(leader, abs=0.02) for end in ends), said
    assert set(numbers(page)) == {"-20", "0", "20", "40", "80", "100", "120", "140", "180", "200"}
    # Words on a strip so narrow are smaller, 5 pt at least, and only then cut short.
    assert letters().width("into the band", 5) > 12 * MM - 3
    assert_words(
        page, [(letters().shortened("into the band", 5, 12 * MM - 3), "left", 2, y(-12.5) - 2.5, 5, False, 0)]
    )


@pytest.mark.parametrize(("width", "shown"), [(20, False), (12, True)])
def test_what_is_folded_under_is_told_where_there_is_room(width: float, shown: bool) -> None:
    """10 mm from the last stitches to the cut: too little on a strip with figures, enough (5 mm) beside them."""
    page = page_of(width, tiles_of(TAPE, A4)[1])
    told = [words for words in page.words if words.said.startswith("fold")]
    assert bool(told) is shown
    if shown:
        assert (told[0].left, told[0].foot) == pytest.approx((2, y(410, PART_2) - 2.5), abs=0.02)


def test_a_short_tape_is_whole_and_its_ruler_ends_with_it() -> None:
    """100 mm finished: no parts, no joins, no letter in less than 34 mm, and one tape is a tape."""
    casing = Casing(1, 0.020, 0.050, 0.075)
    one = TapeSet("B", (3,), ("CB",), (casing,), 0.080, 0.010, 0.015, 1, 0.105)
    page = page_of(20, *tiles_of(one, A4))
    after = letters().width("B", 17, True) + 5
    assert_words(
        page,
        [
            ("whole", "left", after, TOP - 7, 6.5, False, 0),
            ("cut 1 × 1", "left", after, TOP - 15.5, 6.5, False, 0),
            ("tape 3 CB", "left", 0, TOP - 25.5, 6.5, False, 0),
        ],
    )
    said = {words.said for words in page.words}
    assert "waistband" not in said
    assert JOINING not in said
    assert not page.curves
    ends = (round(y(95, -10), 1), round(y(-10, -10), 1))
    assert upright(page) == [(0, *ends), (20, *ends)]
    ticks = [
        round((y(0, -10) - line.y) / MM, 1)
        for line in page.lines
        if line.x == 0 and line.to_x < 4 * MM and line.y == line.to_y
    ]
    assert sorted(set(ticks)) == [5.0 * n for n in range(-2, 20)]


def test_an_inch_is_ruled_in_quarters() -> None:
    page = page_of(20, tiles_of(TAPE, A4)[0], inches=True)
    ticks = {
        round((y(0) - line.y) / 72, 2): round(line.to_x / MM, 2)
        for line in page.lines
        if line.x == 0 and line.to_x < 4 * MM and abs(line.y - line.to_y) < 0.01
    }
    # 25 mm is 0.98 in, 213.1 mm 8.39 in: from 3 quarters above to 33 below.
    assert ticks == {n / 4: (3.2 if n % 4 == 0 else 1.6) for n in range(-3, 34)}
    # 0 in is 2.6 mm from a figure, 7 in 0.2, 8 in 2 from a dashed line; 2 in is 4.6 mm from the arrow, 6 in 5 from a
    # figure, which leaves both room.
    assert set(numbers(page)) == {"1", "2", "3", "4", "5", "6"}
    assert numbers(page)["4"][1] == pytest.approx(y(4 * 25.4) - 2.2, abs=0.02)


def test_the_next_strip_stands_a_millimetre_further_or_leaves_its_figures_room() -> None:
    for width, wanted in ((20, 21.0), (12, 33.0), (40, 31.0), (18.5, 19.5), (18.4, 39.4)):
        assert pitch(width / 1000) / MM == pytest.approx(wanted), width
    assert strip_width(0.040) / MM == pytest.approx(30)
    page = page_of(20, *tiles_of(TAPE, A4))
    assert [x for x, *_ in upright(page)] == [0, 20, 21, 41]
