"""How many small faults do the tests notice? python tests/mutants/trial.py --each 50 design shape settle

Copies the tree, learns from `coverage` which test runs which line, puts faults in one at a time, drawn by lot, and
runs the tests of that line, the quickest first, until one fails. Where none does, all tests that run something of the
file follow, since what one test has worked out may be kept for the next. A fault in a line that no test runs survives.
Prints what survived, and a score for each folder. Needs: pip install cage3d[mutants]; works where processes fork.
"""

from __future__ import annotations

import argparse
import multiprocessing
import random
import shutil
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import under_trial
from faults import Fault, faults_of
from learning import Learned, learn, source_of

ROOT = Path(__file__).parents[2]
CONTROL = 10  # tests that must pass with no fault put in
TESTS = [
    "design",
    "shape",
    "settle",
    "report",
    "foresee",
    "published",
    "sheets",
    "test_units.py",
    "test_sides.py",
]


@dataclass
class Score:
    noticed: int = 0
    hung: int = 0  # of those noticed, killed because they did not end
    tried: int = 0

    def __add__(self, other: Score) -> Score:
        return Score(self.noticed + other.noticed, self.hung + other.hung, self.tried + other.tried)

    def __str__(self) -> str:
        ended = f", {self.hung} of them by not ending" if self.hung else ""
        return f"{self.noticed} of {self.tried} noticed{ended}"


def drawn(tree: Path, folder: str, count: int, seed: int) -> list[Fault]:
    """Faults of one folder, the same for the same seed and source; paths from the tree's root."""
    paths = sorted((tree / "cage3d" / folder).rglob("*.py"))
    every = [fault for path in paths for fault in faults_of(path.relative_to(tree), tree)]
    return random.Random(f"{seed} {folder}").sample(every, min(count, len(every)))


def try_folder(
    pool: ProcessPoolExecutor, learned: Learned, faults: list[Fault], patience: float
) -> Iterator[tuple[Fault, str]]:
    """Each fault and how it ended: "noticed", "hung", "survived", "no test"."""
    tests = [learned.tests_of(str(fault.path), fault.line, fault.statement, patience) for fault in faults]
    return zip(faults, pool.map(under_trial.ending, faults, tests), strict=True)


def learned_of(right: Path, asked: argparse.Namespace) -> Learned:
    """Which tests run a line: as kept from an earlier trial of the same source, or learned now."""
    if asked.learned and asked.learned.exists():
        kept = Learned.read(asked.learned)
        if kept.source == source_of(right):
            return kept
        print(f"{asked.learned} is of another source; learning anew", flush=True)
    learned = learn(right, asked.tests, asked.without)
    if asked.learned:
        learned.write(asked.learned)
    return learned


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("folders", nargs="+", help="folders of cage3d/")
    ask.add_argument("--each", type=int, default=50, help="faults a folder")
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--patience", type=float, default=120.0, help="s of tests for one fault")
    ask.add_argument("--workers", type=int, default=2)
    ask.add_argument("--tests", nargs="+", default=[f"tests/{name}" for name in TESTS])
    ask.add_argument("--without", nargs="+", default=[], help="files of tests to leave out, the slow ones")
    ask.add_argument(
        "--learned", type=Path, help="keep here which test runs which line, or take it from here"
    )
    asked = ask.parse_args()
    home = Path(tempfile.mkdtemp())
    fork = multiprocessing.get_context("fork")
    try:
        # From here on the copies count, so that the work may go on while faults are tried.
        right = under_trial.copied(ROOT, home / "right")
        trees = fork.Queue()
        for number in range(asked.workers):
            trees.put(under_trial.copied(right, home / str(number)))
        learned = learned_of(right, asked)
        under_trial.import_what_is_not_tried()
        total = Score()
        with ProcessPoolExecutor(asked.workers, fork, under_trial.begin, (trees,)) as pool:
            if pool.submit(under_trial.run, learned.quickest(CONTROL)).result() != "survived":
                sys.exit("The tests fail without any fault: no trial.")
            for folder in asked.folders:
                score = Score()
                for fault, ended in try_folder(
                    pool, learned, drawn(right, folder, asked.each, asked.seed), asked.patience
                ):
                    score += Score(ended in ("noticed", "hung"), ended == "hung", 1)
                    if ended not in ("noticed", "hung"):
                        print(f"{ended}: {fault}", flush=True)
                print(f"{folder}, seed {asked.seed}: {score}", flush=True)
                total += score
        print(f"all: {total}, {100 * total.noticed / max(total.tried, 1):.0f} %")
    finally:
        shutil.rmtree(home)


if __name__ == "__main__":
    sys.exit(main())
