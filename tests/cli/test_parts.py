"""A part that cannot be made costs that part alone, whatever it raises."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from cage3d_cli.ending import Stopped
from calling import SMALL, Caller

from cage3d import flow, results
from cage3d.design.read import read_text
from cage3d.errors import CommandError, OutputError, Problem
from cage3d.mesh.part import wanted_kinds
from cage3d.miniature.maquette import build_maquette
from cage3d.miniature.order import Order
from cage3d.report import measure
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.write.folder import Folder

NAMES = [part.name for part in results.RESULTS]


class Panic(BaseException):
    """As libraries in other languages raise it, past Exception."""


def raised(fault: BaseException) -> Callable[..., results.Files]:
    def make(_settled: object, _report: object) -> results.Files:
        raise fault

    return make


def child_killed(_settled: object, _report: object) -> results.Files:
    kill = f"import os; os.kill(os.getpid(), {int(signal.SIGKILL)})"
    subprocess.run([sys.executable, "-c", kill], check=True)
    return {}


@cache
def small() -> SettledCage:
    return settle(lay_out(read_text(SMALL, "small.yaml"), 48))


FAULTS = {
    "refusal": (raised(OutputError(Problem("it", "", "is out of paper", "Fetch some"))), "out of paper"),
    "option": (raised(CommandError(Problem("--it", "9", "is too many", "Write 8"))), "is too many"),
    "memory": (raised(MemoryError()), "too little memory"),
    "child": (child_killed, "CalledProcessError"),
    "exception": (raised(ZeroDivisionError("by nought")), "ZeroDivisionError: by nought"),
    "exit": (raised(SystemExit(3)), "SystemExit"),
    "panic": (raised(Panic("at line 7")), "Panic: at line 7"),
}


@pytest.mark.skipif(os.name != "posix", reason="signals")
@pytest.mark.parametrize("kind", FAULTS)
@pytest.mark.parametrize("failing", NAMES)
def test_every_fault_in_every_part_costs_that_part_alone(cage3d: Caller, failing: str, kind: str) -> None:
    fail, said = FAULTS[kind]
    cheap = tuple(
        results.Result(
            name, fail if name == failing else lambda *_, name=name: {f"{name}.txt": name.encode()}
        )
        for name in NAMES
    )
    cage3d.monkeypatch.setattr(results, "results_showing", lambda *_: cheap)
    cage3d.monkeypatch.setattr(flow, "settle", lambda _cage: small())
    cage3d.monkeypatch.setattr(flow, "with_capacity", lambda report, _settled: report)
    cage3d.monkeypatch.setattr(flow, "foretold", flow.measure)
    told = cage3d("make", cage3d.write(), "-o", "out")
    assert told.status == 1
    assert said in told.err
    assert {Path(line).stem for line in told.out.splitlines()} == set(NAMES) - {failing}
    assert all((cage3d.folder / "out" / f"{name}.txt").exists() == (name != failing) for name in NAMES)


@pytest.mark.parametrize("stop", [KeyboardInterrupt, Stopped])
def test_interrupting_is_no_fault_of_a_part(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stop: type[BaseException]
) -> None:
    monkeypatch.setattr(flow, "foretold", flow.measure)
    path = tmp_path / "small.yaml"
    path.write_text(SMALL, "utf-8")
    with pytest.raises(stop):
        flow.make(path, Folder(tmp_path / "out"), [results.Result("page", raised(stop()))])


CROWDED = """\
name: Twenty-four tapes
units: in
wearer: {waist: 28, waist_height: 42}
steel: {width: 12 mm, thickness: 0.5 mm}
tapes: {count: 24, drops: [12, 10]}
hoops:
  - {length: 70}
  - {length: 100}
