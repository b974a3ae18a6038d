"""Texts that bite: each is read, or refused with its place, in bounded time and memory."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import time
from pathlib import Path

import pytest
from nasty import SAMPLES, made

from cage3d.design import rules
from cage3d.design.read import MOST_TOLD, read_text
from cage3d.errors import DesignError

QUICK, ALL = 150, 20_000
LONGEST = 2.0  # s of this process's own time
MOST_MEMORY = 300e6  # bytes of the whole process

ENDLESS = {
    "huge count": SAMPLES[0].replace("count: 8", "count: 999999999"),
    "endless number": SAMPLES[0].replace("waist: 26", 'waist: "' + "1" * 3000 + '"'),
    "drops without units": "tapes: {count: 8, drops: [" + "1," * 900 + "1]}\nhoops: []",
    "many wrong units": "tapes: {count: 8, drops: [" + ("1 inchez" * 12 + ",") * 900 + "1]}\nhoops: []",
    "many drops, huge count": "tapes: {count: 999999999, drops: [" + "1," * 19_000 + "1]}",
    "many keys": SAMPLES[0] + "\n" + "".join(f"k{n}{'x' * 80}: 1\n" for n in range(9_900)),
    "endless tag": "a: !" + "t" * 900_000 + " b",
    "endless escaped tag": "a: !" + "%41" * 300_000 + " b",
    "directives": "%A b\n" * 90_000,
    "endless lines": SAMPLES[0] + "\r" * 900_000,
    "endless folded text": SAMPLES[0] + "\nnotes: " + "x y " * 240_000,
    "endless quoted text": SAMPLES[0] + '\nnotes: "' + "x y " * 240_000 + '"',
    "texts": SAMPLES[0] + "".join(f"\nn{n}: " + "x y " * 2_400 for n in range(100)),
    "groups": SAMPLES[0] + "\nties:\n" + "- {from: hoop 1 tape 1, to: hoop 9 tape 4, length: 9}\n" * 990,
    "nested": "[" * 900_000,
}  # fmt: skip


def problems_in(text: str) -> tuple[DesignError | None, float]:
    """What reading a text ends with, and how long it took (s)."""
    start = time.process_time()
    try:
        design = read_text(text, "x.yaml")
        rules.remarks(design)
    except DesignError as fault:
        return fault, time.process_time() - start
    return None, time.process_time() - start


def most_memory() -> float:
    """Bytes that this process ever held."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * (1 if sys.platform == "darwin" else 1024)


def assert_well_told(fault: DesignError, text: str) -> None:
    lines = len(text.replace("\r\n", "\n").split("\n")) + sum(
        text.count(sign) for sign in "\r\x85\u2028\u2029"
    )
    assert 1 <= len(fault.problems) <= MOST_TOLD + 1
    for problem in fault.problems:
        assert problem.where == "x.yaml"
        assert problem.line is not None
        assert 1 <= problem.line <= lines + 1
        assert problem.column is not None
        assert problem.column >= 1
        assert problem.why
        assert problem.try_this
        assert len(str(problem)) < 1500


def read_lot(seeds: range) -> tuple[int, float]:
    """How many of the texts are designs, and the longest time that one took (s)."""
    designs, longest = 0, 0.0
    for seed in seeds:
        case = made(seed)
        assert case.holds in case.text, seed
        try:
            fault, took = problems_in(case.text)
        except Exception as unexpected:
            pytest.fail(f"seed {seed}: {type(unexpected).__name__}: {unexpected}")
        assert took < LONGEST, seed
        designs, longest = designs + (fault is None), max(longest, took)
        if fault is not None:
            assert_well_told(fault, case.text)
    return designs, longest


def test_a_quick_lot() -> None:
    designs, _ = read_lot(range(QUICK))
    assert 0 < designs < QUICK


@pytest.mark.slow
def test_the_whole_lot() -> None:
    grown = most_memory()
    designs, longest = read_lot(range(ALL))
    print(f"{ALL} texts, {designs} designs, longest {longest:.2f} s, {most_memory() / 1e6:.0f} MB")
    assert ALL / 50 < designs < ALL / 2
    assert most_memory() - grown < MOST_MEMORY


@pytest.mark.parametrize("name", ENDLESS)
def test_endless_texts(name: str) -> None:
    before = most_memory()
    fault, took = problems_in(ENDLESS[name])
    assert took < LONGEST
    assert most_memory() - before < MOST_MEMORY
    assert fault is not None
    assert_well_told(fault, ENDLESS[name])


def test_a_sign_that_does_not_exist_has_its_place() -> None:
    fault, _ = problems_in('name: "ab\\U00110000"\n')
    assert fault is not None
    assert "does not exist" in str(fault)
    assert (fault.problems[0].line, fault.problems[0].column) == (1, 12)


def test_an_open_hoop_shorter_than_its_overhangs_with_a_tie() -> None:
    tie = "ties: [{from: hoop 1 tape 1, to: hoop 1 tape 4, length: 9}]"
    fault, _ = problems_in(
        SAMPLES[0].replace("{length: 48, join: {overlap: 2}}", "{length: 48, opening: front, overhang: 40}")
        + tie
    )
    assert fault is not None
    assert "hardly any of hoop 1 is left" in str(fault)


def test_more_faults_than_are_told() -> None:
    fault, _ = problems_in(SAMPLES[0] + "\n" + "".join(f"k{n}: 1\n" for n in range(500)))
    assert fault is not None
    assert len(fault.problems) == MOST_TOLD + 1
    assert "more faults than these 200" in str(fault.problems[-1])


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes with a name")
def test_a_pipe_is_refused_at_once(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.yaml")
    # In a process of its own: a reader that waits for a writer would wait for ever.
    code = "import sys; from cage3d.design.read import read; read(sys.argv[1])"
    done = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path / "pipe.yaml")],
        capture_output=True, text=True, timeout=30, check=False,
    )  # fmt: skip
    assert "no plain file" in done.stderr
