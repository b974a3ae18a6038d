"""How many small faults do the tests notice? python tests/mutants/trial.py --each 50 design shape settle

Copies the tree, learns from `coverage` which test runs which line, puts faults in one at a time, drawn by lot, and
runs only the tests that run that line, the quickest first, until one fails. A fault in a line that no test runs
survives. Prints what survived, and a score for each folder. Needs: pip install coverage
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections import defaultdict
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Queue

import coverage
from faults import Fault, faults_of

ROOT = Path(__file__).parents[2]
LEFT_OUT = shutil.ignore_patterns(
    ".git", ".venv", "*.egg-info", "__pycache__", ".hypothesis", ".mypy_cache", "build"
)
LONGEST = 300  # s for the tests of one fault; one that hangs is noticed
MOST_TESTS = 60  # of a line that all tests run, the quickest


def copied(into: Path) -> Path:
    shutil.copytree(ROOT, into, ignore=LEFT_OUT, symlinks=True)
    (into / "cage3d_cli").symlink_to("cli")
    return into


def tested(tree: Path, *arguments: str, **more: object) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-B", "-P", *arguments], cwd=tree, capture_output=True, check=False,
        env={**os.environ, "PYTHONPATH": str(tree), "OPENBLAS_NUM_THREADS": "1"}, **more,
    )  # fmt: skip


def lines_by_test(tree: Path, tests: list[str]) -> tuple[dict[str, dict[int, list[str]]], dict[str, float]]:
    """Which tests run each line of each file, and how long each test takes."""
    (tree / "covered.ini").write_text(
        "[run]\ndynamic_context = test_function\nsource = cage3d\n", encoding="utf-8"
    )
    done = tested(
        tree, "-m", "coverage", "run", "--rcfile=covered.ini", "-m", "pytest", "-q", "-p", "no:cacheprovider",
        "--durations=0", "-vv", *tests,
    )  # fmt: skip
    if done.returncode:
        sys.exit(done.stdout.decode()[-3000:])
    took: dict[str, float] = defaultdict(float)
    for row in done.stdout.decode().splitlines():
        words = row.split()
        if len(words) >= 3 and words[1] in ("call", "setup") and words[0].endswith("s"):
            took[words[2]] += float(words[0][:-1])
    data = coverage.CoverageData(str(tree / ".coverage"))
    data.read()
    found: dict[str, dict[int, list[str]]] = {}
    for name in data.measured_files():
        found[str(Path(name).relative_to(tree))] = {
            line: [context for context in contexts if context]
            for line, contexts in data.contexts_by_lineno(name).items()
        }
    return found, took


def noticed(fault: Fault, tree: Path, tests: list[str]) -> bool:
    """Whether a test fails with the fault put into this copy of the tree."""
    path = tree / fault.path.relative_to(ROOT)
    right = path.read_text(encoding="utf-8")
    path.write_text(fault.put_in(right), encoding="utf-8")
    try:
        return (
            tested(
                tree, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests, timeout=LONGEST
            ).returncode
            != 0
        )
    except subprocess.TimeoutExpired:
        return True
    finally:
        path.write_text(right, encoding="utf-8")


def node_ids(contexts: list[str], took: dict[str, float]) -> list[str]:
    """pytest's names of the tests that coverage names by module and function, the quickest first."""
    wanted = {context.replace(".", "/") for context in contexts}
    named = {node for node in took if node.split("[")[0].replace(".py::", "/").replace("::", "/") in wanted}
    by_function: dict[str, list[str]] = defaultdict(list)
    for node in named:
        by_function[node.split("[")[0]].append(node)
    first = sorted(by_function, key=lambda name: sum(took[node] for node in by_function[name]))
    return first[:MOST_TESTS]


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("folders", nargs="+", help="folders of cage3d/")
    ask.add_argument("--each", type=int, default=50, help="faults a folder")
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--workers", type=int, default=2)
    ask.add_argument(
        "--tests",
        nargs="+",
        default=[
            "tests/design",
            "tests/shape",
            "tests/settle",
            "tests/report",
            "tests/foresee",
            "tests/published",
            "tests/sheets",
            "tests/test_units.py",
            "tests/test_sides.py",
        ],
    )
    asked = ask.parse_args()
    home = Path(tempfile.mkdtemp())
    trees: Queue[Path] = Queue()
    for number in range(asked.workers):
        trees.put(copied(home / str(number)))
    covered, took = lines_by_test(home / "0", asked.tests)
    chance = random.Random(asked.seed)

    def tried(fault: Fault) -> tuple[Fault, bool]:
        lines = covered.get(str(fault.path.relative_to(ROOT)), {})
        # A line that runs once, when the module is read, is the concern of every test that runs something of the file.
        of_line = lines.get(fault.line) or [
            test for tests in lines.values() for test in tests if fault.line in lines
        ]
        tests = node_ids(of_line, took)
        tree = trees.get()
        try:
            return fault, bool(tests) and noticed(fault, tree, tests)
        finally:
            trees.put(tree)

    score: dict[str, list[bool]] = defaultdict(list)
    for folder in asked.folders:
        paths = sorted((ROOT / "cage3d" / folder).rglob("*.py"))
        every = [fault for path in paths for fault in faults_of(path)]
        chosen = chance.sample(every, min(asked.each, len(every)))
        with ThreadPoolExecutor(asked.workers) as pool:
            for fault, seen in pool.map(tried, chosen):
                score[folder].append(seen)
                if not seen:
                    print(
                        f"survived {fault.path.relative_to(ROOT)}:{fault.line}: {fault.old!r} -> {fault.new!r}",
                        flush=True,
                    )
        print(f"{folder}: {sum(score[folder])} of {len(score[folder])} noticed", flush=True)
    every_one = [seen for seen_ones in score.values() for seen in seen_ones]
    print(f"all: {sum(every_one)} of {len(every_one)}, {100 * sum(every_one) / len(every_one):.0f} %")
    shutil.rmtree(home)


if __name__ == "__main__":
    main()
