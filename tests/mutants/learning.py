"""Which tests run a line of the package, and how long each takes, learned from one run under `coverage`."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections import defaultdict
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path

import coverage

INI = "[run]\ndynamic_context = test_function\nsource = cage3d\n"


@dataclass(frozen=True)
class Learned:
    """lines: of each file, the test functions that run each line ("" for no test: the line runs when it is read);
    took: s of each test function, by the name pytest knows it by; source: of what it was learned."""

    lines: dict[str, dict[str, list[str]]]
    took: dict[str, float]
    source: str

    @staticmethod
    def read(path: Path) -> Learned:
        return Learned(**json.loads(path.read_text(encoding="utf-8")))

    def write(self, path: Path) -> None:
        path.write_text(json.dumps(asdict(self)), encoding="utf-8")

    def tests_of(
        self, file: str, fault_line: int, statement: int, patience: float
    ) -> tuple[list[str], list[str]]:
        """Those that run the line, and the rest of those that run something of its file; each the quickest first.

        A line that only runs as its module is read may be asked for by any test: those of its file, then all.
        """
        lines = self.lines.get(file, {})
        line = next((str(n) for n in (fault_line, statement) if str(n) in lines), None)
        if line is None:
            return [], []
        of_file = [test for tests in lines.values() for test in tests if test]
        few, many = (lines[line], of_file) if any(lines[line]) else (of_file, list(self.took))
        own = self._within(patience, few)
        return own, [test for test in self._within(patience, many) if test not in own]

    def quickest(self, count: int) -> list[str]:
        return sorted(self.took, key=lambda test: (self.took[test], test))[:count]

    def _within(self, patience: float, tests: list[str]) -> list[str]:
        """As many as take so many s together, the quickest first, and one at least."""
        chosen, left = [], patience
        for test in sorted({test for test in tests if test in self.took}, key=lambda t: (self.took[t], t)):
            left -= self.took[test]
            if left >= 0.0 or not chosen:
                chosen.append(test)
        return chosen


def learn(tree: Path, tests: list[str], without: list[str]) -> Learned:
    """Run the tests once in this copy of the tree. Ends the program where one of them fails."""
    (tree / "covered.ini").write_text(INI, encoding="utf-8")
    done = subprocess.run(
        [
            sys.executable, "-B", "-P", "-m", "coverage", "run", "--rcfile=covered.ini", "-m", "pytest", "-vv",
            "-p", "no:cacheprovider", "-p", "no:xdist", "--durations=0", "--durations-min=0",
            *(f"--ignore={name}" for name in without), *tests,
        ],
        cwd=tree, capture_output=True, check=False, text=True,
        env={**os.environ, "PYTHONPATH": str(tree), "OPENBLAS_NUM_THREADS": "1"},
    )  # fmt: skip
    if done.returncode:
        sys.exit(done.stdout[-3000:] + done.stderr[-1000:])
    took = times(done.stdout)
    by_context = {test.replace("/", ".").replace(".py::", ".").replace("::", "."): test for test in took}
    data = coverage.CoverageData(str(tree / ".coverage"))
    data.read()
    return Learned(
        {
            str(Path(name).relative_to(tree)): {
                str(line): sorted({by_context.get(context, "") for context in contexts})
                for line, contexts in data.contexts_by_lineno(name).items()
            }
            for name in data.measured_files()
        },
        took,
        source_of(tree),
    )


def source_of(tree: Path) -> str:
    """A fingerprint of the package and its tests."""
    paths = sorted(path for folder in ("cage3d", "tests") for path in (tree / folder).rglob("*.py"))
    return sha256(b"".join(path.read_bytes() for path in paths)).hexdigest()


def times(printed: str) -> dict[str, float]:
    """s of each test function with all its cases, from pytest's table of durations."""
    took: dict[str, float] = defaultdict(float)
    for row in printed.splitlines():
        words = row.split(maxsplit=2)
        if len(words) == 3 and words[1] in ("call", "setup", "teardown") and words[0].endswith("s"):
            took[words[2].split("[")[0]] += float(words[0][:-1])
    return dict(took)
