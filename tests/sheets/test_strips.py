"""How tapes are laid on pages, in millimetres by hand; A4 has 186 x 256 mm between margins, header and footer."""

from __future__ import annotations

import pytest

from cage3d.sheets.paper.sizes import paper_named
from cage3d.sheets.strips import notes_of, spread, tiles_of
from cage3d.sheets.tapes import Casing, TapeSet
from cage3d.sheets.writing import Writing

MM = 72.0 / 25.4  # pt
# Of 256 mm a strip has what 10.5 mm of headings, 7 mm of closing lines and a point leave: 238.15 mm.


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


@pytest.mark.parametrize(("finished", "parts"), [(0.1980, 1), (0.1983, 2), (0.4282, 2), (0.4284, 3)])
def test_a_page_is_begun_only_where_the_last_one_is_full(finished: float, parts: int) -> None:
    """One page holds 238.15 mm and two, 8 mm of them twice, 468.29; a tape is 40 mm longer than finished."""
    assert len(tiles_of(tape(finished), paper_named("a4"))) == parts


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
