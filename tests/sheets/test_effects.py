"""What a mark that is off does, and what is foreseen to hang slack, as the sheets tell it: the report's own answer."""

from __future__ import annotations

from dataclasses import replace

from made import hung_sample, pages_of, sample

from cage3d.report import MarkReport, Report
from cage3d.report.foreseen import SlipReport, SpreadReport
from cage3d.sheets import make_sheets
from cage3d.sheets.balancing import slack_words
from cage3d.sheets.effects import effect_rows
from cage3d.sheets.making import prepared

INCH = 0.0254
SIDES = ("L", "L", "L", "L", "R", "R", "R", "R")


def slipped(units: str) -> Report:
    """Tape 3 at hoop 2: too low nothing but a hair at the right, too high the left rises by 2.5 mm, the back sinks."""
    low, high = SlipReport(0.0, 0.0, 0.0, 0.0003), SlipReport(0.0, 0.0025, -0.0008, 0.0)
    marks = (
        MarkReport(3, 2, 0.0, -0.8, 0.0, 0.0, INCH / 8, low, high),
        MarkReport(6, 2, 0.0, 0.0, 0.0, -0.8, INCH / 8, None, high),
        MarkReport(1, 2, 0.0, 0.0, 0.0, -0.1),  # not settled again: its slope alone is not told
    )
    _, report = hung_sample(sample("a"))
    return replace(report, units=units, marks=marks, spread=SpreadReport(INCH / 16, INCH / 8, 0.9, 0.0068))


def test_both_ways_stand_in_the_rows_to_a_thirty_second() -> None:
    """2.5 mm are 0.0984 in, 3.15 thirty-seconds; 0.8 mm are 1.008 of them; 0.3 mm less than half of one."""
    first, second = effect_rows(slipped("in"), SIDES)
    assert (first.mark, first.low) == ("Tape 3 L, hoop 2", "nothing that can be measured")
    assert first.high == "left ³⁄₃₂ in higher, back ¹⁄₃₂ in lower"
    assert (second.mark, second.low) == ("Tape 6 R, hoop 2", "finds no rest")


def test_in_metres_they_stand_in_millimetres() -> None:
    (first, _) = effect_rows(slipped("cm"), SIDES)
    assert (first.low, first.high) == ("right 0.3 mm higher", "left 2.5 mm higher, back 0.8 mm lower")


def test_the_page_tells_them_and_how_level_the_hem_comes_out() -> None:
    settled, _ = hung_sample(sample("a"))
    pages = pages_of(make_sheets(settled, slipped("in")).pdf)
    words = " ".join(" ".join(page.text.split()) for page in pages if page.text.startswith("6 Assembly"))
    assert "What a mark that is ¹⁄₈ in off does" in words
    assert "Sewn too low Sewn too high" in words
    # 6.8 mm are 4.28 sixteenths.
    assert "Sewn to ¹⁄₁₆ in a mark and ¹⁄₈ in a hoop, the hem is level" in words
    assert "within ¹⁄₄ in nine times in ten" in words


def test_tapes_foreseen_to_hang_slack_are_no_fault_to_look_for() -> None:
    settled, report = hung_sample(sample("a"))
    taut = slack_words(prepared(settled.cage, report, None))
    assert "Foreseen" not in taut
    loose = tuple(
        replace(
            tape,
            segments=tuple(
                replace(part, tension_N=0.0, slack_m=0.002)
                if (tape.tape, part.to_hoop) in {(2, 1), (7, 1), (4, 3)}
                else replace(part, tension_N=1.0, slack_m=0.0)
                for part in tape.segments
            ),
        )
        for tape in report.tapes
    )
    told = slack_words(prepared(settled.cage, replace(report, tapes=loose), None))
    assert told.endswith(
        "Foreseen to hang slack, with the skirt on: tapes 2 and 7 above hoop 1; tape 4 above hoop 3."
    )
