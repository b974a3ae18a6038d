"""Two cages in one page: the same scale, turned together, told in one unit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from html import unescape

import numpy as np
import pytest
from browser import Opened
from made import hung_sample, renamed, sample

from cage3d.errors import NotSettledError
from cage3d.page.compare import difference_rows, share_row, signed_length
from cage3d.page.page import Hung, comparison_page
from cage3d.units import show_length

Show = Callable[..., Opened]


def hung(letter: str) -> Hung:
    return (*hung_sample(sample(letter)), ())


def test_figures_stand_beside_each_other_with_what_differs() -> None:
    """Sample a has 4 hoops of 48, 60, 69 and 74 in on 8 tapes, sample e 5 of 59 3/8 in and more on 10."""
    first, second = hung_sample(sample("a"))[1], hung_sample(sample("e"))[1]
    rows = {row[0]: row[1:] for row in difference_rows(first, second)}
    assert rows["Hoops"] == ["4", "5", "+1"]
    assert rows["Tapes"] == ["8", "10", "+2"]
    assert rows["Hoop 1, length"] == ["48", "59 3/8", "+11 3/8"]
    assert rows["Hoop 5, length"] == ["\u2013", "103 1/2", "\u2013"]
    back = {row[0]: row[1:] for row in difference_rows(second, first)}
    assert back["Hoops"] == ["5", "4", "-1"]
    assert back["Hoop 1, length"] == ["59 3/8", "48", "\u221211 3/8"]
    same = difference_rows(first, first)
    assert {row[3] for row in same} == {"0"}


def test_a_difference_carries_its_sign_and_none_where_it_rounds_to_nothing() -> None:
    assert signed_length(0.0127, "in") == "+1/2"
    assert signed_length(-0.0762, "in") == "\u22123"
    assert signed_length(-0.0004, "mm") == "0"
    assert signed_length(0.012, "cm") == "+1.2"


def test_a_share_differs_by_hundredths() -> None:
    assert share_row("behind", 0.5, 0.64) == ["behind", "50%", "64%", "+14"]
    assert share_row("behind", 0.64, 0.5)[3] == "-14"
    assert share_row("behind", 0.5, 0.5 + 1e-9)[3] == "0"


def test_another_unit_and_another_number_of_hoops_are_said() -> None:
    settled, report = renamed(name="In millimetres")
    text = unescape(comparison_page(hung("a"), (settled, report, ())).decode())
    assert "In millimetres is written in mm and shown here in in." in text
    assert "The cages have 4 and 2 hoops." in text
    wide = show_length(report.hoops[1].width_side_side_m, "in", unit=False)
    assert f">{wide}</td>" in text
    assert "Hoop 2: 63 in" in text  # 1600 mm are 62.99 in


def test_two_designs_of_one_name_are_told_apart() -> None:
    text = unescape(comparison_page(hung("a"), hung("a")).decode())
    assert "Short petticoat on four hoops (first)" in text
    assert "Short petticoat on four hoops (second)" in text


def test_a_cage_that_is_no_answer_is_not_compared() -> None:
    settled, report = hung_sample(sample("a"))
    with pytest.raises(NotSettledError, match="not settled"):
        comparison_page(hung("a"), (settled, replace(report, settled=False), ()))


@pytest.mark.judge
def test_both_are_drawn_at_one_scale_and_turn_together(show: Show) -> None:
    seen = show(comparison_page(hung("a"), hung("e")))
    for group in ("form", "floor", "skirt"):
        seen.page.set_checked(f'input[data-group="{group}"]', False)
    seen.page.uncheck("#marks-on")
    seen.page.click('.views button:text-is("Front")')
    seen.page.evaluate("""() => { for (const box of document.querySelectorAll("input[data-part]"))
        if (box.checked !== (box.dataset.part === "hoop 4")) box.click(); }""")
    wide = []
    for view in ("view", "view-2"):
        columns = np.nonzero(seen.drawn(view))[1]
        wide.append(float(np.ptp(columns)))
    told = [hung_sample(sample(letter))[1].hoops[3].width_side_side_m for letter in "ae"]
    # Each is as far from the eye as the other, so widths on the screen go as widths in the world.
    assert wide[1] / wide[0] == pytest.approx(told[1] / told[0], rel=0.02)
    before = [seen.pixels(view) for view in ("view", "view-2")]
    seen.page.focus("#view-2")
    seen.page.keyboard.press("3")
    for view, was in zip(("view", "view-2"), before, strict=True):
        assert (seen.pixels(view) != was).any()
    assert seen.complaints == []
    assert len(seen.requests) == 1
