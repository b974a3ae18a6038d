"""The document as a whole: same bytes each time, embedded fonts, cautions in their places, faults."""

from __future__ import annotations

import csv
import subprocess
import sys
from dataclasses import replace
from io import BytesIO, StringIO
from pathlib import Path

import pdfplumber
import pytest
from made import Page, hung_sample, pages_of, sample, sheets_of, sheets_of_hard
from pdfminer.pdftypes import resolve_all

from cage3d.design.models import Stock
from cage3d.design.read import read
from cage3d.errors import CommandError, DesignError, NotSettledError
from cage3d.report.cautions import wearing_cautions
from cage3d.shape.lay_out import lay_out
from cage3d.sheets import cautions, make_sheets
from cage3d.sheets.assembly.steps import assembly_steps
from cage3d.sheets.making import prepared
from cage3d.sheets.steel import cutting_list
from cage3d.sheets.tapes import tape_sets
from cage3d.sheets.writing import Writing, ranges

INCH = 0.0254
TABLES = {
    "cutting.csv", "order-of-cutting.csv", "steel-marks.csv", "tapes.csv", "tape-marks.csv", "materials.csv",
    "waistband-marks.csv", "draper.csv",
    "fitting-record.csv",
}  # fmt: skip
MAKE_AGAIN = """
import sys
from cage3d.report import measure
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.sheets import make_sheets
from cage3d.design.read import read
settled = settle(lay_out(read(sys.argv[1]), 48))
sys.stdout.buffer.write(make_sheets(settled, measure(settled)).pdf)
"""


def table(name: str, letter: str = "d") -> list[dict[str, str]]:
    text = sheets_of(sample(letter)).tables[name].decode("utf-8")
    return list(csv.DictReader(StringIO(text)))


def page_with(pages: list[Page], heading: str) -> str:
    """All text of the section that begins with this heading, on one line."""
    starts = [number for number, page in enumerate(pages) if page.text.startswith(heading)]
    return " ".join(" ".join(pages[number].text.split()) for number in starts)


def test_the_same_cage_gives_the_same_bytes() -> None:
    settled, report = hung_sample(sample("a"))
    again = make_sheets(settled, report)
    assert again.pdf == sheets_of(sample("a")).pdf
    assert again.tables == sheets_of(sample("a")).tables


def test_another_run_of_the_program_gives_the_same_bytes() -> None:
    root = Path(__file__).parents[2]
    command = [sys.executable, "-c", MAKE_AGAIN, str(sample("a"))]
    done = subprocess.run(command, cwd=root, capture_output=True, check=False, timeout=300)
    assert done.returncode == 0, done.stderr.decode()
    assert done.stdout == sheets_of(sample("a")).pdf


def test_no_scaling_is_asked_for_and_fonts_are_embedded() -> None:
    embedded = set()
    with pdfplumber.open(BytesIO(sheets_of(sample("d")).pdf)) as document:
        wishes = resolve_all(document.doc.catalog["ViewerPreferences"])
        assert wishes["PrintScaling"].name == "None"
        for page in document.pages:
            for font in resolve_all(page.page_obj.resources["Font"]).values():
                assert "FontFile2" in font["FontDescriptor"], font["BaseFont"]
                embedded.add(font["BaseFont"].name.split("+")[-1])
    assert embedded == {"DejaVuSans", "DejaVuSans-Bold"}


def date_of(pdf: bytes) -> str:
    with pdfplumber.open(BytesIO(pdf)) as document:
        assert document.metadata["ModDate"] == document.metadata["CreationDate"]
        return str(document.metadata["CreationDate"])


def test_the_date_is_fixed_or_the_one_that_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    assert date_of(sheets_of(sample("a")).pdf) == "D:20000101000000+00'00'"
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")  # date -u -d @1700000000
    assert date_of(make_sheets(*hung_sample(sample("a"))).pdf) == "D:20231114221320+00'00'"


