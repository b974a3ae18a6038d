"""The command line called inside this process, and a design that settles quickly."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest
from cage3d_cli.main import main
from kept import keep_answers

from cage3d import flow
from cage3d.report import Report
from cage3d.settle import SettledCage

SMALL = """\
name: Small cage
units: in
wearer: {waist: 26, waist_height: 41 1/2, waist_breadth: 8.3, waist_depth: 8.3}
steel: {width: 12 mm, thickness: 0.6 mm}
tapes: {count: 6, drops: [9, 8]}
hoops:
  - {length: 52}
  - {length: 62}
hem: {clearance: [22, 28]}
"""
# `cage3d` with `foretold_in_part`, in a process of its own.
QUICKLY = """\
from cage3d import flow
from cage3d_cli.main import main
flow.cores = lambda: 1
flow.foretold = lambda settled: flow.with_certainty(flow.measure(settled), settled)
main()
"""
ON_THE_FLOOR = SMALL.replace("41 1/2", "15").replace("hem: {clearance: [22, 28]}\n", "")


def foretold_in_part(settled: SettledCage) -> Report:
    """How sure every figure is: where no more is looked at of what is foretold, which takes most of the work."""
    return flow.with_certainty(flow.measure(settled), settled)


@dataclass(frozen=True)
class Said:
    status: int
    out: str
    err: str


class Caller:
    """Runs `cage3d` in a folder of its own."""

    def __init__(
        self, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        self.folder, self.monkeypatch, self.capsys = folder, monkeypatch, capsys
        monkeypatch.chdir(folder)
        keep_answers(monkeypatch)

    def __call__(self, *arguments: str) -> Said:
        self.monkeypatch.setattr(sys, "argv", ["cage3d", *arguments])
        self.capsys.readouterr()
        with pytest.raises(SystemExit) as end:
            main()
        said = self.capsys.readouterr()
        code = end.value.code
        return Said(code if isinstance(code, int) else 0 if code is None else 1, said.out, said.err)

    def measure_alone(self) -> None:
        """From here on nothing is foretold, which takes most of the work: for tests of what does not tell it."""
        self.monkeypatch.setattr(flow, "foretold", flow.measure)

    def write(self, text: str = SMALL, name: str = "small.yaml") -> str:
        (self.folder / name).write_text(text, encoding="utf-8")
        return name


def in_a_process(
    *arguments: str, cwd: Path, quickly: bool = False, **environment: str
) -> subprocess.CompletedProcess[str]:
    program = ("-c", QUICKLY) if quickly else ("-m", "cage3d_cli.main")
    return subprocess.run(
        [sys.executable, *program, *arguments],
        cwd=cwd, env={**os.environ, **environment}, capture_output=True, text=True, check=False, timeout=120,
    )  # fmt: skip
