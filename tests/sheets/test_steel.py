"""The cutting list and the marks along the steel, against figures worked out by hand and against the model."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from made import SAMPLES, hung_sample, sample

from cage3d.design.models import Design
from cage3d.design.read import read, read_data
from cage3d.shape.lay_out import lay_out
from cage3d.sheets.steel import SteelCut, cutting_list

INCH = 0.0254
SIXTEENTH = INCH / 16

# Cut lengths of five samples (in), by hand: the finished length, and a lap of 2 in (common practice) where closed.
WORKED = {
    "a": [50, 62, 71, 76],
    "b": [50, 62, 71, 62],
    "c": [50, 70, 86, 97, 105, 110, 112],
    "d": [51.5, 61.5, 75.5, 85.25, 92.75, 97.5],
    "e": [61.41, 78.26, 91.57, 99.44, 105.52],
}


def plain(**changes: Any) -> Design:
    data: dict[str, Any] = {
        "name": "plain",
        "units": "mm",
        "wearer": {"waist": 660, "waist_height": 1050},
        "steel": {"width": 7, "thickness": 0.5},
        "tapes": {"count": 8, "drops": [200]},
        "hoops": [{"length": 1600}],
    }
    return read_data(data | changes)


def at(cut: SteelCut, name: str) -> list[float]:
    return [mark.at for mark in cut.marks if name in mark.names]


@pytest.mark.parametrize("letter", WORKED)
def test_cut_lengths_are_those_worked_out_by_hand(letter: str) -> None:
    cuts = cutting_list(lay_out(read(sample(letter))))
    assert [cut.exact / INCH for cut in cuts] == pytest.approx(WORKED[letter], abs=0.006)
    for cut in cuts:
        assert cut.cut == pytest.approx(cut.exact, abs=SIXTEENTH / 2 + 1e-9)
        assert cut.cut / SIXTEENTH == pytest.approx(round(cut.cut / SIXTEENTH), abs=1e-6)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_cut_lengths_are_those_of_the_report(path: Path) -> None:
    settled, report = hung_sample(path)
    cuts = cutting_list(settled.cage)
    assert [cut.exact for cut in cuts] == pytest.approx(
        [hoop.cut_length_m for hoop in report.hoops], abs=1e-9
    )


def steel_between_tapes(design: Design, hoop: int) -> list[float]:
    """m of the model's steel from tape to tape by rising number; a closed hoop ends with last to first."""
    cage = lay_out(design)
    joined = cage.connectivity
    edges = joined.hoop_edges[hoop]
    arcs = cage.parameters.arc_length[edges]
    nodes = joined.crossing[hoop][joined.passed[hoop]]
    places = np.searchsorted(joined.hoop_nodes[hoop], nodes)
    total = np.concatenate([[0.0], np.cumsum(arcs)])
    between = list(np.diff(total[places]))
    return between + ([total[-1] - total[places[-1]] + total[places[0]]] if joined.closed[hoop] else [])


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_marks_are_as_far_apart_as_the_models_tapes(path: Path) -> None:
    design = read(path)
    cage = lay_out(design)
    for cut in cutting_list(cage):
        passed = np.flatnonzero(cage.connectivity.passed[cut.hoop - 1])
        places = [at(cut, f"{design.line} {tape + 1}")[0] for tape in passed]
        # From the join at centre back the tapes come as 6 7 8 1 2 ...: the step over the ends is one round.
        steps = [after - before for before, after in pairwise(places)]
        if cut.closed:
            steps = [step % cut.finished for step in [*steps, places[0] - places[-1]]]
        assert steps == pytest.approx(steel_between_tapes(design, cut.hoop - 1), abs=1e-9)


def test_a_lap_is_marked_at_both_ends_and_in_its_middle() -> None:
    cut = cutting_list(lay_out(plain(hoops=[{"length": 1600, "join": {"overlap": 50}}])))[0]
    assert cut.exact == pytest.approx(1.65)
    assert at(cut, "CB") == pytest.approx([0.025, 1.625])
    assert at(cut, "CF") == pytest.approx([0.825])
    assert at(cut, "other end") == pytest.approx([0.05, 1.6])
    # Tape 5 is the first past centre back, on her right; tape 4 the last.
    assert at(cut, "tape 5") == pytest.approx([0.025 + 0.1])
    assert at(cut, "tape 4") == pytest.approx([1.625 - 0.1])
    assert cut.tips == 0


def test_ends_that_butt_in_a_tube_take_nothing() -> None:
    cut = cutting_list(lay_out(plain(hoops=[{"length": 1600, "join": {"tube": 30}}])))[0]
    assert cut.exact == pytest.approx(1.6)
    assert at(cut, "CB") == pytest.approx([0.0, 1.6])
    assert at(cut, "other end") == []


def test_a_join_at_centre_front_turns_the_marks_round() -> None:
    cut = cutting_list(lay_out(plain(hoops=[{"length": 1600, "join": {"overlap": 50}, "join_at": "front"}])))[
        0
    ]
    assert at(cut, "CF") == pytest.approx([0.025, 1.625])
    assert at(cut, "CB") == pytest.approx([0.825])
    assert at(cut, "tape 1") == pytest.approx([0.125])


def test_a_tape_in_the_join_is_met_at_both_ends() -> None:
    design = plain(
        tapes={"count": 8, "drops": [200], "stations": "on"},
        hoops=[{"length": 1600, "join": {"overlap": 50}}],
    )
    cut = cutting_list(lay_out(design))[0]
    assert at(cut, "tape 5") == pytest.approx([0.025, 1.625])
    assert [mark.names for mark in cut.marks if "tape 5" in mark.names] == [("CB", "tape 5")] * 2
    assert at(cut, "tape 1") == pytest.approx([0.825])


def test_an_open_hoop_begins_and_ends_past_its_end_tapes() -> None:
    cut = cutting_list(lay_out(plain(hoops=[{"length": 1500, "opening": "front", "overhang": 12}])))[0]
    assert cut.exact == pytest.approx(1.5)
    assert cut.tips == 2
    assert at(cut, "tape 1") == pytest.approx([0.012])
    assert at(cut, "tape 8") == pytest.approx([1.488])
    assert at(cut, "CB") == pytest.approx([0.75])
    assert at(cut, "CF") == []


def test_marks_rise_along_the_steel() -> None:
    for path in SAMPLES:
        for cut in cutting_list(lay_out(read(path))):
            places = [mark.at for mark in cut.marks]
            assert places == sorted(places)
            assert places[0] >= 0.0
            assert places[-1] <= cut.exact
