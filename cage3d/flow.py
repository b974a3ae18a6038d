"""The whole tool on one screen: read -> lay_out -> settle -> measure -> write."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from cage3d import results
from cage3d.beside import Beside
from cage3d.design.first.brief import Brief
from cage3d.design.first.reading import read_first
from cage3d.design.first.starter import first_cage
from cage3d.design.first.text import written as first_text
from cage3d.design.models import Design
from cage3d.design.read import read
from cage3d.design.schema import FILE, FOR_EDITORS, is_schema, schema_text
from cage3d.errors import NotSettledError, OutputError, Problem
from cage3d.report import (
    Report,
    measure,
    not_vouched_for,
    why_not,
    with_capacity,
    with_certainty,
    with_finer,
    with_marks,
    with_second_way,
    with_slides,
    with_stiffness,
)
from cage3d.results import RESULTS, TO_FILL_IN, Files, Result, cage_print, files_of_all, kind_of, named
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.study.aiming.first_numbers import as_it_hangs
from cage3d.study.processes import cores
from cage3d.write.files import write_whole
from cage3d.write.folder import Folder, Held, Run


def settle_file(path: Path) -> SettledCage:
    """The cage of a design as it hangs; ask `trusted`. Raises DesignError for faults in the design."""
    return settle(lay_out(read(path)))


def proved(settled: SettledCage, path: Path | str) -> SettledCage:
    """The same cage, where it is an answer. Raises NotSettledError: what was tried, and where it failed."""
    if not settled.trusted:
        raise NotSettledError(why_not(settled, str(path)))
    return settled


def foretold(settled: SettledCage) -> Report:
    """What the cage will do: its measures, its most telling marks, and whether it can hang another way."""
    report = with_slides(with_certainty(with_marks(measure(settled), settled), settled), settled)
    return with_finer(with_second_way(with_stiffness(report, settled), settled), settled)


def vouched(report: Report, path: Path | str) -> Report:
    """The same report of a cage that is `proved`. Raises NotSettledError where its figures hang on the nodes."""
    if not report.trusted:
        raise NotSettledError(not_vouched_for(report, str(path)))
    return report


def report_for(parts: Sequence[Result], settled: SettledCage) -> Report:
    """What is foreseen where a part tells it, which takes most of the work; in any case warnings, trust and how sure
    its figures are."""
    if any(part.foreseen for part in parts):
        return foretold(settled)
    report = with_slides(with_certainty(measure(settled), settled), settled)
    return with_finer(with_second_way(report, settled), settled)


@dataclass(frozen=True, repr=False)
class Made:
    """What was written, and what could not be made."""

    report: Report
    written: tuple[Path, ...]
    failed: tuple[Problem, ...]
    notes: tuple[str, ...] = ()  # what was moved, or laid beside a file that she filled in

    def __repr__(self) -> str:
        count = len(self.written)
        lines = [f"{count} file{'s' if count != 1 else ''} written"]
        return "\n".join([*lines, *(f"not made: {problem}" for problem in self.failed), *self.notes])


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
    with ready(folder, design, parts) as held:
        told("settling the cage")
        return put_results(proved(settle(lay_out(design)), path), held, parts, told)


def make_of(settled: SettledCage, folder: Folder, parts: Sequence[Result] = RESULTS) -> Made:
    """As `make`, of a cage that is settled already. Raises CageError where nothing can be made."""
    design = settled.cage.design
    with ready(folder, design, parts) as held:
        return put_results(proved(settled, design.name), held, parts, lambda _name: None)


@contextmanager
def ready(folder: Folder, design: Design, parts: Sequence[Result]) -> Iterator[Held]:
    """The folder held for one run, once nothing is in the way of these parts. Raises OutputError."""
    for part in parts:
        part.refuse(design)
    with folder.held() as held:
        held.look([named(name, design) for part in parts for name in part.names], TO_FILL_IN)
        yield held


def put_results(
    settled: SettledCage, held: Held, parts: Sequence[Result], told: Callable[[str], object]
) -> Made:
    """Makes every part and writes what could be made. Raises OutputError."""
    design = settled.cage.design
    with Beside(cores()) as beside:
        told("finding out how much it carries")
        report = report_with_capacity(parts, settled, beside)
        answers = files_of_all(parts, settled, report, beside, told)
    files: Files = {}
    kinds: dict[str, str] = {}
    failed: list[Problem] = []
    for part, (made, problems) in zip(parts, answers, strict=True):
        made = {named(name, design): data for name, data in made.items()}
        files |= made
        kinds |= dict.fromkeys(made, kind_of(part, design))
        failed += problems
    notes: list[str] = []
    answers_for = frozenset(kind_of(part, design) for part in parts)
    run = Run(cage_print(design), kinds, answers_for, TO_FILL_IN)
    written = held.put(files, run, notes.append)
    return Made(report, written, tuple(failed), tuple(notes))


def report_with_capacity(parts: Sequence[Result], settled: SettledCage, beside: Beside) -> Report:
    """As `report_for`, and how much it carries. Raises NotSettledError where its figures hang on the nodes."""
    name, foreseen = settled.cage.design.name, any(part.foreseen for part in parts)
    if beside.alone:
        return with_capacity(vouched(report_for(parts, settled), name), settled)
    measured = measure(settled)
    loaded = beside.begin(under_load, measured, settled, foreseen)
    report = with_certainty(with_marks(measured, settled) if foreseen else measured, settled)
    report = vouched(with_finer(with_second_way(report, settled), settled), name)
    load = loaded()
    more = load.warnings[len(measured.warnings) :]
    return replace(report, gives=load.gives, carries=load.carries, warnings=report.warnings + more)


def under_load(measured: Report, settled: SettledCage, foreseen: bool) -> Report:
    """A measured cage's report with all that a hand and more skirt tell of it, of which the rest does not hang."""
    return with_capacity(with_stiffness(measured, settled) if foreseen else measured, settled)


