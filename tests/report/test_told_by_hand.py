"""Figures put into a report, and how each is told: in millimetres and in inches, rounded by hand."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from figured import INCH, figures_of, hoops, report
from hung import plain

from cage3d.report import Report
from cage3d.report.foreseen import (
    CapacityReport,
    GiveReport,
    HoopMoves,
    MarkReport,
    SlidingReport,
    SlipReport,
    SpreadReport,
)
from cage3d.report.mark_table import mark_table, sewing_lines
from cage3d.report.record import TieReport, TouchReport
from cage3d.report.summary import bent_round_her, carrying, feeling, if_it_slides, moved_by, nearest, summary
from cage3d.report.view import proof_line, report_text, warning_lines
from cage3d.report.warnings import warnings_of
from cage3d.report.warnings.case import Case

# Sentences.


def test_the_whole_cage_in_figures() -> None:
    own = plain()[0]
    told = report(
        hem=replace(own.hem, lowest_m=0.4504, highest_m=0.4606, widest_m=0.5708), width_side_side_m=0.5812,
        width_front_back_m=0.5914, back_share=0.514, weight_kg=1.236, cage_kg=0.912, skirt_kg=0.3244, steel_m=4.6736,
        steel_cut_m=4.8262,
    )  # fmt: skip
    lines = summary(told)
    assert figures_of(lines[0]) == ["450", "461", "571"]
    assert figures_of(lines[1]) == ["581", "591", "51"]
    assert figures_of(lines[2]) == ["1.24", "0.91", "0.32"]
    assert figures_of(lines[3]) == ["4674", "4826"]
    level = replace(told.hem, highest_m=0.4496)
    assert figures_of(summary(replace(told, hem=level))[0]) == ["450", "571"]
    gaps = [line for line in summary(hoops(gap_m=0.0756)) if "open by" in line]
    assert [figures_of(line) for line in gaps] == [["2", "76"]]
    assert any(line.startswith("* no steel") for line in summary(hoops(measured_at_end=("front",))))
    assert not any(line.startswith("* no steel") for line in summary(told))


def test_a_skirt_that_slides() -> None:
    """Of two hoops the upper one moves most: 8 mm down at her left, and 9 narrower front to back."""
    assert [moved_by(report(), metres) for metres in (0.0032, -0.0024, 0.0004, -0.0004)] == [
        "+3",
        "-2",
        "0",
        "0",
    ]
    # 3.2 mm are 2.02 sixteenths of an inch.
    assert [moved_by(report("in"), metres) for metres in (0.0032, -0.0032, 0.0007)] == ["+1/8", "-1/8", "0"]
    upper = HoopMoves(1, 0.0072, -0.0081, 0.0, 0.0, 0.0012, -0.0093)
    hem = (0.0032, -0.0024, 0.0041, 0.0011, -0.0052, 0.0063)
    slides = SlidingReport(0.1234, *hem, (upper, HoopMoves(2, *hem)))
    (line,) = if_it_slides(report(sliding=slides))
    assert figures_of(line) == ["-2", "+4", "-5", "+6", "8", "9", "0.12"]
    first, second = if_it_slides(report(sliding=slides, skirt_on_band_kg=0.256))
    assert figures_of(first) == ["0.26"]
    assert figures_of(second) == figures_of(line)
    assert second.startswith("From a skirt that lies to one that slides freely")
    assert if_it_slides(report()) == []


def test_how_it_feels() -> None:
    """20, 50 and 80 mm are stiff, usual and limp (common practice); over 6 in nothing is vouched for."""
    gives = (GiveReport("front", 1.962, 0.0312, 0.0104), GiveReport("left", 1.962, None, None))
    own = plain()[0].hoops
    droops = tuple(
        replace(hoop, droop_m=droop) for hoop, droop in zip(own, (0.0011, 0.0026, 0.0003), strict=True)
    )
    first, second = feeling(report(gives=gives, hoops=droops))
    assert figures_of(first) == ["2.6"]
    assert figures_of(second) == ["200", "31", "10", "152", "20", "50", "80"]
    assert len(feeling(report())) == 1
    for half in (GiveReport("back", 1.9, 0.03, None), GiveReport("back", 1.9, None, 0.01)):
        assert figures_of(feeling(report(gives=(half,)))[1])[1] == "152"
    grown = feeling(report(gives=(GiveReport("front", 1.962, 0.0312, -0.0104),)))[1]
    assert "by 31 mm at the front (the hoop itself 0 mm)" in grown


def test_the_hoop_nearest_to_her() -> None:
    own = plain()[0].hoops
    rooms = (0.081, 0.0352, None)
    told = report(hoops=tuple(replace(hoop, clearance_m=room) for hoop, room in zip(own, rooms, strict=True)))
    assert [figures_of(line) for line in nearest(told)] == [["2", "35"]]
    touching = (TouchReport(2, "wearer", "back", 1.0),)
    assert nearest(replace(told, touching=touching)) == ["Hoop 2 lies on the wearer."]
    for elsewhere in (TouchReport(1, "wearer", "back", 1.0), TouchReport(2, "floor", "back", 1.0)):
        assert "35 mm" in nearest(replace(told, touching=(elsewhere,)))[0]
    assert nearest(report()) == []


def test_what_bends_round_her() -> None:
    def lying(*places: tuple[int, int]) -> Report:
        return report(tapes=tuple(
            replace(tape, segments=tuple(
                replace(part, on_wearer=(tape.tape, part.to_hoop) in places) for part in tape.segments
            )) for tape in plain()[0].tapes
        ))  # fmt: skip

    assert bent_round_her(lying((1, 1), (8, 1), (3, 2))) == [
        "Tapes 1 and 8 to hoop 1 lie on the wearer.",
        "Tape 3 to hoop 2 lies on the wearer.",
    ]
    ties = [TieReport(name, 0.3, 1.0, 0.0, bent) for name, bent in (("a", True), ("b", False), ("c", True))]
    assert bent_round_her(report(ties=tuple(ties))) == ["A and c bend round the wearer."]
    assert bent_round_her(report(ties=tuple(ties[:2]))) == ["A bends round the wearer."]


def test_how_much_it_carries() -> None:
    carried = CapacityReport(3.24, True, 2, "snaps", None, None, None)
    assert carrying(report(carries=carried)) == ["Carries 3.2 times its skirt; then hoop 2 snaps."]
    more = replace(
        carried, reached=False, factor=20.0, wanted=2.5, lightest_width_m=0.0127, lightest_thickness_m=0.0006
    )
    lines = carrying(report(carries=more))
    assert figures_of(lines[0]) == ["20"]
    assert figures_of(lines[1]) == ["2.5", "12.7", "0.6"]
    for without in ({"lightest_width_m": None}, {"lightest_thickness_m": None}):
        assert "no strip from stock" in carrying(report(carries=replace(more, **without)))[1]
    assert carrying(report()) == []


@pytest.mark.parametrize(
    ("left", "bound"), [(3e-8, "1e-06"), (2e-6, "1e-05"), (0.5, "1"), (0.0, "1e-06"), (1e-5, "1e-05")]
)
def test_the_proof_is_a_round_bound(left: float, bound: str) -> None:
    assert proof_line(report(residual_N=left)).endswith(f"balance to {bound} N.")


def test_an_answer_that_is_none() -> None:
    assert "0.12 N" in proof_line(report(settled=False, residual_N=0.123))
    assert proof_line(report(stable=False)).startswith("NOT STABLE")
    text = report_text(report(stable=False)).splitlines()
    assert text[1].startswith("NOT STABLE")
    assert sum(line.startswith(("NOT STABLE", "Settled")) for line in text) == 1


def test_warnings_are_numbered_from_one() -> None:
    told = hoops(tilt_deg=5.0, strain_used=0.8)
    told = replace(told, warnings=warnings_of(Case(told, plain()[1])))
    assert [line.split(":")[0] for line in warning_lines(told)] == ["Warning 1", "Warning 2"]
    assert warning_lines(report(warnings=())) == ["No warnings."]


# Marks.


def mark(tape: int, hoop: int, low: tuple[float, ...] | None, high: tuple[float, ...] | None) -> MarkReport:
    tried = [None if moves is None else SlipReport(*moves) for moves in (low, high)]
    return MarkReport(tape, hoop, 0.1, 0.2, 0.3, 0.4, 0.003, *tried)


MARKS = (
    mark(3, 2, (0.001, -0.0042, 0.0, 0.0003), (-0.0011, 0.004, 0.0, 0.0)),
    mark(5, 1, None, (0.0, 0.0022, 0.0, 0.0)),
    mark(7, 1, None, None),
)


def test_marks_that_were_settled_again() -> None:
    table = mark_table(report(marks=MARKS))
    assert list(table.heads) == [
        "Tape",
        "Hoop",
        "Low: front",
        "left",
        "back",
        "right",
        "High: front",
        "left",
        "back",
        "right",
    ]
    assert table.keys == 2
    assert table.rows == [
        ["3", "2", "+1", "-4.2", "0", "+0.3", "-1.1", "+4", "0", "0"],
        ["5", "1", *["no rest"] * 4, "0", "+2.2", "0", "0"],
    ]


def test_the_mark_that_needs_most_care() -> None:
    """Half of the largest effect, 2.1 of 4.2 mm, still counts as less; 2.2 does not."""
    assert figures_of(sewing_lines(report(marks=MARKS))[0]) == ["2.2", "4.2"]
    less = mark(5, 1, None, (0.0, 0.0021, 0.0, 0.0))
    assert figures_of(sewing_lines(report(marks=(less, MARKS[0])))[0]) == ["3", "2", "4.2"]
    assert figures_of(sewing_lines(report("in", marks=(MARKS[0], less)))[0]) == ["3", "2", "5/32"]
    assert sewing_lines(report(marks=MARKS[2:])) == []


def test_how_level_a_sewn_hem_is() -> None:
    spread = SpreadReport(INCH / 16, INCH / 8, 0.9, 0.0118)
    assert figures_of(sewing_lines(report("in", spread=spread))[0]) == ["1/16", "1/8", "7/16"]
    assert figures_of(sewing_lines(report("mm", spread=spread))[0]) == ["1.6", "3.2", "12"]


def test_marks_stand_in_the_report_under_what_they_were_tried_with() -> None:
    text = report_text(report(marks=MARKS))
    assert re.search(r"What one mark 3 mm too low .* \(mm; \+ higher\)", text)
    inches = tuple(replace(one, off_by_m=INCH / 8) for one in MARKS)
    assert re.search(
        r"What one mark 1/8 in too low .* \(in; \+ higher\)", report_text(report("in", marks=inches))
    )
