"""Figures put into a report, and how each is told: in millimetres and in inches, rounded by hand."""

from __future__ import annotations

import re
from dataclasses import replace
from io import StringIO
from typing import Any

import numpy as np
import pytest
from hung import plain
from rich.console import Console

from cage3d.errors import Problem
from cage3d.foresee.capacity import Capacity
from cage3d.foresee.sensitivity import MarkEffect
from cage3d.foresee.sliding import BothWays
from cage3d.foresee.slips import Slip
from cage3d.foresee.stiffness import Give
from cage3d.report import Report, outlook, problems_json, report_json
from cage3d.report.figure_table import ROOMY, TIGHT, FigureTable, filled, in_parts
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
from cage3d.report.tables import fine_change, hangs_slack, hoop_row, pull, tape_table, tension, tie_table
from cage3d.report.view import proof_line, report_text, warning_lines
from cage3d.report.warnings import warnings_of
from cage3d.report.warnings.case import Case
from cage3d.settle import SettledCage
from cage3d.shape.weights import GRAVITY
from cage3d.steady import steady

INCH = 0.0254


def report(units: str = "mm", **figures: Any) -> Report:
    """The plain cage's report with figures set."""
    return replace(plain()[0], units=units, **figures)


def hoops(**figures: Any) -> Report:
    """The same with figures of hoop 2 set, in millimetres."""
    own = plain()[0].hoops
    return report(hoops=(own[0], replace(own[1], **figures), own[2]))


def figures_of(text: str) -> list[str]:
    return re.findall(r"[+-]?\d+ \d+/\d+|[+-]?\d+/\d+|[+-]?\d+(?:\.\d+)?", text)


# Tables.

SET = {
    "length_m": 1.2344, "height_front_m": 0.5004, "height_left_m": 0.5106, "height_back_m": 0.5207,
    "height_right_m": 0.5308, "width_side_side_m": 0.4412, "width_front_back_m": 0.4324, "back_share": 0.546,
    "tilt_deg": 1.26, "strain_used": 0.456, "open": True, "measured_at_end": ("back",),
}  # fmt: skip


def test_a_row_of_the_hoops() -> None:
    told = hoops(**SET)
    row = ["2 open", "1234", "500", "511", "521*", "531", "441", "432", "55%", "1.3°", "46%"]
    assert hoop_row(told, told.hoops[1]) == row
    closed = replace(told.hoops[1], open=False)
    inches = ["2", "48 5/8", "19 3/4", "20 1/8", "20 1/2*", "20 7/8", "17 3/8", "17"]
    assert hoop_row(replace(told, units="in"), closed)[:8] == inches
    assert hoop_row(replace(told, units="m"), closed)[1] == "1.234"


def test_pulls_as_a_spring_balance_shows_them() -> None:
    """9.81 N are a kilogram; under half a gram a line that is longer than what it spans is slack."""
    told = report()
    assert [tension(told, newtons, 0.01) for newtons in (9.81, 0.00492, 0.00490)] == [
        "1000",
        "1",
        "slack 10 mm",
    ]
    assert [tension(told, 0.0, slack) for slack in (0.0, 0.0015, 0.00161)] == ["0", "slack", "slack 2 mm"]
    assert hangs_slack(0.0, 1e-5)
    assert not hangs_slack(0.0005 * GRAVITY, 0.01)
    assert not hangs_slack(0.0, 0.0)
    tape = told.tapes[2]
    set_to = replace(tape.segments[1], tension_N=0.25 * GRAVITY, slack_m=0.0)
    assert pull(told, set_to) == "250"
    third = replace(tape, segments=(tape.segments[0], set_to, tape.segments[2]))
    table = tape_table(report(tapes=(*told.tapes[:2], third, *told.tapes[3:])))
    assert list(table.heads) == ["Tape", "to hoop 1", "to hoop 2", "to hoop 3"]
    assert [row[0] for row in table.rows] == list("12345678")
    assert table.rows[2][2] == "250"


def test_ties_with_their_length_and_pull() -> None:
    ties = (TieReport("a", 0.3, 0.5 * GRAVITY, 0.0, False), TieReport("b", 0.2504, 0.0, 0.02, False))
    table = tie_table(report(ties=ties))
    assert list(table.rows) == [("a", "300", "500"), ("b", "250", "slack 20 mm")]
    assert table.words


