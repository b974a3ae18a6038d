"""The same words, tables and order whatever the processor, time zone, locale and order of hashing.

OPENBLAS_CORETYPE makes the library for matrices sum as it does on another processor, and
NPY_DISABLE_CPU_FEATURES numpy: the last bits of every figure then differ. Run with --slow for every
sample at full resolution; pictures are left out, whose pixels are the graphics library's affair.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from made import SAMPLES, sample
from readme import ROOT

OURS: dict[str, str] = {}
OTHERS = (
    {"OPENBLAS_CORETYPE": "Haswell", "TZ": "Asia/Tokyo", "LC_ALL": "C", "PYTHONHASHSEED": "7"},
    {
        "OPENBLAS_CORETYPE": "Prescott",
        "NPY_DISABLE_CPU_FEATURES": "AVX2 AVX512F AVX512_SKX",
        "TZ": "America/New_York",
        "LC_ALL": "C.UTF-8",
        "PYTHONHASHSEED": "3",
    },
)
TEXT = {".txt", ".csv", ".html", ".pdf"}
# How hard it was, not what came out: steps of the search, and what rounding left unbalanced.
EFFORT = ("steps", "residual_N")


def written_under(machine: dict[str, str], folder: Path, nodes: int, samples: tuple[Path, ...]) -> Path:
    outer = {name: value for name, value in os.environ.items() if not name.startswith("OPENBLAS_CORE")}
    command = [sys.executable, str(ROOT / "tests/every_part.py"), str(folder), str(nodes), *map(str, samples)]
    subprocess.run(command, env=outer | machine, cwd=ROOT, check=True, timeout=900)
    return folder


def differences(ours: Any, others: Any, where: str = "") -> Iterator[str]:
    """Places where two JSON values differ: figures by more than 1e-7, all else at all."""
    if isinstance(ours, dict) and isinstance(others, dict) and list(ours) == list(others):
        for name in ours:
            if name not in EFFORT:
                yield from differences(ours[name], others[name], f"{where}/{name}")
    elif isinstance(ours, list) and isinstance(others, list) and len(ours) == len(others):
        for place, pair in enumerate(zip(ours, others, strict=True)):
            yield from differences(*pair, f"{where}/{place}")
    elif isinstance(ours, float) and isinstance(others, float):
        if abs(ours - others) > 1e-7 * max(1.0, abs(ours)):
            yield where
    elif ours != others:
        yield where


def assert_same(ours: Path, others: Path) -> None:
    names = sorted(str(path.relative_to(ours)) for path in ours.rglob("*") if path.is_file())
    assert names
    assert names == sorted(str(path.relative_to(others)) for path in others.rglob("*") if path.is_file())
    texts = [name for name in names if Path(name).suffix in TEXT]
    assert [name for name in texts if (ours / name).read_bytes() != (others / name).read_bytes()] == []
    for name in names:
        if name.endswith(".json"):
            pair = [json.loads((folder / name).read_text("utf-8")) for folder in (ours, others)]
            assert list(differences(*pair)) == [], name


@pytest.mark.parametrize("machine", OTHERS[1:])
def test_a_sample_on_another_machine(machine: dict[str, str], tmp_path: Path) -> None:
    one = (sample("a"),)
    assert_same(
        written_under(OURS, tmp_path / "ours", 32, one), written_under(machine, tmp_path / "other", 32, one)
    )


@pytest.mark.slow
@pytest.mark.parametrize("machine", OTHERS)
def test_every_sample_on_another_machine(machine: dict[str, str], tmp_path: Path) -> None:
    assert_same(
        written_under(OURS, tmp_path / "ours", 0, SAMPLES),
        written_under(machine, tmp_path / "other", 0, SAMPLES),
    )
