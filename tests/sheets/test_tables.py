"""The tables as CSV, as a spreadsheet takes them."""

from __future__ import annotations

import csv
from io import StringIO

import pytest
from made import SAMPLES, sheets_of

from cage3d.sheets.csv_writing import as_csv, plain

FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")  # OWASP, "CSV injection"


def cells(table: bytes) -> list[str]:
    return [cell for row in csv.reader(StringIO(table.decode(), newline="")) for cell in row]


@pytest.mark.parametrize(
    "evil", ["=1+1", "+A1", "-A1", "-1+2", "@SUM(A1)", "\t=1", "\r=1", " =1", "＝1+1", "+-3"]
)
def test_a_formula_becomes_text(evil: str) -> None:
    assert cells(as_csv([evil], [[evil]])) == [f"'{evil}"] * 2


@pytest.mark.parametrize("harmless", ["-2.5", "+3", "-0,75", "3 3/8", "hoop 1", "a=b", ""])
def test_figures_and_words_stay(harmless: str) -> None:
    assert cells(as_csv(["head"], [[harmless]])) == ["head", harmless]


def test_a_whole_number_and_its_fraction_stay_two() -> None:
    assert plain("doubled, 1¹⁄₄ in deep") == "doubled, 1 1/4 in deep"
    assert plain("long ³⁄₁₆ in") == "long 3/16 in"


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_no_table_of_a_sample_holds_a_formula(path) -> None:
    for table in sheets_of(path).tables.values():
        for cell in cells(table):
            if cell.startswith(FORMULA_SIGNS):
                float(cell)
