"""What other programs and shells ask of `cage3d`: JSON whatever happens, its version, completion."""

from __future__ import annotations

import json
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path
from typing import Any

import pytest
from calling import ON_THE_FLOOR, SMALL, Caller, in_a_process

ELEPHANTS = SMALL.replace("waist: 26", "waist: 3 elephants").replace("width: 12 mm", "width: -12 mm")


def figures(cage3d: Caller, text: str, status: int) -> tuple[dict[str, Any], str]:
    said = cage3d("check", cage3d.write(text), "--json")
    assert said.status == status
    return json.loads(said.out), said.err


def test_json_says_the_version_of_its_form(cage3d: Caller) -> None:
    data, err = figures(cage3d, SMALL, 0)
    assert (data["version"], data["problems"], err) == (1, [], "")


def test_faults_of_a_design_come_as_json_and_in_words(cage3d: Caller) -> None:
    data, err = figures(cage3d, ELEPHANTS, 1)
    assert set(data) == {"version", "problems"}
    assert data["version"] == 1
    first, second = data["problems"]
    assert (first["where"], first["line"], first["column"]) == ("small.yaml:3:17", 3, 17)
    assert first["written"] == "waist: 3 elephants"
    assert first["why"] == "'elephants' is not a unit known here"
    assert first["try"].startswith("Write 7 1/2 in")
    assert (second["where"], second["written"]) == ("small.yaml:4:16", "width: -12 mm")
    assert [line.split(": ")[1] for line in err.splitlines()] == [first["where"], second["where"]]


def test_a_missing_file_comes_as_json(cage3d: Caller) -> None:
    said = cage3d("check", "nowhere.yaml", "--json")
    (problem,) = json.loads(said.out)["problems"]
    assert (said.status, problem["where"], problem["line"]) == (1, "nowhere.yaml", None)
    assert "no such file" in said.err


def test_a_cage_without_rest_gives_its_figures_and_why_they_are_no_answer(cage3d: Caller) -> None:
    data, err = figures(cage3d, ON_THE_FLOOR, 3)
    assert len(data["hoops"]) == 2
    (problem,) = data["problems"]
    assert "hoop 2 lies on the floor" in problem["why"]
    assert err == f"cage3d: small.yaml: {problem['why']}. {problem['try']}\n"


def test_a_fault_of_the_tool_comes_as_json(cage3d: Caller) -> None:
    def broken(_path: Path) -> None:
        raise RuntimeError("two\nlines")

    cage3d.monkeypatch.setattr("cage3d.flow.settle_file", broken)
    data, err = figures(cage3d, SMALL, 1)
    assert "RuntimeError: two lines" in data["problems"][0]["why"]
    assert len(err.splitlines()) == 1


def test_no_name_in_json_can_steer_a_terminal(cage3d: Caller) -> None:
    cage3d.measure_alone()
    said = cage3d(
        "check", cage3d.write(SMALL.replace("Small cage", "Käfig \N{RIGHT-TO-LEFT OVERRIDE}")), "--json"
    )
    assert said.out.isascii()


def test_the_version_is_the_installed_one(cage3d: Caller) -> None:
    said = cage3d("--version")
    assert (said.status, said.out) == (0, f"cage3d {version('cage3d')}\n")


def test_the_package_runs_as_a_module(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "cage3d", "check", "nowhere.yaml"],
        cwd=tmp_path, capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.startswith("cage3d: nowhere.yaml: there is no such file")


@pytest.mark.parametrize(("typed", "offered"), [("cage3d maq", "maquette"), ("cage3d check --c", "--carry")])
def test_a_shell_completes_commands_and_options(tmp_path: Path, typed: str, offered: str) -> None:
    asked = {
        "_CAGE3D_COMPLETE": "complete_bash",
        "COMP_WORDS": typed,
        "COMP_CWORD": str(typed.count(" ")),
    }
    assert in_a_process(cwd=tmp_path, **asked).stdout.split() == [offered]
