"""How tapes are laid on pages, in millimetres by hand; A4 has 186 x 256 mm between margins, header and footer."""

from __future__ import annotations

import pytest

from cage3d.sheets.paper.sizes import paper_named
from cage3d.sheets.strips import notes_of, spread, tiles
from cage3d.sheets.tapes import Casing, TapeSet
from cage3d.sheets.writing import Writing

MM = 72.0 / 25.4  # pt
# 256 mm less heading 17 and closing line 5, and a point; pages overlap by 10 mm.
AREA, STEP = 234.0 - 1.0 / MM, 224.0 - 1.0 / MM


def tape(finished: float, letter: str = "A") -> TapeSet:
    """One hoop at the end; 25 mm above and 15 mm below, m."""
    casing = Casing(1, finished - 0.020, finished, finished + 0.005)
    return TapeSet(letter, (1, 2), ("L", "L"), (casing,), finished, 0.025, 0.015, 2, finished + 0.040)


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [("a4", 210.0, 297.0), ("A3", 297.0, 420.0), ("letter", 8.5 * 25.4, 11 * 25.4)],
)
def test_papers_and_what_they_hold(name: str, width: float, height: float) -> None:
    paper = paper_named(name)
    assert (paper.name, paper.width / MM, paper.height / MM) == (
        name.lower(),
        pytest.approx(width),
        pytest.approx(height),
    )
    # 12 mm at every edge, 9 for the header and 8 for the footer.
    assert [size / MM for size in paper.frame] == pytest.approx(
        [12.0, 20.0, width - 24.0, height - 24.0 - 17.0]
    )


@pytest.mark.parametrize(
    ("width", "abreast"),
    [
        (0.0254, 3),  # with ruler 9 and labels 23.5 mm it takes 57.9 of the 174 mm between the crosses
        (0.0256, 2),  # 58.1
        (0.0544, 2),  # 86.9
        (0.0546, 1),  # 87.1
        (0.300, 1),  # drawn 60 mm wide
    ],
)
def test_as_many_strips_stand_abreast_as_there_is_room_for(width: float, abreast: int) -> None:
    sets = tuple(tape(0.1, letter) for letter in "ABCDE")
    pages = list(tiles(sets, width, paper_named("a4")))
    assert [len(page.sets) for page in pages] == {3: [3, 2], 2: [2, 2, 1], 1: [1] * 5}[abreast]


def test_a_long_tape_goes_on_over_pages_that_overlap() -> None:
    # 25 + 800 + 15 = 840 mm; 830 / 223.6 is 3.7.
    pages = list(tiles((tape(0.4), tape(0.8)), 0.02, paper_named("a4")))
    assert [(page.part, page.parts) for page in pages] == [(1, 4), (2, 4), (3, 4), (4, 4)]
    assert [page.start / MM for page in pages] == pytest.approx([-25.0 + part * STEP for part in range(4)])
    assert [page.end / MM for page in pages] == pytest.approx(
        [-25.0 + part * STEP + AREA for part in range(4)]
    )


@pytest.mark.parametrize(("finished", "parts"), [(0.193, 1), (0.194, 2), (0.4172, 2), (0.4173, 3)])
def test_a_page_is_begun_only_where_the_last_one_is_full(finished: float, parts: int) -> None:
    """One page holds 233.65 mm and two 457.29; a tape is 40 mm longer than finished."""
    assert len(list(tiles((tape(finished),), 0.02, paper_named("a4")))) == parts


@pytest.mark.parametrize(
    ("levels", "low", "high", "moved"),
    [
        ([90, 50, 10], 0, 100, [90, 50, 10]),
        ([100, 98, 50], 0, 95, [95, 85, 50]),  # down from the top
        ([12, 6, 1], 2, 100, [22, 12, 2]),  # up from the foot
        ([30, 29, 28], 0, 100, [30, 20, 10]),
        ([], 0, 100, []),
    ],
)
def test_notes_too_near_are_moved_apart(
    levels: list[float], low: float, high: float, moved: list[float]
) -> None:
    assert spread(levels, 10, low, high) == pytest.approx(moved)


def test_what_stands_beside_a_strip() -> None:
    notes = notes_of(tape(0.200), Writing(False))
    told = [(round(note.along / MM, 6), note.text) for note in notes]
    assert told == [
        (-25, "cut"), (0, "0 band"), (180, "180"), (192.5, "hoop 1"), (205, "205"), (215, "cut 240"),
    ]  # fmt: skip