@pytest.mark.parametrize("seconds", ["yesterday", "1.5", "-1", "9" * 20])
def test_a_date_that_is_none_is_told(monkeypatch: pytest.MonkeyPatch, seconds: str) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", seconds)
    with pytest.raises(CommandError, match=f"SOURCE_DATE_EPOCH: {seconds}: .*seconds since 1970"):
        make_sheets(*hung_sample(sample("a")))


def test_every_letter_is_drawn_in_an_embedded_font() -> None:
    with pdfplumber.open(BytesIO(sheets_of(sample("d")).pdf)) as document:
        names = {char["fontname"].split("+")[-1] for page in document.pages for char in page.chars}
    assert names == {"DejaVuSans", "DejaVuSans-Bold"}


def test_cautions_stand_where_the_hand_does_the_work() -> None:
    pages = pages_of(sheets_of(sample("d")).pdf)
    assert cautions.CUTTING["steel"][1] in page_with(pages, "1 Steel: cutting list")
    assert cautions.IRON.format("coated steel") in page_with(pages, "3 Tapes")
    assert cautions.KINKS["steel"][1] in page_with(pages, "6 Assembly")
    worn = page_with(pages, "7 Fitting record")
    settled, report = hung_sample(sample("d"))
    for _, text in wearing_cautions(settled.cage.design, report, Writing(True).height):
        assert text in worn
    assert all("predictions, not a safety certificate" in page.text for page in pages)


def steps(letter: str) -> dict[str, str]:
    settled, report = hung_sample(sample(letter))
    return {step.title: step.text for step in assembly_steps(prepared(settled.cage, report, None))}


def test_assembly_is_that_of_this_cage() -> None:
    egg = steps("d")
    assert "Open: thread from the back, end at centre front" in egg["Thread hoops 1, 2"]
    assert "from hoop 3 down to hoop 6. Closed: thread from the front" in egg["Thread hoops 3–6"]
    assert "both ends meet at centre back" in egg["Thread hoops 3–6"]
    design = read(sample("d"))
    tied = [text for title, text in egg.items() if title.startswith("Tie ")]
    assert "Tie each with a bow" in egg["The 2 ties"]
    assert len(tied) == len(design.ties)
    for text, tie in zip(tied, design.ties, strict=True):
        assert (
            f"From {tie.from_} to {tie.to}, behind her: {Writing(True).full(tie.length)} between the steels"
            in text
        )
    first = [title.split()[0] for title in egg]
    places = [
        first.index(word) for word in ("Waistband", "Thread", "Tie", "Laced", "Hang", "Joins", "Casings")
    ]
    assert places == sorted(places)
    assert "Stitch each of the 60 casings" in egg["Casings"]
    assert "Sew the casings over tips shut" in egg["Casings"]


def test_a_cage_without_openings_or_ties_is_told_nothing_of_them() -> None:
    plain = steps("a")
    names = ["Waistband", "Before threading", "Thread hoops 1–4", "Hang and balance", "Joins", "Casings"]
    assert list(plain) == names
    assert "Open" not in plain["Thread hoops 1–4"]
    assert "ties" not in plain["Hang and balance"]
    assert "tips" not in plain["Casings"]


def test_the_steps_stand_on_the_page() -> None:
    words = page_with(pages_of(sheets_of(sample("d")).pdf), "6 Assembly")
    assert [title for title in steps("d") if f"{title}." not in words] == []


def test_heights_to_check_are_those_of_the_report() -> None:
    _, report = hung_sample(sample("d"))
    words = page_with(pages_of(sheets_of(sample("d")).pdf), "6 Assembly")
    for hoop in report.hoops:
        for height in (hoop.height_front_m, hoop.height_left_m, hoop.height_back_m, hoop.height_right_m):
            assert Writing(True).eighths(height) in words
    rows = table("fitting-record.csv")
    assert [float(row["predicted_height_mm"]) for row in rows] == pytest.approx(
        [point.z_m * 1e3 for hoop in report.hoops for point in hoop.at_tapes], abs=0.051
    )
    assert {row["measured_height_in"] for row in rows} == {""}


