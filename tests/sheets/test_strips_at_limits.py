"""Marking strips where things come near each other: figures, joins, letters and words at the limit of their room."""

from __future__ import annotations

import pytest
from on_paper import MM
from on_strips import A4, PART_2, figures, page_of, y

from cage3d.sheets.strips import tiles_of
from cage3d.sheets.tapes import Casing, TapeSet


def tape(*lines: tuple[float, float], top: float = 25, finished: float = 400, bottom: float = 15) -> TapeSet:
    """A tape with casings between these pairs of lines (mm), the steel in their middles."""
    casings = tuple(
        Casing(hoop, upper / 1000, (upper + lower) / 2000, lower / 1000)
        for hoop, (upper, lower) in enumerate(lines, 1)
    )
    return TapeSet(
        "A",
        (1, 2),
        ("L", "L"),
        casings,
        finished / 1000,
        top / 1000,
        bottom / 1000,
        2,
        (top + finished + bottom) / 1000,
    )


def middles(one: TapeSet, part: int, *said: str) -> dict[str, float]:
    """mm along the tape, where the middles of figures stand on a part of a strip 20 mm wide."""
    found = figures(page_of(20, tiles_of(one, A4)[part]), -25.0 if part == 0 else PART_2, set(said))
    return {words: along for words, (_, along, _, _) in found.items()}


def test_figures_of_lines_that_lie_close_stand_four_and_four_tenths_apart() -> None:
    """Casings that end at 175 and begin at 178 mm: 177.6 as ever, and the next not at 175.4 but 4.4 mm further down."""
    found = middles(tape((150, 175), (178, 198)), 0, "150", "175", "178", "198")
    assert found == {said: pytest.approx(place, abs=0.01) for said, place in
                     {"150": 147.4, "175": 177.6, "178": 182.0, "198": 200.6}.items()}  # fmt: skip


@pytest.mark.parametrize(
    ("beyond", "first", "second"),
    [
        (-1.0, -3.6, None),  # over the join: on the upper part alone
        (
            3.0,
            5.6,
            5.6,
        ),  # 0.4 mm under it, the lower part would begin within the figure: under its line on both
        (4.1, None, 6.7),  # the upper part's end would cut it off
        (4.4, None, 1.8),
        (4.6, 2.0, 2.0),  # clear of the dashed line on both
    ],
)
def test_a_figure_at_the_join_stands_on_one_side_of_it(
    beyond: float, first: float | None, second: float | None
) -> None:
    """An upper casing line `beyond` mm under the join, its figure 2.6 mm over it; 1.6 mm is half a figure, and a point
    more makes 1.95. first, second: mm from the join, on the upper part and on the lower one, which is laid over it.
    """
    upper = PART_2 + beyond
    one = tape((upper, upper + 40))
    said = f"{upper:.0f}"
    for part, wanted in ((0, first), (1, second)):
        found = middles(one, part, said)
        assert (said in found) == (wanted is not None), part
        if wanted is not None:
            assert found[said] - PART_2 == pytest.approx(wanted, abs=0.01)


@pytest.mark.parametrize(("upper", "shown"), [(8.5, False), (9.5, True)])
def test_the_letter_stands_in_thirty_four_millimetres_or_more(upper: float, shown: bool) -> None:
    """From 25 mm above the zero to the first casing."""
    one = tape((upper, 60), (70, 90), finished=85, bottom=10)
    said = {words.said for words in page_of(20, *tiles_of(one, A4)).words}
    assert ("waistband" in said) is shown


@pytest.mark.parametrize(
    ("width", "top", "shown"), [(20, 16.5, False), (20, 17.5, True), (12, 4.8, False), (12, 5.2, True)]
)
def test_what_goes_into_the_band_is_told_in_seventeen_millimetres_or_five(
    width: float, top: float, shown: bool
) -> None:
    page = page_of(width, *tiles_of(tape((40, 60), top=top, finished=55, bottom=10), A4))
    told = [words for words in page.words if words.said.startswith("into")]
    assert bool(told) is shown
    if shown:
        assert told[0].foot == pytest.approx(y(-top / 2, -top) - 2.5, abs=0.02)


def test_a_narrow_strip_has_its_first_and_last_figures_within_the_page() -> None:
    """1 mm under the headings and 1 mm over the closing lines, 7 mm up."""
    one = tape((30, 60), top=10, finished=50, bottom=170)
    page = page_of(12, tiles_of(one, A4)[0])
    levels = [
        words.foot + 0.36 * words.size for words in page.words if words.left > 15 * MM and words.size >= 8
    ]
    assert max(levels) == pytest.approx(256 * MM - 1 - 11.5 * MM, abs=0.02)
    assert min(levels) >= 8 * MM - 0.02
