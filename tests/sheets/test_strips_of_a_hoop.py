"""Hoops of several strips: bare ones are cut and bought one by one, those in one cover as one. Figures by hand."""

from __future__ import annotations

import csv
from io import StringIO
from typing import Any

import pytest
from made import hung_design

from cage3d.design.read import read_data
from cage3d.errors import DesignError
from cage3d.report import Report
from cage3d.sheets import make_sheets

STEEL = {"width": 10, "thickness": 0.5, "density": 8000}


def design(steel: dict[str, Any], third: dict[str, Any] | None = None) -> dict[str, Any]:
    """Three hoops, cut 1050, 1250 and 1400 mm; the third is open, and may have a steel of its own."""
    return {
        "name": "strips",
        "units": "mm",
        "wearer": {"waist": 600, "waist_height": 1000},
        "steel": STEEL | steel,
        "tapes": {"count": 4, "drops": [200, 150, 250]},
        "hoops": [
            {"length": 1000, "join": {"overlap": 50}},
            {"length": 1200, "join": {"overlap": 50}},
            {"length": 1400, "opening": "front", "steel": third or {}},
        ],
        "buying": {"spare": "0 %", "steel": [{"length": "4 m", "width": 10, "thickness": 0.5}]},
    }


def made(data: dict[str, Any]) -> tuple[Report, dict[str, list[dict[str, str]]]]:
    settled, report = hung_design(read_data(data))
    tables = make_sheets(settled, report).tables
    wanted = ("materials.csv", "cutting.csv", "order-of-cutting.csv")
    return report, {name: list(csv.DictReader(StringIO(tables[name].decode()))) for name in wanted}


@pytest.mark.parametrize("key", ["layers", "strands"])
def test_every_bare_strip_is_bought(key: str) -> None:
    """2 x (1050 + 1250 + 1400) mm of one strip, 40 g a metre: two lengths of 4 m, which hold 2350 + 1400 + 0 each."""
    report, tables = made(design({key: 2}))
    steel = [row for row in tables["materials.csv"] if row["material"].startswith("Spring steel")]
    assert [row["material"] for row in steel] == ["Spring steel 10 × 0.5 mm"]
    assert "for hoops 1–3, 2 strips to each" in steel[0]["detail"]
    assert [float(steel[0][key]) for key in ("needed", "to_buy", "weight_kg")] == [7.4, 8.0, 0.296]
    assert report.steel_cut_m == pytest.approx(7.4)
    assert [row["pieces"] for row in tables["cutting.csv"]] == ["2", "2", "2"]
    pieces = [row["piece"] for row in tables["order-of-cutting.csv"] if row["piece"] != "left over"]
    assert sorted(pieces) == ["hoop 1", "hoop 1", "hoop 2", "hoop 2", "hoop 3", "hoop 3"]


def test_a_doubled_hoop_is_cut_from_the_same_coil_as_a_plain_one() -> None:
    """1050 + 1250 + 2 x 1400 mm."""
    _, tables = made(design({}, {"layers": 2}))
    (steel,) = [row for row in tables["materials.csv"] if row["material"].startswith("Spring steel")]
    assert (steel["needed"], steel["weight_kg"]) == ("5.100", "0.2040")
    assert ", 1 or 2 strips to each;" in steel["detail"]


def test_strips_in_one_cover_are_bought_in_it() -> None:
    """1050 + 1250 + 1400 mm of the doubled strip, 80 + 10 g a metre."""
    report, tables = made(design({"layers": 2, "coating": "10 g/m"}))
    (steel,) = [row for row in tables["materials.csv"] if row["material"].startswith("Spring steel")]
    assert steel["material"] == "Spring steel 2 layers of 10 × 0.5 mm"
    assert (steel["needed"], steel["weight_kg"]) == ("3.700", "0.3330")
    assert report.steel_cut_m == pytest.approx(3.7)


def test_a_hoop_too_long_for_every_length_is_told_once() -> None:
    data = design({"layers": 2})
    data["buying"]["steel"] = [{"length": "1.3 m"}]
    settled, report = hung_design(read_data(data))
    with pytest.raises(DesignError, match="is shorter than hoop 3") as fault:
        make_sheets(settled, report)
    assert len(fault.value.problems) == 1