def test_the_cutting_list_is_on_its_page() -> None:
    words = page_with(pages_of(sheets_of(sample("d")).pdf), "1 Steel: cutting list")
    for cut in cutting_list(lay_out(read(sample("d")))):
        assert Writing(True).figure(cut.cut) in words


def test_tables_hold_the_same_figures() -> None:
    assert set(sheets_of(sample("d")).tables) == TABLES
    design = read(sample("d"))
    cuts = cutting_list(lay_out(design))
    assert [float(row["cut_mm"]) for row in table("cutting.csv")] == pytest.approx(
        [cut.cut * 1e3 for cut in cuts], abs=0.051
    )
    assert table("cutting.csv")[0]["cut_written_in"] == "51 1/2"
    plan = table("order-of-cutting.csv")
    bought = {row["length"]: float(row["bought_mm"]) for row in plan}
    assert sum(float(row["piece_mm"]) for row in plan) == pytest.approx(sum(bought.values()), abs=1.0)
    assert len(table("steel-marks.csv")) == sum(len(cut.marks) for cut in cuts)
    assert [int(row["tape"]) for row in table("tapes.csv")] == list(range(1, 11))
    assert len(table("tape-marks.csv")) == sum(len(one.casings) for one in tape_sets(lay_out(design)))


def test_prices_are_added_up_and_missing_ones_left_out() -> None:
    made = sheets_of_hard()
    rows = {row["material"]: row for row in csv.DictReader(StringIO(made.tables["materials.csv"].decode()))}
    connectors = rows["Lap connectors"]
    # Twelve and a tenth spare, whole ones: fourteen at 0.60.
    assert (connectors["needed"], connectors["to_buy"], connectors["cost"]) == ("12", "14", "8.40")
    ribbon = rows["Ribbon for the tapes"]
    assert float(ribbon["cost"]) == pytest.approx(float(ribbon["to_buy"]) / 0.9144 * 1.25, abs=0.006)
    assert rows["Thread"]["cost"] == ""
    total = sum(float(row["cost"]) for row in rows.values() if row["cost"])
    words = page_with(pages_of(made.pdf), "5 Materials")
    assert f"All that has a price {total:.2f}" in words
    assert "Cost, EUR" in words


def test_an_unknown_paper_is_refused_with_the_list() -> None:
    with pytest.raises(CommandError) as fault:
        make_sheets(*hung_sample(sample("a")), "a5")
    assert fault.value.problems[0].try_this == "Choose one of a4, letter, a3"


def test_an_unsettled_cage_gives_no_sheets() -> None:
    settled, report = hung_sample(sample("a"))
    with pytest.raises(NotSettledError):
        make_sheets(replace(settled, stable=False), report)


def test_stock_shorter_than_a_hoop_stops_the_sheets() -> None:
    settled, report = hung_sample(sample("a"))
    buying = settled.cage.design.buying.model_copy(update={"steel": (Stock(length=1.5),)})
    design = settled.cage.design.model_copy(update={"buying": buying})
    with pytest.raises(DesignError, match="hoop 4, which is cut 76 in long"):
        make_sheets(replace(settled, cage=replace(settled.cage, design=design)), report)


def test_figures_are_set_with_real_fractions_and_signs() -> None:
    inches = Writing(inches=True)
    assert inches.figure(42.1875 * INCH) == "42³⁄₁₆"
    assert inches.figure(0.5 * INCH) == "¹⁄₂"
    assert inches.figure(-1.5 * INCH) == "−1¹⁄₂"
    assert inches.eighths(42.20 * INCH) == "42¹⁄₄"
    assert Writing(inches=False).full(1.0716) == "1072 mm"
    assert ranges((1, 2, 3, 5, 6, 9)) == "1–3, 5, 6, 9"
