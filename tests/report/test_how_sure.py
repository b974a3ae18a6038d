"""How sure figures are, by hand: rounded up to 1/16 in or a millimetre, hoops that are alike told once."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hung import plain

from cage3d.draw.dimensions import how_sure_lines
from cage3d.draw.hung import Hung
from cage3d.draw.sheet import facts, told_in_table
from cage3d.draw.views import ABOVE, FRONT, SIDE, THREE_QUARTER
from cage3d.page.compare import difference_rows
from cage3d.page.controls import stage_words
from cage3d.page.shown_cage import ShownCage, ShownStage
from cage3d.page.text import hoops_html, summary, whole
from cage3d.report import Report
from cage3d.report.foreseen import CauseReport, CertaintyReport, HoopWithin
from cage3d.report.how_sure import give_or_take, how_sure, legend, of_the_whole, with_unit
from cage3d.write.glb import hoop_sure

TAPES = (0.0021,) * 8


def hoop(number: int, height: float, wide: float, deep: float) -> HoopWithin:
    """Its front is surer than the rest of it by a millimetre."""
    return HoopWithin(number, height - 0.001, height, height, height, wide, deep, TAPES)


def told(*hoops: HoopWithin, units: str = "mm") -> Report:
    """The plain cage's report of three hoops with this certainty."""
    causes = (CauseReport("sewing", 0.0031, 0.0052), CauseReport("friction", 0.0001, 0.0003))
    sure = CertaintyReport(0.9, hoops, 0.0021, 0.0034, 0.0052, 0.0061, 0.0049, "sewing", causes)
    return replace(plain()[0], units=units, certainty=sure)


ALIKE = (hoop(1, 0.0025, 0.0032, 0.0041), hoop(2, 0.0029, 0.0031, 0.0049), hoop(3, 0.0021, 0.004, 0.0045))
UNLIKE = (hoop(1, 0.0025, 0.0022, 0.0041), hoop(2, 0.0059, 0.0131, 0.0041), hoop(3, 0.0025, 0.0088, 0.0041))


@pytest.mark.parametrize(
    ("metres", "units", "said"),
    [
        (0.0031, "mm", "4"),
        (0.003, None, "3"),
        (0.0031, "cm", "0.4"),
        (0.0031, "m", "0.004"),
        (0.0031, "in", "1/8"),  # 3.1 mm are 1.95 sixteenths
        (0.0033, "in", "3/16"),  # 3.3 mm are 2.08
        (0.0033, "ft", '3/16"'),
        (0.0, "in", "1/16"),  # nothing is surer than what is written
    ],
)
def test_rounded_up(metres: float, units: str | None, said: str) -> None:
    assert give_or_take(metres, units) == said


def test_with_its_unit_but_for_feet() -> None:
    assert [with_unit(0.0031, units) for units in ("mm", "in", "ft")] == ["4 mm", "1/8 in", '1/8"']


def test_hoops_that_are_alike_are_told_once() -> None:
    assert legend(told(*ALIKE)) == ["Heights ±3 mm, widths ±5 mm, nine times in ten"]
    assert legend(told(*ALIKE), widths="width_side_side_m") == [
        "Heights ±3 mm, widths ±4 mm, nine times in ten"
    ]
    assert legend(told(*ALIKE), widths="") == ["Heights ±3 mm, nine times in ten"]


def test_what_differs_is_told_beside() -> None:
    """Heights within 3, 6 and 3 mm; side to side 3, 14 and 9."""
    assert legend(told(*UNLIKE), widths="width_side_side_m") == [
        "Heights ±3 mm (hoop 2: ±6)",
        "Widths ±3 mm (hoop 2: ±14; hoop 3: ±9), nine times in ten",
    ]


def test_what_differs_much_is_told_in_turn() -> None:
    four = [hoop(number, 0.002 * number, 0.004, 0.004) for number in range(1, 5)]
    assert legend(told(*four), widths="") == ["Heights, hoop 1 to 4: ±2, 4, 6, 8 mm, nine times in ten"]


def test_nothing_is_told_of_what_was_not_asked() -> None:
    bare = plain()[0]
    assert bare.certainty is None
    assert (legend(bare), how_sure(bare), of_the_whole(bare, "hem_lowest_m")) == ([], [], "")


def test_what_most_of_it_comes_from() -> None:
    """Friction of 0.3 mm is worth a word, of a tenth it would not be."""
    said = (
        "Most of the ± comes from marks and cuts as people sew them: alone it moves heights by up to 4 mm, "
        "widths by up to 6 mm. Counted too: friction on her."
    )
    assert how_sure(told(*ALIKE)) == [said]


def test_pictures_show_which_of_the_widths_they_draw() -> None:
    report = told(*ALIKE)
    assert how_sure_lines(FRONT, report) == ["Heights ±3 mm, widths ±4 mm, nine times in ten"]
    assert how_sure_lines(SIDE, report) == ["Heights ±3 mm, widths ±5 mm, nine times in ten"]
    assert how_sure_lines(ABOVE, report) == ["±: nine times in ten"]
    assert how_sure_lines(THREE_QUARTER, report) == []  # lengths as cut alone


def test_the_sheet_tells_it_once_beside_its_table() -> None:
    hung = Hung.of(plain()[1], told(*ALIKE))
    assert facts(hung)[0] == "Heights ±3 mm, widths ±5 mm, nine times in ten."
    assert how_sure_lines(FRONT, told_in_table(hung).report) == []


def test_the_page_tells_it_under_every_figure_and_beside_the_model() -> None:
    report = told(*UNLIKE)
    assert hoops_html(report).count("<small>±14</small>") == 1  # hoop 2 from side to side
    assert hoops_html(report).count("<small>±6</small>") == 3  # and its heights, but for the front
    assert "widths by up to 6 mm" in hoops_html(report)
    assert "(±7 mm)" not in summary(report)
    assert "(±7) wide" in summary(report)
    assert "(±4)" in whole(report)  # the hem: its highest place is least sure
    stage = ShownStage("as worn", report, (), (), (), (), ())
    words = stage_words("as worn", ShownCage(report.design, plain()[1], report, (stage,)))
    assert words.endswith(
        "Heights ±3 mm (hoop 2: ±6). Widths ±5 mm (hoop 2: ±14; hoop 3: ±9), nine times in ten."
    )


def test_two_cages_are_compared_with_it() -> None:
    rows = {row[0]: row[1:] for row in difference_rows(told(*UNLIKE), plain()[0])}
    first, second, more = rows["Hoop 2, side to side"]
    assert first == f"{second}\n±14"
    assert more == "0"
    assert "±" not in "".join(rows["Hoop 2, length"])


def test_a_model_carries_it_in_its_notes() -> None:
    assert hoop_sure(told(*UNLIKE), 2) == {
        "heights_within_m": 0.0059,
        "heights_within": "±6 mm",
        "widths_within_m": 0.0131,
        "widths_within": "±14 mm",
    }
