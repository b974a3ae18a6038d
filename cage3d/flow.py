"""The whole tool on one screen: read -> lay_out -> settle -> measure -> write."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from cage3d.design.read import read, read_text
from cage3d.design.starter import Measures, first_design
from cage3d.errors import NotSettledError, OutputError, Problem
from cage3d.report import Report, measure, why_not, with_capacity, with_marks, with_second_way
from cage3d.results import RESULTS, Files, Result, files_or_problems
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.write.files import write_whole
from cage3d.write.folder import Folder


def settle_file(path: Path) -> SettledCage:
    """The cage of a design as it hangs; ask `trusted`. Raises DesignError for faults in the design."""
    return settle(lay_out(read(path)))


def proved(settled: SettledCage, path: Path) -> SettledCage:
    """The same cage, where it is an answer. Raises NotSettledError: what was tried, and where it failed."""
    if not settled.trusted:
        raise NotSettledError(why_not(settled, str(path)))
    return settled


def foretold(settled: SettledCage) -> Report:
    """What the cage will do: its measures, its most telling marks, and whether it can hang another way."""
    return with_second_way(with_marks(measure(settled), settled), settled)


@dataclass(frozen=True)
class Made:
    """What was written, and what could not be made."""

    report: Report
    written: tuple[Path, ...]
    failed: tuple[Problem, ...]


def make(
    path: Path,
    folder: Folder,
    parts: Sequence[Result] = RESULTS,
    told: Callable[[str], object] = lambda _name: None,
) -> Made:
    """Everything that follows from a design, into one folder; a part that fails leaves the others standing.

    told: called with what is being done, before it is. Raises CageError where nothing can be made.
    """
    told("settling the cage")
    settled = proved(settle_file(path), path)
    told("finding out how much it carries")
    report = with_capacity(foretold(settled), settled)
    files: Files = {}
    failed: list[Problem] = []
    for part in parts:
        told(part.name)
        made, problems = files_or_problems(part, settled, report)
        files |= made
        failed += problems
    stem = settled.cage.design.slug
    written = folder.put({name.replace("{stem}", stem): data for name, data in files.items()})
    return Made(report, written, tuple(failed))


def new_design(path: Path, measures: Measures, force: bool = False) -> Path:
    """Writes a first design that settles. Raises CageError where measures make none, or a file is there."""
    refuse_existing(path, force)
    text = first_design(measures)
    proved(settle(lay_out(read_text(text, str(path)))), path)
    return write_whole(path, text.encode())


def refuse_existing(path: Path, force: bool) -> None:
    """Raises OutputError where a design would be written over."""
    if path.exists() and not force:
        raise OutputError(
            Problem(str(path), "", "this file is there already", "Choose another name, or use --force")
        )
