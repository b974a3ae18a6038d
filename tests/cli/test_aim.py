"""cage3d aim, as a maker uses it."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from calling import SMALL, Caller

from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out

INCH = 0.0254
WANTED = (
    SMALL.replace("  - {length: 52}", "  - {length: 52}   # upper")
    + "wanted: [{hoop: 2, side_to_side: 19.1}]\n"
)


def inches(text: str) -> float:
    """Of a length as makers write it: 60 3/8."""
    return float(sum(Fraction(part) for part in text.split()))


def write(cage3d: Caller, text: str, name: str = "small.yaml") -> None:
    (cage3d.folder / name).write_text(text, encoding="utf-8")


def test_a_round_cage_gets_the_hoop_of_its_girth(cage3d: Caller):
    """19.1 in across is 60.0 in round; on six tapes the hoop is a circle to 1/8 in, and that is met to 1/8 in."""
    write(cage3d, WANTED)
    said = cage3d("aim", "small.yaml", "-o", "new.yaml", "--keep", "tape", "--keep", "hoop 1")
    assert said.status == 0
    assert "Reached" in said.out
    assert re.search(r"As people sew: heights ±\d+/\d+ in.*, nine times in ten\.", " ".join(said.out.split()))
    new = (cage3d.folder / "new.yaml").read_text("utf-8")
    changed = [
        (old, now) for old, now in zip(WANTED.splitlines(), new.splitlines(), strict=True) if old != now
    ]
    ((old, now),) = changed
    assert old == "  - {length: 62}"
    length = re.fullmatch(r"  - \{length: (.+)\}", now)
    assert length is not None
    assert inches(length[1]) == pytest.approx(60.0, abs=np.pi * (1 / 8 + 1 / 8))
    assert (inches(length[1]) * 8).is_integer()
    assert (cage3d.folder / "new.svg").read_text("utf-8").startswith("<svg")


def test_what_is_said_is_what_check_says_of_the_new_file(cage3d: Caller):
    write(cage3d, WANTED)
    told = json.loads(cage3d("aim", "small.yaml", "-o", "new.yaml", "--json").out)
    checked = json.loads(cage3d("check", "new.yaml", "--json").out)
    (figure,) = told["figures"]
    assert figure["settled_m"] == pytest.approx(checked["hoops"][1]["width_side_side_m"], abs=1e-7)
    assert told["reached"] is True
    assert told["written"] == ["new.yaml", "new.svg"]


def test_a_table_in_place_of_the_design_own_words(cage3d: Caller):
    """A spreadsheet's file: semicolons, decimal commas in cells, an empty cell."""
    write(cage3d, SMALL)
    write(cage3d, "Hoop;Width;Height\n2;48,5 cm;\n", "want.csv")
    said = cage3d("aim", "small.yaml", "-o", "new.yaml", "--wanted", "want.csv", "--to", "1 mm")
    assert said.status == 0
    length = re.search(r"length: (\S+ ?\S*)}\nhem", (cage3d.folder / "new.yaml").read_text("utf-8"))
    assert length is not None
    assert float(length[1].split()[0]) * INCH == pytest.approx(0.485 * 3.14159265, abs=1e-3)


def test_not_reached_has_a_status_of_its_own_and_says_why(cage3d: Caller):
    """Nothing but lengths of tapes is free: a ring of 62 in does not become 25 in wide."""
    write(cage3d, SMALL + "wanted: [{hoop: 2, width: 25}]\n")
    said = cage3d("aim", "small.yaml", "-o", "new.yaml", "--keep", "length")
    assert said.status == 4
    assert "Not reached" in said.out
    assert "Hoop 2 from side to side cannot be made wider" in said.out
    assert (cage3d.folder / "new.yaml").exists()


