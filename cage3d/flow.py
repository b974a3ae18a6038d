"""The whole tool on one screen: read -> lay_out -> settle -> measure -> write."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from cage3d.design.read import read, read_text
from cage3d.design.starter import Brief, first_design
from cage3d.errors import NotSettledError, OutputError, Problem
from cage3d.report import Report, measure, why_not, with_capacity, with_marks, with_second_way
from cage3d.results import RESULTS, TO_FILL_IN, Files, Result, cage_print, files_or_problems, kind_of, named
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.write.files import write_whole
from cage3d.write.folder import Folder, Run


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
    notes: tuple[str, ...] = ()  # what was moved, or laid beside a file that she filled in


def make(
    path: Path,
    folder: Folder,
    parts: Sequence[Result] = RESULTS,
    told: Callable[[str], object] = lambda _name: None,
) -> Made:
    """Everything that follows from a design, into one folder; a part that fails leaves the others standing.

    told: called with what is being done, before it is. Raises CageError where nothing can be made.
    """
    design = read(path)
    with folder.held() as held:
        held.look([named(name, design) for part in parts for name in part.names], TO_FILL_IN)
        told("settling the cage")
        settled = proved(settle(lay_out(design)), path)
        told("finding out how much it carries")
        report = with_capacity(foretold(settled), settled)
        files: Files = {}
        kinds: dict[str, str] = {}
        failed: list[Problem] = []
        for part in parts:
            told(part.name)
            made, problems = files_or_problems(part, settled, report)
            made = {named(name, design): data for name, data in made.items()}
            files |= made
            kinds |= dict.fromkeys(made, kind_of(part, design))
            failed += problems
        notes: list[str] = []
        answers_for = frozenset(kind_of(part, design) for part in parts)
        run = Run(cage_print(design), kinds, answers_for, TO_FILL_IN)
        written = held.put(files, run, notes.append)
    return Made(report, written, tuple(failed), tuple(notes))


def new_design(path: Path, brief: Brief, force: bool = False) -> Path:
    """Writes a first design that settles. Raises CageError where measures make none, or a file is there."""
    refuse_existing(path, force)
    text = first_design(brief)
    proved(settle(lay_out(read_text(text, str(path)))), path)
    return write_whole(path, text.encode())


def refuse_existing(path: Path, force: bool) -> None:
    """Raises OutputError where a design would be written over."""
    if path.exists() and not force:
        raise OutputError(
            Problem(str(path), "", "this file is there already", "Choose another name, or use --force")
        )
