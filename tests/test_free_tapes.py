"""Tapes that begin at a hoop, pass some hoops only, run aslant and cross, and hoops that meet: in every room at once.

Seven tapes over four hoops. Hoops 1 and 2 meet on tape 1; tape 4 begins at hoop 2, tapes 3 and 5 end at hoop 3 and
cross between hoops 2 and 3, tape 6 passes hoops 1 and 4 alone.
"""

from __future__ import annotations

import csv
from io import StringIO
from typing import Any

import numpy as np
import pytest
import trimesh
from made import pages_of

from cage3d.design.models import Design
from cage3d.design.read import read_data
from cage3d.design.tables import TableLine, WrittenTable
from cage3d.errors import CageError
from cage3d.foresee.certainty import certainty
from cage3d.mesh.part import CAGE_KINDS
from cage3d.mesh.parts import build_parts
from cage3d.miniature.maquette import build_maquette
from cage3d.miniature.order import Order
from cage3d.report import measure
from cage3d.report.outlook import certainty_report
from cage3d.report.tables import tape_table
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.sheets import make_sheets
from cage3d.study.aiming.freedom import freedom_of
from cage3d.study.numbers import number_names
from cage3d.study.sweeping.varying import varyings
from cage3d.study.truing.again import as_mended
from cage3d.study.truing.causes import DROP, MARK, Cause, causes_of, changes_of
from cage3d.study.truing.mending import Move
from cage3d.study.truing.record import record_of

STATIONS = [0.0, 0.15, 0.35, 0.5, 0.65, 0.75, 0.85]
CROSSED = [0.0, 0.15, 0.64, 0.5, 0.36, 0.85]  # of the tapes that pass hoop 3: 3 and 5 have changed sides
DATA: dict[str, Any] = {
    "name": "Free tapes",
    "units": "mm",
    "wearer": {"waist": 660, "waist_height": 1050},
    "steel": {"width": 7, "thickness": 0.6},
    "tapes": {
        "count": 7,
        "stations": STATIONS,
        "drops": [
            [180, 0, 160, 140],
            [180, 60, 160, 140],
            [190, 100, 350],
            [150, 140],
            [190, 100, 350],
            [180, 400],
            [180, 60, 160, 140],
        ],
        "routes": [
            {"tapes": [3, 5], "to": "hoop 3"},
            {"tapes": [4], "from": "hoop 2"},
            {"tapes": [6], "hoops": [1, 4]},
        ],
    },
    "hoops": [
        {"length": 1200},
        {"length": 1250},
        {"length": 1500, "stations": CROSSED},
        {"length": 1650},
    ],
    "skirt": {"weight": "0.5 kg"},
}
DESIGN: Design = read_data(DATA)
HUNG: SettledCage = settle(lay_out(DESIGN, 48))
JOINED = HUNG.cage.connectivity


def test_it_rests_and_the_waistband_holds_what_hangs() -> None:
    assert HUNG.trusted, HUNG.notes
    held = 0.0
    for (one, other), pull in zip(JOINED.pulls, HUNG.state.pull_force, strict=True):
        if one in JOINED.on_band:
            away = HUNG.positions[other] - HUNG.positions[one]
            held -= pull * away[2] / np.linalg.norm(away)
    numbers = HUNG.cage.parameters
    assert held == pytest.approx((numbers.own_weight + numbers.skirt_weight).sum(), rel=1e-6)


def test_tapes_stand_where_they_are_written_and_have_their_lengths() -> None:
    upper, lower = HUNG.positions[JOINED.crossing[:2, 0]]
    assert lower == pytest.approx(upper, abs=1e-7)
    assert JOINED.node_fraction[JOINED.crossing[2, [2, 4]]] == pytest.approx([0.64, 0.36])
    lengths = dict(zip(JOINED.pull_names, HUNG.pull_spans, strict=True))
    assert "tape 4 to hoop 2" not in lengths
    assert "tape 6 to hoop 2" not in lengths
    assert lengths["tape 6 to hoop 4"] <= 0.400 + 1e-6
    assert len(JOINED.on_band) == 6


def test_what_is_told_of_it() -> None:
    report = measure(HUNG)
    assert [point.tape for point in report.hoops[2].at_tapes] == [1, 2, 3, 4, 5, 7]
    sure = certainty_report(certainty(HUNG, None), JOINED.passed)
    assert [len(hoop.at_tapes_m) for hoop in sure.hoops] == [6, 6, 6, 5]
    rows = {row[0]: row[1:] for row in tape_table(report).rows}
    assert [cell == "–" for cell in rows["4"]] == [True, True, False, False]
    assert [cell == "–" for cell in rows["6"]] == [False, True, True, False]


