"""cage3d grade, as a workroom uses it."""

from __future__ import annotations

import csv
import json
import os
from io import StringIO
from pathlib import Path

import pytest
from calling import SMALL, Caller

from cage3d import flow
from cage3d.design.read import read
from cage3d.errors import CageError
from cage3d.orders.run import Ask, make_order
from cage3d.report import measure
from cage3d.results import Result
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.units.kinds import INCH
from cage3d.write.folder import Folder

# 30 and 24 round: rings of 52 and 62 in with the usual lap of 2 in are cut 54 and 64 in, 236 in = 5.994 m for two.
BUYING = """\
buying:
  currency: EUR
  spare: 0
  steel: [{length: 3.3 m, price: 10}]
  prices: {buckle: 3}
  minutes: {hoop: 12, casing: 3}
  hour: 20
  contingency: 10 %
"""
TWO = "code,role,waist,waist breadth,waist depth\nW-24,Maid,24,8,8\nW-30,Cook,30,8,8\n"
ALONE = "--designs-only"


@pytest.fixture
def two(cage3d: Caller) -> Caller:
    cage3d.write(SMALL + BUYING)
    cage3d.write(TWO, "two.csv")
    return cage3d


def table(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(path.read_text("utf-8"))))


def test_two_wearers_and_one_order(two: Caller):
    """Steel: 3.3 m hold 64 and 64 or 64 and 54 in; 3251 and 2743 mm. Work: 4 hoops and 24 casings, 2 h, 40 EUR."""
    said = two("grade", "small.yaml", "two.csv", "-o", "out", ALONE)
    assert (said.status, said.err) == (0, "")
    out = two.folder / "out"
    assert {path.name for path in out.iterdir()} == {
        "w-24", "w-30", "order.pdf", "labels.pdf", "order.json", "tables", "cage3d-made.json",
    }  # fmt: skip
    assert "One length for all: hoop 1 52 in, hoop 2 62 in." in said.out
    told = json.loads((out / "order.json").read_text("utf-8"))
    assert [wearer["code"] for wearer in told["wearers"]] == ["W-24", "W-30"]
    (steel,) = told["steel"]
    assert steel["cut_m"] == pytest.approx(2 * (54 + 64) * INCH)
    assert steel["bought_m"] == pytest.approx(2 * 3.3, abs=2 * INCH / 16)
    assert steel["proved_least"]
    pieces = sorted((one["code"], one["hoop"]) for bar in steel["lengths"] for one in bar["pieces"])
    assert pieces == [("W-24", 1), ("W-24", 2), ("W-30", 1), ("W-30", 2)]
    quote = told["quote"]
    assert (quote["hours"], quote["labour"]) == (pytest.approx(4 * 0.2 + 24 * 0.05), 40.0)
    assert quote["materials"] == pytest.approx(2 * 10 + 2 * 3)
    assert quote["total"] == pytest.approx(1.1 * (26 + 40))
    (first, second) = table(out / "tables" / "who-gets-what.csv")
    assert (first["wearer"], first["role"], first["hoops_in"]) == ("W-24", "Maid", "52 · 62")
    assert (second["folder"], second["band_cut_in"]) == ("w-30", "36")


def test_her_design_keeps_remarks_and_is_what_check_reads(two: Caller):
    two("grade", "small.yaml", "two.csv", "-o", "out", ALONE)
    text = (two.folder / "out" / "w-30" / "small-cage.yaml").read_text("utf-8")
    assert text.startswith("# Graded for W-30 from small.yaml.\nname: Small cage\n")
    assert "code: W-30" in text
    assert "waist: 30" in text
    hers, own = (
        measure(settle(lay_out(read(Path(name))))) for name in ("out/w-30/small-cage.yaml", "small.yaml")
    )
    assert hers.hem.lowest_m == pytest.approx(own.hem.lowest_m, abs=INCH / 8)
    assert hers.trusted


def test_what_is_not_written_stands_open(cage3d: Caller):
    cage3d.write()
    cage3d.write(TWO, "two.csv")
    said = cage3d("grade", "small.yaml", "two.csv", "-o", "out", ALONE)
    assert (
        "Open: materials, none of which has a price, work, for which no minutes are written and a contingency."
        in " ".join(said.out.split())
    )
    told = json.loads((cage3d.folder / "out" / "order.json").read_text("utf-8"))
    assert (told["quote"]["hours"], told["quote"]["total"]) == (None, None)


def test_a_wearer_who_cannot_be_served_stands_with_her_reason(two: Caller):
    two.write(TWO + "W-60,,60,8,8\n", "two.csv")
    said = two("grade", "small.yaml", "two.csv", "-o", "out", ALONE)
    assert said.status == 1
    assert "For 2 wearers; none for W-60" in said.out
    assert "two.csv:4: W-60" in said.err
    assert "shorter than the waist" in said.err
    assert not (two.folder / "out" / "w-60").exists()
    told = json.loads(two("grade", "small.yaml", "two.csv", "-o", "out", ALONE, "--json").out)
    assert [one["code"] for one in told["refused"]] == ["W-60"]
    assert told["problems"][0]["line"] == 4


def test_a_range_of_waists_in_a_folder_beside_the_design(cage3d: Caller):
    cage3d.write()
    said = cage3d("grade", "small.yaml", "--waists", "24..28 by 4", ALONE)
    assert said.status == 0
    assert (cage3d.folder / "small-order" / "waist-28-in" / "small-cage.yaml").exists()