"""


@pytest.fixture(scope="module")
def crowded() -> SettledCage:
    return settle(lay_out(read_text(CROWDED, "crowded.yaml"), 48))


def test_a_miniature_too_fine_names_what_to_write_in_the_design() -> None:
    powder = CROWDED + "printing: {scale: 1:12, process: powder}\n"
    crowded = settle(lay_out(read_text(powder, "crowded.yaml"), 48))
    with pytest.raises(OutputError, match=r"neighbouring tapes would run together") as fault:
        results.miniature(crowded, None)  # type: ignore[arg-type]
    advice = fault.value.problems[0].try_this
    assert "--" not in advice  # `make` has no such options
    line = advice.removeprefix("Write in the design ").split(" or ")[0]
    written = read_text(CROWDED + line + "\n", "crowded.yaml").printing
    assert (written.scale, written.process) != ("1:12", "powder")
    assert build_maquette(crowded, Order(written.scale, written.process, bed="400x400x400")).bodies


def test_an_advised_scale_is_one_that_is_offered(crowded: SettledCage) -> None:
    """At 1:40 no process keeps tapes 0.7 mm apart open; the waist prints in resin at 1:6 and larger."""
    with pytest.raises(CommandError) as fault:
        build_maquette(crowded, Order("1:40", "resin"))
    advice = fault.value.problems[0].try_this
    scale = advice.removeprefix("Print at ").split(",")[0]
    assert scale in ("1:4", "1:5", "1:6", "1:8", "1:10", "1:12")
    assert build_maquette(crowded, Order(scale, "resin", bed="400x400x400")).bodies


def test_an_order_that_the_command_line_gives_stays_its_fault(cage3d: Caller) -> None:
    said = cage3d("maquette", cage3d.write(), "--scale", "1:100", "-o", "out")
    assert (said.status, said.out) == (2, "")
    assert "Print at 1:" in said.err
    assert not (cage3d.folder / "out").exists()


@pytest.mark.parametrize("option", [["--bed", "round"], ["--scale", "1:0"], ["--process", "wool"]])
def test_a_wrong_option_is_refused_before_the_work(cage3d: Caller, option: list[str]) -> None:
    cage3d.monkeypatch.setattr(flow, "settle", raised(AssertionError("it was settled")))
    assert cage3d("maquette", cage3d.write(), *option).status == 2


def test_the_design_s_printing_counts_unless_an_option_says_otherwise(cage3d: Caller) -> None:
    path = cage3d.write(SMALL + "printing: {scale: 1:10, process: resin}\n")
    assert "out/small-cage-1-10-resin.stl" in cage3d("maquette", path, "-o", "out").out.split()
    said = cage3d("maquette", path, "--scale", "1:8", "-o", "other")
    assert "other/small-cage-1-8-resin.stl" in said.out.split()


def test_flat_and_split_are_refused_before_the_work(cage3d: Caller) -> None:
    said = cage3d("maquette", cage3d.write(), "--flat", "--split", "-o", "out")
    assert (said.status, said.out) == (2, "")
    assert "not cut" in said.err


@pytest.mark.parametrize("command", [["make"], ["show"], ["show", "--page"]], ids=" ".join)
def test_a_wearer_without_a_hip_cannot_be_drawn(cage3d: Caller, command: list[str]) -> None:
    said = cage3d(*command, cage3d.write(), "--wearer", "-o", "out")
    assert (said.status, said.out) == (2, "")
    assert "her hip was not measured" in said.err
    assert "leave --wearer out" in said.err
    assert not (cage3d.folder / "out").exists()


def test_the_wearer_takes_the_place_of_her_form_in_the_model() -> None:
    text = SMALL.replace("41 1/2", "41 1/2, hip: 39, hip_drop: 8")
    settled = settle(lay_out(read_text(text, "small.yaml"), 48))
    report = measure(settled)
    for wearer, there, gone in (
        (False, b"wearer's form", b"wearer's torso"),
        (True, b"wearer's torso", b"wearer's form"),
    ):
        made = {part.name: part for part in results.results_showing(wanted_kinds(None), False, wearer)}
        glb = made["3D model"].files(settled, report)["{stem}.glb"]
        assert there in glb
        assert gone not in glb


def test_without_its_library_it_is_refused_before_the_work(cage3d: Caller) -> None:
    cage3d.monkeypatch.setattr("cage3d.write.usdz.find_spec", lambda _name: None)
    said = cage3d("make", cage3d.write(), "--usdz", "-o", "out")
    assert (said.status, said.out) == (2, "")
    assert "usd-core, is not installed" in said.err
    assert not (cage3d.folder / "out").exists()
