"""The report as JSON (its keys are a promise) and as a table."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from io import StringIO
from typing import Any

import pytest
from hung import hung, plain
from rich.console import Console

from cage3d.report import report_json, report_text
from cage3d.report.view import Wrapped

PROMISED = {
    "": {
        "design", "settled", "stable", "residual_N", "lowest_eigenvalue", "hoops", "tapes", "ties",
        "weight_kg", "steel_m", "hem", "warnings",
    },
    "hoops": {
        "number", "open", "length_m", "height_front_m", "height_left_m", "height_back_m", "height_right_m",
        "lowest_m", "highest_m", "width_front_back_m", "width_side_side_m", "tilt_deg", "out_of_plane_m",
        "smallest_bend_radius_m", "strain_used", "at_tapes",
    },
    "hoops/at_tapes": {"tape", "x_m", "y_m", "z_m"},
    "tapes": {"tape", "segments"},
    "tapes/segments": {"to_hoop", "length_m", "tension_N", "slack_m"},
    "ties": {"name", "length_m", "tension_N", "slack_m"},
    "hem": {"lowest_m", "highest_m", "widest_m"},
    "warnings": {"code", "text"},
}  # fmt: skip


def full() -> dict[str, Any]:
    """A report in which no list is empty, through JSON and back."""
    tie = {"from": "hoop 2 tape 3", "to": "hoop 2 tape 6", "length": 16}
    report, _ = hung(ties=[tie], stage={"door": 20})
    data: dict[str, Any] = json.loads(json.dumps(report_json(report), allow_nan=False))
    return data


@pytest.mark.parametrize("place", PROMISED)
def test_promised_keys(place: str) -> None:
    part: Any = full()
    for step in filter(None, place.split("/")):
        part = part[step]
        part = part[0] if isinstance(part, list) else part
    assert set(part) >= PROMISED[place]


def test_figures_are_si_and_finite() -> None:
    report, _ = plain()
    data = report_json(report)
    assert data["hoops"][0]["length_m"] == pytest.approx(52 * 0.0254)
    assert data["settled"] is True
    assert len(data["hoops"][2]["at_tapes"]) == 8
    assert [part["to_hoop"] for part in data["tapes"][4]["segments"]] == [1, 2, 3]


def test_what_is_no_number_is_null() -> None:
    report, _ = plain()
    data = report_json(replace(report, residual_N=float("nan"), weight_kg=float("inf")))
    assert (data["residual_N"], data["weight_kg"]) == (None, None)


def test_the_same_design_gives_the_same_text() -> None:
    one, other = (hung()[0] for _ in range(2))
    assert json.dumps(report_json(one)) == json.dumps(report_json(other))
    assert report_text(one) == report_text(other)


def test_table_in_eighths_of_an_inch() -> None:
    report, _ = plain()
    text = report_text(report)
    assert "Settled and stable" in text
    assert "52   33" in text.replace("       ", "   ")
    assert "No warnings." in text
    assert max(len(line) for line in text.splitlines()) <= 100


def test_table_of_a_cage_that_gave_no_answer_says_so_first() -> None:
    report, _ = plain()
    text = report_text(replace(report, settled=False, residual_N=0.4))
    assert text.splitlines()[1].startswith("NOT SETTLED: 0.4 N")


def test_warnings_stand_before_the_long_tables_and_the_proof_at_the_end() -> None:
    report, _ = hung(
        ties=[{"from": "hoop 2 tape 3", "to": "hoop 2 tape 6", "length": 16}], stage={"door": 20}
    )
    text = report_text(report)
    order = ["Behind", "Whole cage", "Warning 1:", "Ties (in", "Pull in the tapes", "Settled and stable"]
    places = [text.index(words) for words in order]
    assert places == sorted(places)
    assert text.splitlines()[-2].startswith("Settled and stable")
    assert f"{100 * report.back_share:.0f}% of that behind the waist" in text


def test_an_open_hoop_is_marked() -> None:
    report, _ = hung(hoops=[{"length": 46, "opening": "front"}, {"length": 62}, {"length": 70}])
    text = report_text(report)
    assert "1 open" in text
    assert "Hoop 1 is open by" in text
    assert "* no steel on that side" in text


def test_twelve_tapes_and_a_name_with_brackets_stay_readable() -> None:
    """Rich reads [bold] in a text as markup unless told not to."""
    report, _ = hung(name="[bold]plain", tapes={"count": 12, "drops": [9, 8, 7]})
    text = report_text(report)
    assert text.splitlines()[0] == "[bold]plain"
    assert re.search(r"^ +12 +\d+ +\d+ +\d+$", text, re.MULTILINE)


@pytest.mark.parametrize("width", range(12, 60))
def test_no_line_is_broken_inside_a_figure(width: int) -> None:
    """Of every width: a figure, its fraction and its unit stay together, and every word is there."""
    said = "A hoop that gives more than 3 1/8 in is limp; 0.79 kg of it and 12 mm, 45.2 cm of 8 degrees."
    page = StringIO()
    Console(file=page, width=width, color_system=None).print(Wrapped(said))
    lines = [line.rstrip() for line in page.getvalue().splitlines()]
    assert " ".join(lines) == said
    assert max(map(len, lines)) <= width
    for kept in ("3 1/8 in", "0.79 kg", "12 mm", "45.2 cm", "8 degrees"):
        assert any(kept in line for line in lines), lines
