"""Figures put into a report, and how tables show them: rounded by hand, on wide consoles and on narrow ones."""

from __future__ import annotations

from dataclasses import replace
from io import StringIO

import pytest
from figured import INCH, hoops, report
from rich.console import Console

from cage3d.report.figure_table import ROOMY, TIGHT, FigureTable, filled, in_parts
from cage3d.report.record import TieReport
from cage3d.report.tables import fine_change, hangs_slack, hoop_row, pull, tape_table, tension, tie_table
from cage3d.report.view import seam_line
from cage3d.shape.weights import GRAVITY
from cage3d.study.sweeping.told import figures_in

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


def test_a_seam_of_hoops_is_no_tape_and_is_told_under_the_table() -> None:
    told = report()
    tape = told.tapes[2]
    seam = replace(tape.segments[1], length_m=0.0, tension_N=0.25 * GRAVITY, slack_m=0.0)
    assert pull(told, seam) == "sewn, 250"
    sewn = replace(tape, segments=(tape.segments[0], seam, tape.segments[2]))
    assert "no tape pulls" in seam_line(report(tapes=(*told.tapes[:2], sewn, *told.tapes[3:])))[0]
    assert seam_line(told) == []


def test_the_strongest_pull_is_a_tapes_and_not_a_seams() -> None:
    """A seam of 900 g beside tapes of 300 g."""
    told = report()
    pulls = [[replace(part, tension_N=0.3 * GRAVITY) for part in tape.segments] for tape in told.tapes]
    pulls[2][1] = replace(pulls[2][1], length_m=0.0, tension_N=0.9 * GRAVITY)
    tapes = tuple(replace(tape, segments=tuple(parts)) for tape, parts in zip(told.tapes, pulls, strict=True))
    figures = dict(figures_in(report(tapes=tapes)))
    assert figures["hoop_2_most_tension_N"] == pytest.approx(0.3 * GRAVITY)
    assert figures["most_tension_N"] == pytest.approx(0.3 * GRAVITY)


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