@pytest.mark.parametrize(
    ("units", "metres", "told"),
    [
        ("mm", 0.0021, "+2.1"), ("mm", -0.0021, "-2.1"), ("mm", 0.00004, "0"), ("cm", 0.001, "+1"),
        ("in", INCH / 16, "+1/16"), ("ft", -INCH / 32, "-1/32"), ("in", INCH / 70, "0"),
    ],
)  # fmt: skip
def test_small_changes_carry_their_sign(units: str, metres: float, told: str) -> None:
    assert fine_change(report(units), metres) == told


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


# What lies beyond the resting shape, with the answers of others put in.


def test_marks_of_the_outlook(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ten at most, of which six are settled again 3 mm (or 1/8 in) lower and higher; numbered from 1."""
    tried: list[tuple[int, int, float]] = []

    def slip(_: SettledCage, tape: int, hoop: int, down: float) -> Slip:
        tried.append((tape, hoop, down))
        return Slip(0.1, 0.2, 0.3, 0.4 if down > 0 else 0.5)

    effects = [MarkEffect(tape, 1, 0.9 - tape / 100, 0.1, 0.2, 0.3) for tape in range(12)]
    moves = np.arange(25.0).reshape(1, 1, 25)  # of 24 marks, and of what else is sewn
    monkeypatch.setattr(outlook, "sewing_moves", lambda _: moves)
    monkeypatch.setattr(
        outlook, "mark_effects", lambda _, moved: effects if moved.shape == (1, 1, 24) else []
    )
    monkeypatch.setattr(outlook, "slip", slip)
    monkeypatch.setattr(outlook, "level_within", lambda _, moved: 0.0123 if moved is moves else 0.0)
    found = outlook.with_marks(report("mm"), plain()[1])
    assert [(one.tape, one.hoop) for one in found.marks] == [(tape, 2) for tape in range(1, 11)]
    assert tried == [(tape, 1, down) for tape in range(6) for down in (0.003, -0.003)]
    first, last = found.marks[0], found.marks[6]
    assert (first.hem_front, first.hem_left, first.hem_back, first.hem_right) == (0.9, 0.1, 0.2, 0.3)
    assert (first.low, first.high) == (SlipReport(0.1, 0.2, 0.3, 0.4), SlipReport(0.1, 0.2, 0.3, 0.5))
    assert (first.off_by_m, last.low, last.high) == (0.003, None, None)
    # One sigma: 1/16 in a mark and 1/8 in a hoop (common practice).
    assert found.spread == SpreadReport(pytest.approx(INCH / 16), pytest.approx(INCH / 8), 0.9, 0.0123)
    for units, off in (("in", INCH / 8), ("ft", INCH / 8), ("cm", 0.003)):
        assert outlook.off_by(report(units)) == pytest.approx(off)


def test_a_skirt_that_slides_moves_the_hoops(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stretched by a hundredth to the sides and pressed by two front to back, up by a hundredth of how far behind."""
    lies = plain()[1]
    moved = lies.positions * [1.01, 0.98, 1.0] + np.outer(lies.positions[:, 1], [0.0, 0.0, 0.01])
    on_band = np.array([0.0, 0.0, -2.0 * GRAVITY])
    slides = replace(lies, state=replace(lies.state, positions=moved, cloth_on_band=on_band))
    monkeypatch.setattr(outlook, "both_ways", lambda _: BothWays(lies, slides))
    found = outlook.with_certainty(report(), lies).sliding
    assert found is not None
    assert found.band_kg == pytest.approx(2.0)
    assert [hoop.number for hoop in found.hoops] == [1, 2, 3]
    for hoop, length in zip(found.hoops, (52, 62, 70), strict=True):
        reach = length * INCH / 6.2832  # the tapes draw a hoop in a little
        assert hoop.heights == pytest.approx((-0.01 * reach, 0.0, 0.01 * reach, 0.0), rel=0.05, abs=1e-4)
        assert hoop.widths == pytest.approx((0.02 * reach, -0.04 * reach), rel=0.05)
    hem = (
        found.hem_front_m,
        found.hem_left_m,
        found.hem_back_m,
        found.hem_right_m,
        found.wide_m,
        found.deep_m,
    )
    assert hem == (*found.hoops[2].heights, *found.hoops[2].widths)


def test_pushes_and_another_way(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        outlook, "gives", lambda _: (Give("front", 0.03, 0.01, 0.4), Give("left", None, None, None))
    )
    found = outlook.with_stiffness(report(), plain()[1]).gives
    assert [(one.side, one.inward_m, one.dent_m) for one in found] == [
        ("front", 0.03, 0.01),
        ("left", None, None),
    ]
    assert [one.push_N for one in found] == pytest.approx([0.2 * GRAVITY] * 2)
    monkeypatch.setattr(outlook, "second_way", lambda _: "it may hang lower")
    assert outlook.with_second_way(report(), plain()[1]).warnings[-1].text == "It may hang lower."


@pytest.mark.parametrize(
    ("reached", "factor", "hoop", "warned"),
    [(True, 1.4, 2, True), (True, 1.6, 2, False), (False, 1.4, None, False)],
)
def test_capacity(
    monkeypatch: pytest.MonkeyPatch, reached: bool, factor: float, hoop: int | None, warned: bool
) -> None:
    monkeypatch.setattr(outlook, "carries", lambda _: Capacity(factor, reached, 1, "snaps"))
    steel = plain()[1].cage.design.steel
    monkeypatch.setattr(outlook, "lightest_steel", lambda _, wanted: steel if wanted == 2.0 else None)
    told = report(warnings=())
    found = outlook.with_capacity(told, plain()[1], 2.0)
    assert found.carries == CapacityReport(factor, reached, hoop, "snaps", 2.0, 0.012, 0.0006)
    assert [one.code for one in found.warnings] == (["little_reserve"] if warned else [])
    for wanted in (None, 3.0):
        other = outlook.with_capacity(told, plain()[1], wanted).carries
        assert other is not None
        assert (other.wanted, other.lightest_width_m, other.lightest_thickness_m) == (wanted, None, None)


def test_nothing_is_foreseen_of_a_cage_that_is_no_answer() -> None:
    lame = report(stable=False)
    for more in (
        outlook.with_marks,
        outlook.with_certainty,
        outlook.with_stiffness,
        outlook.with_second_way,
        outlook.with_capacity,
    ):
        assert more(lame, plain()[1]) is lame


# As JSON.


def test_figures_of_the_json() -> None:
    """Hundredths of a micron; of the proof three figures at any size."""
    data = report_json(
        report(weight_kg=1.234567891, residual_N=1.23456e-9, lowest_eigenvalue=123.456, stable=False)
    )
    assert (data["version"], data["weight_kg"]) == (1, 1.23456789)
    assert (data["residual_N"], data["lowest_eigenvalue"]) == (1.23e-9, 123.0)
    assert (data["settled"], data["stable"]) == (True, False)
    assert steady(-1e-12, 8) == 0.0
    assert report_json(report(lowest_eigenvalue=float("inf")))["lowest_eigenvalue"] is None


def test_problems_as_json() -> None:
    told = problems_json([Problem("a.yaml", "x", "no", "yes", 3, 7), Problem("hoops", "", "no", "yes")])
    assert told == {
        "version": 1,
        "problems": [
            {"where": "a.yaml:3:7", "written": "x", "why": "no", "try": "yes", "line": 3, "column": 7},
            {"where": "hoops", "written": "", "why": "no", "try": "yes", "line": None, "column": None},
        ],
    }


# Warnings: which hoop, tape and side, and every figure, in their order.


def of_tape(tape: int, to_hoop: int, **figures: Any) -> Report:
    return report(tapes=tuple(
        replace(own, segments=tuple(
            replace(part, **figures) if (own.tape, part.to_hoop) == (tape, to_hoop) else part for part in own.segments
        )) for own in plain()[0].tapes
    ))  # fmt: skip


def last_hoop(**figures: Any) -> Report:
    own = plain()[0]
    heights = {f"height_{side}_m": 0.5 for side in ("front", "left", "back", "right")}
    return report(hoops=(*own.hoops[:2], replace(own.hoops[2], **heights | figures)))


HIGH = {"height_front_m": 0.5004, "height_back_m": 0.5206, "height_left_m": 0.51, "height_right_m": 0.51}

TOLD: list[tuple[str, Report, list[str]]] = [
    ("slack_tape", of_tape(3, 2, slack_m=0.0124), ["3", "2", "12"]),
    ("slack_tie", report(ties=(TieReport("a", 0.3, 0.0, 0.0124, False),)), ["12"]),
    # Half an inch is 12.7 mm.
    ("tape_margin", of_tape(2, 3, length_m=0.2004, step_m=0.1906), ["3", "2", "2", "200", "191", "13"]),
    ("tilt", hoops(tilt_deg=3.26, **HIGH), ["2", "2", "3.3", "500", "521"]),
    # t/2 over 0.005854: 0.6 mm at 205 GPa and 1200 MPa keeps a kink under 51.25 mm.
    ("strain", hoops(strain_used=0.876, smallest_bend_radius_m=0.0584), ["2", "58", "88", "51"]),
    ("kink", hoops(strain_used=1.126, smallest_bend_radius_m=0.0454), ["2", "45", "113", "51"]),
    # Wanted are 17 to 21 in: 431.8 to 533.4 mm.
    (
        "hem_clearance", report(hem=replace(plain()[0].hem, lowest_m=0.4, highest_m=0.6)),
        ["400", "600", "432", "533", "32", "67"],
    ),
    ("trip", report(hem=replace(plain()[0].hem, lowest_m=0.0904)), ["90", "102"]),
    ("hip_close", report(hoops=(replace(plain()[0].hoops[0], clearance_m=0.0124), *plain()[0].hoops[1:])),
     ["12", "19"]),
    ("hip_close", report(hoops=(replace(plain()[0].hoops[0], clearance_m=-0.01), *plain()[0].hoops[1:])),
     ["0", "19"]),
    ("on_wearer", report(touching=(TouchReport(2, "wearer", "back left", 1.0),)), ["2"]),
    ("on_floor", report(touching=(TouchReport(3, "floor", "back left", 1.0),)), ["3"]),
    # A door of 34 in is 863.6 mm.
    ("door", report(width_side_side_m=0.9004, width_front_back_m=0.7006), ["900", "864", "701"]),
    ("not_settled", report(settled=False, stable=False, residual_N=0.123, steps=17), ["17", "0.12", "3", "2"]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("code", "told", "figures"), TOLD, ids=[f"{n} {code}" for n, (code, *_) in enumerate(TOLD)]
)
def test_figures_of_warnings(code: str, told: Report, figures: list[str]) -> None:
    settled = replace(plain()[1], worst_node="hoop 3 at tape 2")
    (text,) = [one.text for one in warnings_of(Case(told, settled)) if one.code == code]
    assert figures_of(text) == figures, text


def with_skirt(below: float) -> SettledCage:
    settled = plain()[1]
    design = settled.cage.design
    skirt = {"weight": 0.5, "below_hem": below}
    return replace(settled, cage=replace(settled.cage, design=type(design).model_validate(
        design.model_dump(by_alias=True) | {"skirt": skirt})))  # fmt: skip


@pytest.mark.parametrize(
    ("heights", "where", "most"),
    [
        ({}, "all round", "40"),
        ({"height_front_m": 0.541, "height_left_m": 0.541}, "at the back and right", "40"),
        ({"height_front_m": 0.48, "height_back_m": 0.55}, "at the front, left and right", "60"),
    ],
)
def test_where_a_skirt_lies_on_the_floor(heights: dict[str, float], where: str, most: str) -> None:
    """540 mm below hooops at 500."""
    (text,) = [
        one.text
        for one in warnings_of(Case(last_hoop(**heights), with_skirt(0.54)))
        if one.code == "skirt_on_floor"
    ]
    assert where in text
    assert figures_of(text) == ["540", most]
    low = last_hoop(**{f"height_{side}_m": 0.05 for side in ("front", "left", "back", "right")})
    assert not [one for one in warnings_of(Case(low, plain()[1])) if one.code == "skirt_on_floor"]
    assert not [
        one for one in warnings_of(Case(last_hoop(), with_skirt(0.499))) if one.code == "skirt_on_floor"
    ]


def test_a_skirt_stands_out_at_the_door() -> None:
    """An inch on either side: 815 and 50.8 mm are more than 863.6; 810 are not; deep 812 passes, 814 does not."""

    def door(wide: float, deep: float) -> list[str]:
        told = report(width_side_side_m=wide, width_front_back_m=deep)
        return [one.text for one in warnings_of(Case(told, with_skirt(0.0))) if one.code == "door"]

    assert door(0.812, 0.5) == []
    assert figures_of(door(0.815, 0.812)[0]) == ["25", "866", "864", "863"]
    assert "Sideways" in door(0.815, 0.812)[0]
    assert "Sideways" not in door(0.815, 0.814)[0]


# Tables on narrow consoles.


def test_cells_and_gaps() -> None:
    """Three columns of 4, 5 and 6 with two gaps, and the blanks at both ends."""
    assert (ROOMY.width([4, 5, 6]), TIGHT.width([4, 5, 6])) == (15 + 6 + 2, 15 + 4)


def test_columns_that_fit_are_one_part_and_else_as_even_as_can_be() -> None:
    """A key of 4 and columns of 6: two of them take 4 + 2 + 6 + 2 + 6 = 20, three 28."""
    widths = [4, 6, 6, 6, 6, 6]
    assert in_parts(widths, 1, 44) == [[0, 1, 2, 3, 4, 5]]
    assert in_parts(widths[:5], 1, 35) == [[0, 1, 2], [0, 3, 4]]
    assert in_parts(widths, 1, 43) == [[0, 1, 2, 3], [0, 4, 5]]
    assert in_parts(widths, 1, 20) == [[0, 1, 2], [0, 3, 4], [0, 5]]
    assert in_parts(widths, 1, 3) == [[0, 1], [0, 2], [0, 3], [0, 4], [0, 5]]
    # Two keys of 4 and a column of 9 take 21, and the two others beside the keys 20.
    assert in_parts([4, 4, 9, 3, 3], 2, 21) == [[0, 1, 2], [0, 1, 3, 4]]
    assert filled([1, 2, 3], lambda part: len(part) <= 2) == [[1, 2], [3]]


def drawn(table: FigureTable, width: int, encoding: str = "utf-8") -> list[str]:
    class Page(StringIO):
        encoding = ""

    page = Page()
    page.encoding = encoding
    Console(file=page, width=width, color_system=None, legacy_windows=False).print(table)
    return [line.rstrip() for line in page.getvalue().splitlines()]


def test_a_table_on_a_wide_console_and_on_a_narrow_one() -> None:
    table = FigureTable(("Tape", "to hoop 1", "to hoop 2"), [["1", "250", "slack"], ["12", "9", "[red]"]])
    assert drawn(table, 40) == [
        "",
        " Tape   to hoop 1   to hoop 2",
        " ────────────────────────────",
        "    1         250       slack",
        "   12           9       [red]",
        "",
    ]
    narrow = drawn(table, 20)
    assert [line.split() for line in narrow if line.strip(" ─")] == [
        ["Tape", "to", "hoop", "1"], ["1", "250"], ["12", "9"], ["Tape", "to", "hoop", "2"], ["1", "slack"],
        ["12", "[red]"],
    ]  # fmt: skip
    assert max(map(len, narrow)) <= 20
    assert any(set(line.strip()) == {"-"} for line in drawn(table, 40, "ascii"))


def test_a_name_is_folded_and_never_cut() -> None:
    table = FigureTable(("Tie", "Length"), [["behind the knees and back", "300"]], words=True)
    lines = drawn(table, 24)
    # 24 less the column of 6 and a gap of 2 leave 16 for the name.
    assert [line[:16].strip() for line in lines if line.strip()][2:] == ["behind the knees", "and back"]
    assert "300" in "".join(lines)
    # Twelve at least: in fewer nobody can read it.
    assert [line[:12].strip() for line in drawn(table, 20) if line.strip()][2:] == [
        "behind the",
        "knees and",
        "back",
    ]