def test_its_solids_are_closed_and_its_tapes_begin_where_they_do() -> None:
    for part in build_parts(HUNG, CAGE_KINDS):
        mesh = trimesh.Trimesh(part.solid.points, part.solid.faces, process=False)
        assert mesh.is_watertight, part.name
        if part.kind == "tapes":
            tape = part.number - 1
            top = HUNG.positions[JOINED.nodes_of(tape)[0], 2]
            assert 0.0 < mesh.vertices[:, 2].max() - top < 0.035, part.name
            assert mesh.vertices[:, 2].min() == pytest.approx(HUNG.positions[JOINED.ends[tape], 2], abs=0.02)


def test_its_miniature_is_one_body() -> None:
    """23 crossings of which two are one place; rings have an edge a crossing, tapes one a stretch that is not nothing;
    the stem and three posts, on tapes 2, 4 and 7. Tape 6 lies over hoops 2 and 3, and tapes 3 and 5 over one another:
    three openings more."""
    made = build_maquette(HUNG, Order("1:6", "powder", bed="400x400x400"))
    (body,) = made.bodies
    crossings, stretches = 6 + 6 + 6 + 5, 3 + 4 + 3 + 2 + 3 + 2 + 4
    edges, nodes = crossings + stretches + 1 + 3, crossings - 1 + 2
    assert body.genus == edges - nodes + 1 + 3
    mesh = trimesh.Trimesh(body.vertices, body.triangles, process=False)
    assert mesh.is_watertight
    assert mesh.euler_number == 2 - 2 * body.genus


def test_its_sheets() -> None:
    sheets = make_sheets(HUNG, measure(HUNG))
    tables = {name: list(csv.DictReader(StringIO(made.decode()))) for name, made in sheets.tables.items()}
    assert not any(row["mark"].startswith("tape 4") for row in tables["waistband-marks.csv"])
    sets = {row["tape"]: row["set"] for row in tables["tapes.csv"]}
    marks = [row for row in tables["tape-marks.csv"] if row["set"] == sets["4"]]
    # The steel of hoop 2 is its zero; 150 and 140 mm to the next two.
    assert [(row["hoop"], float(row["steel_mm"])) for row in marks] == [
        ("2", 0.0),
        ("3", 150.0),
        ("4", 290.0),
    ]
    met = {row["hoop"]: row["upper_line_mm"] for row in tables["tape-marks.csv"] if row["set"] == sets["1"]}
    assert met["1"] == met["2"] != met["3"]
    assert len(tables["fitting-record.csv"]) == 23
    text = " ".join(" ".join(page.text.split()) for page in pages_of(sheets.pdf))
    assert "from hoop 2: 150 + 140" in text
    assert "Where hoops 1 and 2 meet. On tape 1 they lie in one casing" in text
    assert "Stitch each of the 21 casings" in text
    assert "Those in which hoops meet stay free of them." in text


def test_what_may_be_varied_and_sought() -> None:
    """Two numbers are nothing that can change: where hoops meet."""
    assert "tape 4 drop 2" in number_names(DESIGN)
    assert "tape 4 drop 3" not in number_names(DESIGN)
    names = {name for one in varyings(DESIGN) for name in one.names}
    assert {"tape 6 drop 2", "tape 1 drop 3", "drop 2"} <= names
    assert "tape 1 drop 2" not in names
    kept = freedom_of(DESIGN, each_tape=True)
    assert "tape 1 drop 2" not in kept.names


def test_what_may_be_wrong_with_it() -> None:
    causes = causes_of(HUNG.cage)
    assert changes_of(HUNG.cage).count == len(causes)
    assert Cause(MARK, tape=0, hoop=1) not in causes  # it is that of hoop 1
    assert Cause(DROP, tape=3, hoop=1) not in causes  # nothing comes to it
    mended = as_mended(DESIGN, [Move(Cause(MARK, tape=5, hoop=0), 0.01)])
    assert mended.tapes.drops[5] == pytest.approx((0.190, 0.390))


def test_a_height_where_no_tape_passes_is_refused() -> None:
    table = WrittenTable(("hoop", "tape", "measured_height_mm"), (TableLine(("2", "6", "700"), 2),))
    with pytest.raises(CageError, match="tape 6 does not pass hoop 2"):
        record_of(table, DESIGN, "record.csv")
