"""Programs we did not write, asked what they think of our files.

Where one is missing its tests are skipped, except in CI, where nothing may be skipped.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any

import pytest

GLTF_VALIDATOR = "gltf-validator"
VALIDATE = """
const validator = require('gltf-validator'), fs = require('fs');
(async () => {
  const reports = [];
  for (const path of process.argv.slice(1)) {
    const bytes = new Uint8Array(fs.readFileSync(path));
    reports.push(await validator.validateBytes(bytes, {maxIssues: 0}));
  }
  console.log(JSON.stringify(reports));
})();
"""


def missing(what: str) -> None:
    """Skips the test, or fails it in CI."""
    if os.environ.get("CI"):
        pytest.fail(f"{what} is missing, and in CI no judge may be skipped")
    pytest.skip(f"{what} is not installed")


def program(name: str) -> str:
    """Path of a program, or the end of the test."""
    path = shutil.which(name)
    if path is None:
        missing(name)
    return str(path)


def run(command: Sequence[str], timeout: float = 300.0) -> subprocess.CompletedProcess[str]:
    # Some programs print bytes that are no text.
    return subprocess.run(
        command, capture_output=True, text=True, errors="replace", check=False, timeout=timeout
    )


def need(name: str) -> None:
    """Ends the test where a judge is missing, before anything is made for it; 'gltf-validator' is the one of npm."""
    program("node" if name == GLTF_VALIDATOR else name)
    if name == GLTF_VALIDATOR and not validates_gltf():
        missing("gltf-validator (npm; NODE_PATH names the folder it is in)")


@cache
def validates_gltf() -> bool:
    return run([program("node"), "-e", f"require('{GLTF_VALIDATOR}')"]).returncode == 0


def gltf_reports(paths: Sequence[Path]) -> list[dict[str, Any]]:
    """What the Khronos validator (npm gltf-validator) reports on every file."""
    need(GLTF_VALIDATOR)
    done = run([program("node"), "-e", VALIDATE, *map(str, paths)])
    assert done.returncode == 0, done.stderr
    reports: list[dict[str, Any]] = json.loads(done.stdout)
    return reports


def gltf_complaints(paths: Sequence[Path]) -> list[str]:
    """Every error, warning, info and hint on every file, as text."""
    return [
        f"{path.name}: {message['code']} {message['message']} at {message.get('pointer', '')}"
        for path, report in zip(paths, gltf_reports(paths), strict=True)
        for message in report["issues"]["messages"]
    ]


def blender(script: Path, *arguments: str) -> dict[str, Any]:
    """Runs a script in Blender without a window; it prints one line of JSON after 'ANSWER '."""
    command = [program("blender"), "--background", "--factory-startup", "--python-exit-code", "1"]
    done = run([*command, "--python", str(script), "--", *arguments])
    if "No module named 'numpy'" in done.stdout + done.stderr:
        missing("numpy for Blender's own Python (Debian: python3-numpy)")
    assert done.returncode == 0, done.stdout + done.stderr
    answer: dict[str, Any] = json.loads(re.findall(r"^ANSWER (.*)$", done.stdout, re.MULTILINE)[-1])
    return answer


def admesh_counts(path: Path) -> dict[str, int]:
    """The numbers admesh prints of an STL: facets, and what it had to repair."""
    done = run([program("admesh"), str(path)])
    assert done.returncode == 0, done.stdout + done.stderr
    pairs = re.findall(r"([A-Z][A-Za-z ]+?)\s*:\s*(\d+)(?=\s|$)", done.stdout)
    return {name.strip(): int(value) for name, value in pairs}
