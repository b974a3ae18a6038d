"""The fitting record as spreadsheets give it back, and what is wrong with it, line by line."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from calling import SMALL
from settled import sample_path

from cage3d.backward import read_record
from cage3d.design.models import Design
from cage3d.design.read import read, read_text
from cage3d.errors import CageError
from cage3d.study.truing.record import Record, record_print

INCH = 0.0254
HEAD = "hoop,tape,side,measured_height_in,tape_above_feels,measured_side_to_side_in,design\n"


def small() -> Design:
    """Six tapes and two hoops: height of hoop h at tape t is figure 6 (h - 1) + t - 1, widths follow from 12."""
    return read_text(SMALL, "small.yaml")


def record(tmp_path: Path, text: str | bytes) -> Record:
    file = tmp_path / "filled.csv"
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_record(file, small())


def faults(tmp_path: Path, text: str | bytes) -> list[str]:
    with pytest.raises(CageError) as found:
        record(tmp_path, text)
    return [str(problem).replace(f"{tmp_path}/", "") for problem in found.value.problems]


def test_what_is_filled_in_is_read(tmp_path: Path) -> None:
    """Half filled, rows in another order, a column of her own, blanks, a fraction, a unit of its own in a cell."""
    text = "Tape, Hoop ,hers,Measured_Height_in,tape_above_feels\n"
    text += "5,2,x, 24 1/2 ,Loose\n1,1,,32.25,\n2,1,,80 cm,taut\n3,1,,,\n"
    found = record(tmp_path, text)
    assert found.readings.places.tolist() == [0, 1, 10]
    assert found.readings.values == pytest.approx([32.25 * INCH, 0.80, 24.5 * INCH])
    assert found.readings.felt.tolist() == [1, 10]
    assert found.readings.loose.tolist() == [False, True]
    assert (2, 0) in found.heights_missing
    assert len(found.heights_missing) == 9


def test_widths_stand_in_any_row_of_their_hoop(tmp_path: Path) -> None:
    found = record(tmp_path, HEAD + "1,1,L,,,16 1/2,\n2,4,R,,,19 3/4,\n")
    assert found.readings.places.tolist() == [12, 14]
    assert found.readings.values == pytest.approx([16.5 * INCH, 19.75 * INCH])


@pytest.mark.parametrize(
    "text",
    [
        "hoop;tape;measured_height_in\r\n1;1;32,25\r\n",
        "hoop\ttape\tmeasured_height_in\n1\t1\t32,25\n",
        "\ufeffhoop,tape,measured_height_in\n1,1,32.25\n",
        "sep=;\nhoop;tape;measured_height_in\n1;1;32,25\n",
        "hoop,tape,measured_height_in\nhoop 1,1.0,32 1/4\n",
        "hoop,tape,measured_height_cm\n1,1,81.915\n",
        "hoop,tape,measured height\n1,1,32 1/4\n",
        "hoop,tape,measured_height_in\n1,1,32¼\n",
        'hoop,tape,measured_height_in\n1,1,"32 1/4"""\n',
    ],
)
def test_every_spreadsheet(tmp_path: Path, text: str) -> None:
    assert record(tmp_path, text).readings.values == pytest.approx([32.25 * INCH])


@pytest.mark.parametrize("encoding", ["utf-16", "cp1252"])
def test_letters_of_other_programs(tmp_path: Path, encoding: str) -> None:
    text = "hoop;tape;measured_height_in;côté\n1;1;32,25;été\n"
    assert record(tmp_path, text.encode(encoding)).readings.values == pytest.approx([32.25 * INCH])


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ("1,1,L,abc,,,\n", "filled.csv:2: abc: this is not a length"),
        ('1,1,L,"32,25",,,\n', "filled.csv:2: 32,25: a comma in a number can be read in two ways"),
        ("3,1,L,32,,,\n", "filled.csv:2: hoop 3: there is no such hoop. Write a whole number from 1 to 2"),
        ("1,7,L,32,,,\n", "filled.csv:2: tape 7: there is no such tape. Write a whole number from 1 to 6"),
        ("1,,L,32,,,\n", "filled.csv:2: tape: the tape is missing"),
        ("1,1,L,32,,,\n1,1,L,33,,,\n", "filled.csv:3: 33: it is measured already in line 2, and otherwise"),
        ("1,1,L,32,odd,,\n", "filled.csv:2: odd: a tape feels loose or taut. Write loose or taut"),
        ("1,1,L,32,loose,,\n1,1,L,32,taut,,\n", "filled.csv:3: taut: line 2 says the other"),
        ("1,1,L,-3,,,\n", "filled.csv:2: -3"),
        ("1,1,L,0,,,\n", "filled.csv:2: 0: no steel hangs there"),
        ("1,1,L,32,,,0badbad0\n", "filled.csv:2: 0badbad0: this record is of another cage"),
        ("1,1,L,,,,\n", "filled.csv: nothing is filled in yet"),
        ("", "filled.csv: nothing is filled in yet"),
    ],
)
def test_faults_are_told_by_their_line(tmp_path: Path, rows: str, words: str) -> None:
    assert faults(tmp_path, HEAD + rows)[0].startswith(words)


def test_all_faults_come_at_once(tmp_path: Path) -> None:
    assert len(faults(tmp_path, HEAD + "1,1,L,abc,,,\n9,1,L,32,,,\n1,2,L,32,odd,,\n")) == 3


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("hoop,tape,height\n1,1,32\n", "the column measured height is missing"),
        ("hoop,measured_height_in\n1,32\n", "the column tape is missing"),
        ("", "the column hoop is missing"),
        (b"PK\x03\x04 a spreadsheet", "no plain text. Save it as CSV"),
        ("\0\0\0\0\0\0\0\0", "not a text file. Save it as CSV"),
    ],
)
def test_what_is_no_record(tmp_path: Path, text: str | bytes, words: str) -> None:
    assert words in faults(tmp_path, text)[0]


def test_a_record_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(CageError, match=r"no such file. Check the name; cage3d sheets"):
        read_record(tmp_path / "none.csv", small())


def test_the_print_knows_the_cage_and_not_its_comments(tmp_path: Path) -> None:
    """Comments, names and wishes hang no cage otherwise; a drop does."""
    text = sample_path("a").read_text("utf-8")
    other = tmp_path / "other.yaml"
    own = record_print(read(sample_path("a")))
    other.write_text(
        text.replace("name: Short", "name: Little") + "notes: hers  # and more\n", encoding="utf-8"
    )
    assert record_print(read(other)) == own
    other.write_text(text.replace("drops: [8 1/4,", "drops: [8 3/8,"), encoding="utf-8")
    assert record_print(read(other)) != own


@pytest.mark.parametrize(
    ("heights", "step"),
    [
        ([24, 25, 26, 27, 28, 29, 30, 31.5], 1 / 2),
        ([24.125] * 8, 1 / 8),
        ([24, 25], 1 / 8),
        ([24.0625] * 9, 1 / 16),
    ],
)
def test_how_finely_she_read(tmp_path: Path, heights: list[float], step: float) -> None:
    """The coarsest fraction on which all readings lie; few readings may lie there by chance."""
    rows = [f"{1 + place // 6},{1 + place % 6},,{height},,,\n" for place, height in enumerate(heights)]
    found = record(tmp_path, HEAD + "".join(rows)).readings
    assert found.step == pytest.approx(step * INCH)
    assert found.sigma == pytest.approx(step * INCH / np.sqrt(12))