@pytest.mark.parametrize(
    ("more", "options", "status", "words"),
    [
        ("", [], 1, "does not say what is wanted"),
        ("wanted: [{hoop: 3, width: 20}]", [], 1, "there is no hoop 3"),
        ("wanted: [{hoop: 2}]", [], 1, "no figure of this hoop is asked for"),
        ("wanted: [{hoop: 2, width: 20}, {hoop: 2, height: 20}]", [], 1, "asked for twice"),
        ("wanted: [{hoop: 2, height: 45}]", [], 1, "a hoop hangs below the waist"),
        ("wanted: [{hoop: 2, height: 30}, {hoop: 1, front: 29}]", [], 1, "would hang above hoop 1"),
        ("wanted: [{hoop: 2, width: 20, side_to_side: 20, front_to_back: 21}]", [], 1, "width says nothing"),
        ("wanted: [{hoop: 2, wide: 20}]", [], 1, "Did you mean width?"),
        ("wanted: [{hoop: 2, width: 20}]", ["--keep", "hop 2"], 2, "Write hoop 2"),
        ("wanted: [{hoop: 2, width: 20}]", ["--free", "tie 1"], 2, "no such length, drop or tie"),
        ("wanted: [{hoop: 2, width: 20}]", ["--keep", "hoop", "--keep", "tape"], 2, "nothing is left to change"),
        ("wanted: [{hoop: 2, width: 20}]", ["--to", "3 kg"], 2, "--to"),
        ("wanted: [{hoop: 2, width: 20}]", ["--within", "0 mm"], 2, "nobody cuts to so little"),
        ("wanted: [{hoop: 2, width: 20}]", ["--wanted", "none.csv"], 1, "none.csv"),
    ],
)  # fmt: skip
def test_what_cannot_be_asked(cage3d: Caller, more: str, options: list[str], status: int, words: str):
    write(cage3d, f"{SMALL}{more}\n")
    said = cage3d("aim", "small.yaml", "-o", "new.yaml", *options)
    assert said.status == status
    assert words in " ".join(said.err.split())
    assert not (cage3d.folder / "new.yaml").exists()


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ("hoop,wide\n2,20\n", "no column of wanted figures"),
        ("width\n20\n", "the column hoop is missing"),
        ("hoop,width\n", "asks for nothing"),
        ("hoop,width\n1,16\n7,20\n", "want.csv:3: hoop 7: there is no hoop 7"),
        ("hoop,width\n2,x\n", "want.csv:2: width x: this is not a length"),
    ],
)
def test_faults_of_a_table_are_told_by_its_line(cage3d: Caller, table: str, words: str):
    write(cage3d, SMALL)
    write(cage3d, table, "want.csv")
    said = cage3d("aim", "small.yaml", "-o", "new.yaml", "--wanted", "want.csv")
    assert said.status == 1
    assert words in " ".join(said.err.split())


def test_no_file_is_written_over(cage3d: Caller):
    write(cage3d, WANTED)
    write(cage3d, "mine", "new.svg")
    said = cage3d("aim", "small.yaml", "-o", "new.yaml")
    assert said.status == 1
    assert "there already" in said.err
    assert (cage3d.folder / "new.svg").read_text("utf-8") == "mine"
    assert "no name of a design" in cage3d("aim", "small.yaml", "-o", "new.txt").err


def test_the_new_design_settles(cage3d: Caller):
    from cage3d.design.read import read

    write(cage3d, SMALL + "wanted: [{hoop: 1, height: 34}, {hoop: 2, height: 27, width: 19}]\n")
    assert cage3d("aim", "small.yaml", "-o", "new.yaml").status == 0
    settled = settle(lay_out(read(Path("new.yaml"))))
    assert settled.trusted
    assert settled.positions[settled.cage.connectivity.crossing[1], 2] == pytest.approx(27 * INCH, abs=0.0035)


OUTLINE = "view,across,height\nfront,-5,41\nfront,5,41\nfront,10,18\nfront,-10,18\nfront,-5,41\n"


def test_an_outline_is_aimed_at(cage3d: Caller):
    """From 10 in wide at 41 in to 20 in wide at 18 in: 10/23 of an inch more with each inch down."""
    write(cage3d, SMALL)
    write(cage3d, OUTLINE, "shape.csv")
    said = cage3d("aim", "small.yaml", "-o", "new.yaml", "--outline", "shape.csv", "--json")
    assert said.status == 0
    told = {one["figure"]: one["settled_m"] / INCH for one in json.loads(said.out)["figures"]}
    assert told["hoop 2 height left"] == pytest.approx(18.0, abs=1 / 8)
    assert told["hoop 2 side to side"] == pytest.approx(20.0, abs=1 / 8)
    level = (told["hoop 1 height left"] + told["hoop 1 height right"]) / 2.0
    assert told["hoop 1 side to side"] == pytest.approx(10.0 + (41.0 - level) * 10 / 23, abs=2 / 8)
    assert "wanted: the outline" in (cage3d.folder / "new.svg").read_text("utf-8")


@pytest.mark.parametrize(
    ("options", "why"),
    [
        (["--scale", "1:10"], "there is no drawing that has it"),
        (["--outline", "shape.csv", "--scale", "1:10"], "a table of points is at full size"),
        (["--outline", "shape.csv", "--scale", "ten"], "this is no scale of a drawing"),
        (["--outline", "other.csv"], "there is no such file"),
        (["--outline", "shape.PNG"], "Draw it as SVG, or write its corners as CSV"),
    ],
)
def test_an_outline_wrongly_asked_for(cage3d: Caller, options: list[str], why: str):
    write(cage3d, SMALL)
    write(cage3d, OUTLINE, "shape.csv")
    said = cage3d("aim", "small.yaml", "-o", "new.yaml", *options)
    assert said.status in (1, 2)
    assert why in said.err
    assert not (cage3d.folder / "new.yaml").exists()
