"""A cage whose hoops are not of steel is told, drawn and made without a word of steel."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest
from calling import SMALL
from made import hung_design, pages_of

from cage3d.design.hoop_materials import one_hoop, one_stuff
from cage3d.design.models import Design
from cage3d.design.read import read_text, text_as_written
from cage3d.design.rules import remarks
from cage3d.errors import DesignError
from cage3d.live.controls import controls_of, groups_json
from cage3d.miniature.process import parse_scale, process_of
from cage3d.miniature.sections import sections_of, thickened
from cage3d.page.compare import difference_rows
from cage3d.page.curves import curves_svg
from cage3d.page.page import comparison_page, page_html
from cage3d.report import Report, with_certainty
from cage3d.report.how_sure import how_sure
from cage3d.report.why_not import why_not
from cage3d.results.varied import varied_csv
from cage3d.settle import SettledCage
from cage3d.sheets import make_sheets
from cage3d.study.sweeping.ranges import steps_of
from cage3d.study.sweeping.sweep import Sweep
from cage3d.study.sweeping.varied_view import key_lines
from cage3d.study.sweeping.vary import Varied, vary
from cage3d.study.truing.causes import HOOP, Cause
from cage3d.study.truing.mending import Move
from cage3d.study.truing.words import move_in_words

STRIP = "{width: 12 mm, thickness: 0.6 mm}"
CANE = SMALL.replace(STRIP, "{material: round cane, diameter: 6 mm}").replace("Small", "Cane")
OF_BOTH = CANE.replace(
    "{length: 62}", "{length: 62, steel: {material: plastic hose, diameter: 12 mm, wall: 1.5 mm}}"
).replace("Cane", "Mixed")
SCRIPT = re.compile(r"<(script|style)\b.*?</\1>", re.DOTALL)
STEEL = re.compile(r".{0,40}steel.{0,40}", re.IGNORECASE)
KEY = "written under buying: steel"  # the design's own key, whatever its hoops are of


@cache
def hung(text: str) -> tuple[SettledCage, Report]:
    return hung_design(read_text(text, "small.yaml"))


def design_of(text: str) -> Design:
    return hung(text)[0].cage.design


def said_in(page: bytes) -> str:
    return SCRIPT.sub("", page.decode())


def steels_in(words: str) -> list[str]:
    return STEEL.findall(words.replace(KEY, ""))


@cache
def varied(text: str) -> Varied:
    design, data = text_as_written(text, "small.yaml")
    return vary(Sweep(design, data, steps_of(design, ["hoop 2 length", "62..63", "by", "1"])), nodes=24)


def test_what_one_hoop_is_called() -> None:
    assert [one_hoop(stuff) for stuff in ("steel", "cane", "cane and steel")] == ["steel", "hoop", "hoop"]
    assert [one_stuff(stuff) for stuff in ("steel", "cane", "cane and steel")] == ["steel", "cane", "hoop"]
    assert one_stuff("cane and steel", "hoops") == "hoops"


@pytest.mark.parametrize("text", [CANE, OF_BOTH])
def test_the_page_that_is_sent(text: str) -> None:
    page = said_in(page_html(*hung(text)))
    assert not steels_in(page)
    assert f"Triangle: {'cane' if text == CANE else 'hoop'} bent too sharply." in page


def test_two_cages_side_by_side() -> None:
    """Of one material its name stands before the length; of two there is one word for both."""
    names = [difference_rows(hung(CANE)[1], hung(other)[1])[5][0] for other in (CANE, SMALL)]
    assert names == ["Cane, finished", "Hoops, finished"]
    assert difference_rows(hung(SMALL)[1], hung(SMALL)[1])[5][0] == "Steel, finished"
    assert not steels_in(said_in(comparison_page((*hung(CANE), ()), (*hung(OF_BOTH), ()))))


@pytest.mark.parametrize("text", [CANE, OF_BOTH])
def test_sheets_and_tables(text: str) -> None:
    sheets = make_sheets(*hung(text))
    assert not steels_in(" ".join(" ".join(page.text.split()) for page in pages_of(sheets.pdf)))
    for name, table in sheets.tables.items():
        assert not steels_in(f"{name} {table.decode()}"), name
    assert "hoop-marks.csv" in sheets.tables
    assert sheets.tables["cutting.csv"].startswith(b"hoop,material,finished")
    assert b"hoop_middle_mm" in sheets.tables["tape-marks.csv"]


def test_tables_of_steel_keep_their_names() -> None:
    tables = make_sheets(*hung(SMALL)).tables
    assert "steel-marks.csv" in tables
    assert tables["cutting.csv"].startswith(b"hoop,steel,finished")
    assert b",steel_mm," in tables["tape-marks.csv"]


@pytest.mark.parametrize(("text", "bent"), [(CANE, "Cane"), (OF_BOTH, "Material"), (SMALL, "Steel")])
def test_curves_and_table_of_a_sweep(text: str, bent: str) -> None:
    found = varied(text)
    drawn = curves_svg(found)
    assert f">{bent} of each hoop bent, of what it bears" in drawn
    if text != SMALL:
        assert not steels_in(drawn)
        assert not steels_in(varied_csv(found).decode())
        assert not steels_in(" ".join(key_lines(found, None)))
        assert any("before it cracks" in line for line in key_lines(varied(CANE), None))


def test_sliders_of_a_fitting() -> None:
    design, data = text_as_written(CANE, "small.yaml")
    groups = groups_json(controls_of(design, data), design.stuff)
    assert "Cane" in [group["name"] for group in groups]
    assert "Tape from cane to cane; hoop 1 from the waistband" in [group["words"] for group in groups]
    assert not steels_in(" ".join(f"{group['name']} {group['words']}" for group in groups))


@pytest.mark.parametrize(("text", "stuff"), [(CANE, "cane"), (OF_BOTH, "hoops")])
def test_why_there_is_no_rest(text: str, stuff: str) -> None:
    """A cage that would not settle, and one that settled where it does not stay."""
    settled = hung(text)[0]
    restless = why_not(replace(settled, settled=False), "small.yaml").try_this
    assert restless.endswith("more weight than the cane bears" if text == CANE else "than the hoop bears")
    assert why_not(replace(settled, stable=False), "small.yaml").try_this.startswith(
        f"Give it stiffer {stuff}, "
    )


@pytest.mark.parametrize(("text", "lies"), [(CANE, "cane that lies"), (OF_BOTH, "a hoop that lies")])
def test_what_the_doubt_comes_from(text: str, lies: str) -> None:
    settled, report = hung(text)
    report = with_certainty(report, settled)
    assert report.certainty is not None
    told = how_sure(replace(report, certainty=replace(report.certainty, largest="casings")))
    assert f"from {lies} loosely in its casings" in told[0]


def test_what_is_printed_thicker() -> None:
    """6 mm are 0.75 mm at 1:8, and the hose's 12 mm 1.5 mm."""
    scale, process = parse_scale("1:8"), process_of("filament")
    design = design_of(OF_BOTH)
    told = thickened(design, scale, process, sections_of(design, scale, process))
    assert [line[:27] for line in told[:2]] == ["Cane of hoop 1: 0.75 x 0.75", "Plastic of hoop 2: 1.50 x 1"]


def test_what_is_joined_into_a_hoop() -> None:
    longer = Move(Cause(HOOP, hoop=0), 0.0254)
    assert move_in_words(design_of(CANE), longer) == "Join 1 in of cane into hoop 1"


def test_what_a_rule_says() -> None:
    with pytest.raises(DesignError, match="the cane would rest above its casing"):
        read_text(CANE.replace("{length: 52}", "{length: 52, rest: 2 in}"), "small.yaml")
    tie = "ties: [{from: hoop 1 tape 1, to: hoop 1 tape 4, length: 40}]\n"
    assert "longer than the cane of hoop 1" in remarks(read_text(CANE + tie, "small.yaml"))[0].why