def test_wearers_are_told_in_the_units_of_the_design(cage3d: Caller):
    """26 in are 66 cm; sheets and tables for the bench stay in millimetres."""
    cage3d.write(
        "name: Small\nunits: cm\nwearer: {waist: 66, waist_height: 105.5}\nsteel: {width: 12 mm, thickness: 0.6 mm}\n"
        "tapes: {count: 6, drops: [23, 20]}\nhoops: [{length: 132}, {length: 158}]\n"
    )
    cage3d.write("code,waist\nW-1,66\nW-2,70.5\n", "two.csv")
    said = cage3d("grade", "small.yaml", "two.csv", "-o", "out", ALONE)
    assert said.status == 0, said.err
    assert "Wearers (cm; off: " in said.out
    rows = [line.split() for line in said.out.splitlines() if line.strip().startswith("W-")]
    assert [(row[0], row[1], row[2]) for row in rows] == [("W-1", "66", "-"), ("W-2", "70.5", "-")]
    assert rows[0][3] == "23"
    assert 50 < float(rows[0][4]) < 70


@pytest.mark.parametrize(
    ("arguments", "status", "words"),
    [
        (["small.yaml"], 2, "one of the two"),
        (["small.yaml", "two.csv", "--waists", "24..36 by 2"], 2, "one of the two"),
        (["small.yaml", "--waists", "36..24 by 2"], 2, "runs backwards"),
        (["small.yaml", "none.csv"], 1, "no such file"),
        (["none.yaml", "two.csv"], 1, "no such file"),
        (["small.yaml", "two.csv", "--to", "3 kg"], 2, "--to"),
        (["small.yaml", "two.csv", "--paper", "a9"], 2, "a9"),
        (["small.yaml", "small.yaml"], 1, "no such column"),
    ],
)
def test_what_cannot_be_asked(two: Caller, arguments: list[str], status: int, words: str):
    said = two("grade", *arguments, "-o", "out", ALONE)
    assert said.status == status
    assert words in said.err
    assert not (two.folder / "out").exists()


def test_nothing_of_hers_is_written_over(two: Caller):
    """Files in the way are told before any work, all of them; a file where a folder should be, too."""
    out = two.folder / "out"
    (out / "w-24").mkdir(parents=True)
    (out / "order.pdf").write_text("mine", encoding="utf-8")
    (out / "w-24" / "small-cage.yaml").write_text("mine", encoding="utf-8")
    (out / "w-30").write_text("mine", encoding="utf-8")
    said = two("grade", "small.yaml", "two.csv", "-o", "out", ALONE)
    assert said.status == 1
    assert all(name in said.err for name in ("order.pdf", "small-cage.yaml", "is a file, not a folder"))
    assert (out / "order.pdf").read_text("utf-8") == (out / "w-30").read_text("utf-8") == "mine"
    (out / "w-30").unlink()
    assert two("grade", "small.yaml", "two.csv", "-o", "out", ALONE, "--force").status == 0


def test_a_run_that_was_broken_off_goes_on(two: Caller, monkeypatch: pytest.MonkeyPatch):
    """Her folder is whole or not there; what is whole already is not made again; a changed one is."""
    put, folder = flow.put_results, Folder(two.folder / "out")
    ask = Ask(
        parts=[Result("words", lambda _settled, _report: {"words.txt": b"-"}, ("words.txt",), foreseen=False)]
    )

    def killed(settled, *more):
        if settled.cage.design.wearer.code == "W-30":
            raise KeyboardInterrupt
        return put(settled, *more)

    monkeypatch.setattr(flow, "put_results", killed)
    with pytest.raises(KeyboardInterrupt):
        make_order(Path("small.yaml"), Path("two.csv"), None, folder, ask)
    assert sorted(os.listdir(folder.path)) == ["w-24"]
    assert sorted(os.listdir(folder.path / "w-24")) == [
        "cage3d-made.json", "small-cage.yaml", "words.txt",
    ]  # fmt: skip
    monkeypatch.setattr(flow, "put_results", put)
    done = make_order(Path("small.yaml"), Path("two.csv"), None, folder, ask)
    assert [str(note) for note in done.notes] == [f"{folder.path / 'w-24'}: made already, stays as it is"]
    assert not any("w-24" in str(path) for path in done.written)
    assert (folder.path / "order.pdf").exists()
    two.write(TWO.replace("W-24,Maid,24", "W-24,Maid,25").replace("W-30,", "W-31,"), "two.csv")
    done = make_order(Path("small.yaml"), Path("two.csv"), None, folder, ask)
    assert any("w-24" in str(path) for path in done.written)
    assert done.notes == [f"{folder.path / 'w-30'}: of an earlier list, stays as it is"]


def test_steel_that_is_too_short_is_told_by_whose_hoop_it_is(two: Caller):
    two.write(SMALL + BUYING.replace("3.3 m", "1.5 m"))
    said = two("grade", "small.yaml", "two.csv", "-o", "out", ALONE)
    assert said.status == 1
    assert "W-30's hoop 2" in said.err
    assert (two.folder / "out" / "w-30" / "small-cage.yaml").exists()
    assert not (two.folder / "out" / "order.pdf").exists()


def test_when_nobody_can_be_served_there_is_no_order(two: Caller):
    two.write("code,waist\nA,60\n", "two.csv")
    with pytest.raises(CageError):
        make_order(Path("small.yaml"), Path("two.csv"), None, Folder(two.folder / "x"), Ask(paper="a9"))
    said = two("grade", "small.yaml", "two.csv", "-o", "out", ALONE)
    assert (said.status, said.out) == (1, "")
    assert not (two.folder / "out").exists()
