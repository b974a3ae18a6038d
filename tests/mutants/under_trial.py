"""A copy of the tree with one fault in it, and whether tests notice it.

Every trial is a fork of a process that has read the libraries already, so that a test of milliseconds takes not much
longer; the package itself is read anew in each, from bytecode wherever no fault is.
"""

from __future__ import annotations

import compileall
import contextlib
import importlib
import os
import resource
import shutil
import signal
import sys
from pathlib import Path
from typing import Any

from faults import Fault

LONGEST = (
    300  # s of a processor for the tests of one fault, five times that by the clock; what hangs is noticed
)
MOST_MEMORY = (
    6 << 30
)  # bytes, ten times what the tests take; a fault that asks for all that there is fails in it
LEFT_OUT = shutil.ignore_patterns(
    ".git", ".venv", "*.egg-info", "__pycache__", ".hypothesis", ".mypy_cache", ".ruff_cache", "build"
)
# Not hypothesis: pytest will read its plugins itself.
LIBRARIES = ("numpy", "scipy.sparse.linalg", "scipy.optimize", "scipy.interpolate", "scipy.spatial", "pydantic",
             "ruamel.yaml", "reportlab.pdfgen.canvas", "pytest", "rich.table", "pdfplumber")  # fmt: skip
tree = Path()  # of this worker


def copied(root: Path, into: Path) -> Path:
    shutil.copytree(root, into, ignore=LEFT_OUT, symlinks=True)
    if not (into / "cage3d_cli").exists():
        (into / "cage3d_cli").symlink_to("cli")
    compileall.compile_dir(into / "cage3d", quiet=1)
    return into


def import_what_is_not_tried() -> None:
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    for name in LIBRARIES:
        with contextlib.suppress(ImportError):
            importlib.import_module(name)


def begin(trees: Any) -> None:
    """The first step of a worker: it takes a tree of its own."""
    global tree
    tree = trees.get()
    os.chdir(tree)
    sys.dont_write_bytecode = True
    sys.path.insert(0, str(tree))
    os.environ["PYTHONPATH"] = str(tree)
    os.environ["PYTHONSAFEPATH"] = "1"


def ending(fault: Fault, tests: tuple[list[str], list[str]]) -> str:
    """How the tests end with the fault put in: first those of its line, then those of its file."""
    if not any(tests):
        return "no test"
    path = tree / fault.path
    right, when = path.read_text(encoding="utf-8"), path.stat().st_mtime_ns
    path.write_text(fault.put_in(right), encoding="utf-8")
    try:
        return next((end for few in tests if few and (end := run(few)) != "survived"), "survived")
    finally:
        path.write_text(right, encoding="utf-8")
        os.utime(path, ns=(when, when))


def run(tests: list[str]) -> str:
    """ "survived", "noticed" or "hung" by these tests, in a process of their own."""
    child = os.fork()
    if not child:
        os.setsid()
        resource.setrlimit(resource.RLIMIT_CPU, (LONGEST, LONGEST + 10))
        with contextlib.suppress(ValueError):  # macOS sets no such limit
            resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
        signal.alarm(5 * LONGEST)
        quiet = os.open(os.devnull, os.O_RDWR)
        for stream in (0, 1, 2):
            os.dup2(quiet, stream)
        pytest = importlib.import_module("pytest")
        try:
            status = int(pytest.main(["-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", *tests]))
        except BaseException:  # a fault that brings pytest down is noticed
            status = 1
        os._exit(status)
    _, status = os.waitpid(child, 0)
    with contextlib.suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)  # what the tests have started and left running
    if os.WIFSIGNALED(status):
        return "hung" if os.WTERMSIG(status) in (signal.SIGALRM, signal.SIGXCPU) else "noticed"
    return "noticed" if os.WEXITSTATUS(status) else "survived"
