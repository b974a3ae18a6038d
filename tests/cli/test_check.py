"""`cage3d check`: what it prints where, and with which exit status it ends."""

from __future__ import annotations

import json
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from calling import ON_THE_FLOOR, QUICKLY, SMALL, Caller, in_a_process


def test_the_table_goes_to_stdout_and_nothing_to_stderr(cage3d: Caller) -> None:
    said = cage3d("check", cage3d.write())
    assert (said.status, said.err) == (0, "")
    assert said.out.startswith("Small cage\n\nHoops")
    assert "\nSettled and stable" in said.out
    assert "No warnings." in said.out
    assert list(cage3d.folder.iterdir()) == [cage3d.folder / "small.yaml"]


def test_warnings_are_results(cage3d: Caller) -> None:
    cage3d.measure_alone()
    said = cage3d("check", cage3d.write(SMALL.replace("[22, 28]", "[8, 10]")))
    assert said.status == 0
    assert "Warning 1: The hem hangs" in said.out
    assert said.err == ""


def test_json_is_all_that_json_prints(cage3d: Caller) -> None:
    said = cage3d("check", cage3d.write(), "--json")
    data = json.loads(said.out)
    assert (said.status, said.err) == (0, "")
    assert (data["design"], data["settled"], len(data["hoops"]), len(data["tapes"])) == (
        "Small cage",
        True,
        2,
        6,
    )
    assert len(data["marks"]) == 10


def test_carry_tells_how_much_and_with_what(cage3d: Caller) -> None:
    said = cage3d("check", cage3d.write(SMALL + "skirt: {weight: 0.3 kg}\n"), "--carry", "1")
    assert said.status == 0
    assert "times its skirt" in said.out
    assert "lightest from stock" in said.out


def test_steel_tells_which_is_stiff_enough(cage3d: Caller) -> None:
    """So light a cage without a skirt gives more than 2 in with any single strip; no load is asked of it."""
    said = cage3d("check", cage3d.write(SMALL), "--steel")
    words = " ".join(said.out.split())
    assert said.status == 0
    assert "No steel from stock does for at most 2 in under 200 g" in words
    assert "the stiffest, 12.7 x 0.7 mm, gives 3 7/8 in at the left" in words
    assert "times the skirt" not in words


@pytest.mark.parametrize(
    ("wrong", "place", "words"),
    [
        (SMALL.replace("waist: 26", "waist: 3 elephants"), "small.yaml:3:", "elephants"),
        (SMALL.replace("units: in\n", ""), "small.yaml:", "unit"),
        (SMALL.replace("steel:", "stell:"), "small.yaml:4:", "stell"),
        ("", "small.yaml", ""),
    ],
)
def test_a_fault_in_the_design_is_status_1(cage3d: Caller, wrong: str, place: str, words: str) -> None:
    said = cage3d("check", cage3d.write(wrong))
    assert (said.status, said.out) == (1, "")
    assert place in said.err
    assert words in said.err
    assert "Traceback" not in said.err


def test_all_faults_at_once(cage3d: Caller) -> None:
    wrong = SMALL.replace("26", "3 elephants").replace("12 mm", "-4 mm")
    said = cage3d("check", cage3d.write(wrong))
    assert said.status == 1
    assert len([line for line in said.err.splitlines() if line.startswith("cage3d: small.yaml:")]) >= 2


@pytest.mark.parametrize("name", ["nowhere.yaml", "."])
def test_a_file_that_is_none(cage3d: Caller, name: str) -> None:
    said = cage3d("check", name)
    assert (said.status, said.out) == (1, "")
    assert said.err.startswith("cage3d: ")
    assert len(said.err.splitlines()) == 1


@pytest.mark.parametrize(
    "arguments",
    [["check"], ["check", "small.yaml", "--jsn"], ["chekc"], ["check", "small.yaml", "--carry", "0.2"]],
)
def test_a_fault_in_the_command_line_is_status_2(cage3d: Caller, arguments: list[str]) -> None:
    cage3d.write()
    said = cage3d(*arguments)
    assert (said.status, said.out) == (2, "")
    assert "Error" in said.err


def test_a_cage_that_finds_no_rest_is_status_3(cage3d: Caller) -> None:
    said = cage3d("check", cage3d.write(ON_THE_FLOOR))
    assert (said.status, said.out) == (3, "")
    assert "hoop 2 lies on the floor" in said.err


def test_json_of_a_cage_that_finds_no_rest_says_so(cage3d: Caller) -> None:
    said = cage3d("check", cage3d.write(ON_THE_FLOOR), "--json")
    data = json.loads(said.out)
    assert said.status == 3
    assert data["settled"] is not True or data["stable"] is not True


def test_a_fault_of_the_tool_is_one_line_to_report(cage3d: Caller) -> None:
    def broken(_path: Path) -> None:
        raise RuntimeError("two\nlines")

    cage3d.monkeypatch.setattr("cage3d.flow.settle_file", broken)
    said = cage3d("check", cage3d.write())
    assert (said.status, said.out, len(said.err.splitlines())) == (1, "", 1)
    assert "RuntimeError: two lines" in said.err
    assert "report this line" in said.err


def test_the_same_file_gives_the_same_bytes_in_another_process(cage3d: Caller) -> None:
    here = cage3d("check", cage3d.write(), "--json")
    other = in_a_process("check", "small.yaml", "--json", cwd=cage3d.folder)
    assert (other.returncode, other.stderr) == (0, "")
    assert other.stdout == here.out


def test_a_terminal_that_knows_no_degree_sign(cage3d: Caller) -> None:
    ascii_alone = {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    done = in_a_process("check", cage3d.write(), cwd=cage3d.folder, quickly=True, **ascii_alone)
    assert (done.returncode, done.stderr) == (0, "")
    assert re.search(r"[0-9]\.[0-9] deg ", done.stdout), "the degree sign of the tilt"
    assert done.stdout.isascii()
    assert "?" not in done.stdout


@pytest.mark.skipif(shutil.which("head") is None, reason="needs a shell")
def test_a_reader_that_stops_early_gets_no_traceback(cage3d: Caller) -> None:
    command = f"{sys.executable} -c {shlex.quote(QUICKLY)} check {cage3d.write()} | head -1"
    done = subprocess.run(command, shell=True, cwd=cage3d.folder, capture_output=True, text=True, check=False)
    assert done.stdout == "Small cage\n"
    assert "Traceback" not in done.stderr
    assert "BrokenPipe" not in done.stderr


def test_help_is_for_makers(cage3d: Caller) -> None:
    said = cage3d("--help")
    assert said.status == 0
    for command in ("new", "check", "make", "show", "maquette", "sheets"):
        assert f"\n  {command} " in said.out
    assert "not a safety certificate" in " ".join(said.out.split())
    alone = cage3d()
    assert "Usage: cage3d" in alone.out + alone.err