def new_design(path: Path, brief: Brief, force: bool = False) -> list[Path]:
    """Writes a first design that settles, and beside it the schema by which editors help to write it.

    Raises CageError where measures make no cage, or a file is there.
    """
    refuse_existing(path, force)
    cage = first_cage(brief)
    text = first_text(brief, as_it_hangs(read_first(first_text(brief, cage), brief), cage))
    proved(settle(lay_out(read_first(text, brief))), path)
    schema = path.parent / FILE
    if not may_hold_schema(schema):
        return [write_whole(path, text.encode())]
    written = [write_whole(path, (FOR_EDITORS + text).encode())]
    return [*written, write_whole(schema, schema_text().encode())]


def may_hold_schema(path: Path) -> bool:
    """Whether nothing is there, or a schema of this tool; another file of that name is left alone."""
    try:
        return is_schema(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return True
    except (OSError, UnicodeDecodeError):
        return False


def refuse_existing(path: Path, force: bool) -> None:
    """Raises OutputError where a design would be written over."""
    if path.exists() and not force:
        raise OutputError(
            Problem(str(path), "", "this file is there already", "Choose another name, or use --force")
        )


def make_page(
    paths: Sequence[Path],
    folder: Folder,
    told: Callable[[str], object] = lambda _name: None,
    wearer: bool = False,
) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    """The page of one design, or of two side by side: (what was written, notes on what stood in its place).

    wearer: she is shown at first, and not her form.
    Raises CageError where a design is at fault, a cage finds no rest, or the file cannot be written.
    """
    designs = [read(path) for path in paths]
    if wearer:
        for design in designs:
            results.refuse_wearer(design)
    name = results.page_name(designs)
    with folder.held() as held:
        held.look([name], TO_FILL_IN)
        cages = []
        for path, design in zip(paths, designs, strict=True):
            told(f"settling {design.name}")
            settled = proved(settle(lay_out(design)), path)
            cages.append((settled, vouched(foretold(settled), path)))
        told("page")
        notes: list[str] = []
        run = Run(results.joint_print(designs), {name: "page"}, frozenset({"page"}), TO_FILL_IN)
        written = held.put({name: results.page_of(cages, wearer)}, run, notes.append)
    return written, tuple(notes)
