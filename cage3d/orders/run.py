"""The run of an order: every wearer's cage graded, settled, checked and made, then the order for all of them."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from cage3d import flow
from cage3d.design.models import Design
from cage3d.design.read import read
from cage3d.design.tables import table_text
from cage3d.errors import CageError, CommandError, OutputError, Problem
from cage3d.orders.telling import order_json
from cage3d.report import Report
from cage3d.results import RESULTS, TO_FILL_IN, Result, cage_print, joint_print, kind_of, named
from cage3d.sheets.order import Order, Ordered, Refused, first_word, order_of, ordered
from cage3d.sheets.ordering import SHEETS, order_files
from cage3d.sheets.paper.sizes import paper_named
from cage3d.study.grading.grade import Graded, How, Pattern, graded, pattern_of
from cage3d.study.grading.wearers import Entry, waists_of, wearers_of
from cage3d.units import show_mm
from cage3d.write.folder import Folder, Held, Run
from cage3d.write.past import MADE, past_of
from cage3d.write.places import present_at, refuse_file_as_folder

ORDER = "order"  # what the files of the order itself belong to
RECORD = "order.json"
NO_TABLE = "Check the name, or write a table: code,waist,hip and a line for each wearer"


@dataclass(frozen=True)
class Ask:
    """What is made. parts: in every wearer's folder, beside her design; paper: of the order's sheets."""

    how: How = field(default_factory=How)
    parts: Sequence[Result] = RESULTS
    paper: str = "a4"


@dataclass
class Done:
    """What came of it."""

    order: Order | None = None  # None where no cage could be made
    written: list[Path] = field(default_factory=list)
    failed: list[Problem] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def __repr__(self) -> str:
        count = 0 if self.order is None else len(self.order.cages)
        lines = [f"{count} cages, {len(self.written)} files written"]
        return "\n".join([*lines, *(f"not made: {problem}" for problem in self.failed), *self.notes])


def rows_for(design: Design, table: Path | None, waists: str | None) -> tuple[Entry, ...]:
    """The wearers of a table or of a range of waists. Raises CommandError for both or neither, CageError."""
    if (table is None) == (waists is None):
        why = "the wearers stand in a table, or are a range of waists: one of the two"
        raise CommandError(
            Problem("WEARERS", str(table or ""), why, 'Name a table, or write --waists "24..36 by 2"')
        )
    if table is None:
        return waists_of(waists or "", design.units)
    return wearers_of(table_text(table, NO_TABLE), str(table), design.units)


def cages_for(
    pattern: Pattern, rows: Iterable[Entry], how: How, told: Callable[[str], object]
) -> tuple[list[Graded], list[Refused]]:
    """Every wearer's cage, and those of whom there is none with the reason; nothing is written."""
    cages: list[Graded] = []
    refused: list[Refused] = []
    for row in rows:
        told(f"grading for {row.code}")
        try:
            cages.append(graded(pattern, row, how))
        except CageError as fault:
            refused.append(Refused(row, fault.problems))
    return cages, refused


def make_order(
    path: Path,
    table: Path | None,
    waists: str | None,
    folder: Folder,
    ask: Ask,
    told: Callable[[str], object] = lambda _what: None,
) -> Done:
    """One folder a wearer and the order for all, under one folder; a wearer who cannot be served is told and left out.

    A run that was broken off goes on: a folder that holds all of her cage already is left as it is.
    Raises CageError where the design, the table or the folder is at fault; nothing is then written.
    """
    rows = rows_for(read(path), table, waists)
    paper_named(ask.paper)
    told("settling the design")
    return make_all(pattern_of(path), rows, folder, ask, told)


def make_all(
    pattern: Pattern, rows: Sequence[Entry], folder: Folder, ask: Ask, told: Callable[[str], object]
) -> Done:
    """As `make_order`, of a design and wearers that are read."""
    done = Done()
    with folder.held() as held:
        nothing_in_the_way(held, pattern.design, rows, ask)
        cages, refused = cages_for(pattern, rows, ask.how, told)
        made = [one for cage in cages if (one := made_for(cage, held, ask, done, refused, told))]
        done.failed += [problem for one in refused for problem in one.problems]
        told("one order for all")
        put_order(pattern.design, made, refused, held, ask, done)
        done.notes += left_from_before(held.path, rows)
    return done


def nothing_in_the_way(held: Held, design: Design, rows: Iterable[Entry], ask: Ask) -> None:
    """Raises OutputError, before any work, with all that is in the way of any file, and CommandError of a part."""
    for part in ask.parts:
        part.refuse(design)
    problems: list[Problem] = []
    names = [named(name, design) for part in (design_part(""), *ask.parts) for name in part.names]
    wanted = [(held, [*SHEETS, RECORD]), *((Held(held.path / row.folder, held.force), names) for row in rows)]
    for place, files in wanted:
        try:
            refuse_file_as_folder(place.path)
            place.look(files, TO_FILL_IN)
        except OutputError as fault:
            problems += fault.problems
    if problems:
        raise OutputError(problems)


def design_part(text: str) -> Result:
    """Her design, as a part of what is made for her."""
    return Result(
        "design", lambda _settled, _report: {"{stem}.yaml": text.encode()}, ("{stem}.yaml",), foreseen=False
    )


def made_for(
    cage: Graded,
    held: Held,
    ask: Ask,
    done: Done,
    refused: list[Refused],
    told: Callable[[str], object],
) -> Ordered | None:
    """Her folder, filled; None where her cage is no answer after all, or cannot be cut or sewn."""
    code, design = cage.row.code, cage.design
    parts = (design_part(cage.text), *ask.parts)
    place = Folder(held.path / cage.row.folder, held.force)
    try:
        if stands(place.path, design, parts):
            done.notes.append(f"{place.path}: made already, stays as it is")
            one = ordered(cage, checked(cage))
        else:
            with flow.ready(place, design, parts) as own:
                one = ordered(cage, checked(cage))
                made = flow.put_results(cage.settled, own, parts, lambda what: told(f"{code}: {what}"))
            one = replace(one, report=made.report)
            done.written += made.written
            done.failed += [with_code(code, problem) for problem in made.failed]
            done.notes += made.notes
    except CageError as fault:
        refused.append(Refused(cage.row, tuple(with_code(code, problem) for problem in fault.problems)))
        return None
    if not cage.reached:
        done.failed.append(off_the_mark(one))
    return one


def checked(cage: Graded) -> Report:
    """Its figures and warnings. Raises NotSettledError where they cannot be vouched for."""
    return flow.vouched(flow.report_for((), cage.settled), cage.design.name)


def stands(folder: Path, design: Design, parts: Sequence[Result]) -> bool:
    """Whether all these parts of this very cage lie in the folder, as they were made."""
    generations = past_of(folder, force=True)[0].generations
    if len(generations) != 1 or generations[0].cage != cage_print(design):
        return False
    made = generations[0]
    known = {kind_of(part, design) for part in parts} <= set(made.parts.values())
    return known and all(present_at(folder, name) == sha for name, sha in made.sha256.items())


def with_code(code: str, problem: Problem) -> Problem:
    """A problem that says whose cage it is of."""
    said = f"{code}, {problem.said}" if problem.said else code
    return problem if code in problem.said else Problem(
        problem.where, said, problem.why, problem.try_this, problem.line, problem.column
    )  # fmt: skip


def off_the_mark(cage: Ordered) -> Problem:
    """A hem that no first drop, or no cloth above the first casing, brings to where it is wanted."""
    row, first = cage.graded.row, first_word(cage.design)
    off = f"{show_mm(cage.graded.most_off)} mm"
    return Problem(
        row.where, row.code, f"her hem is {off} off, and no first {first} brings it nearer",
        "Write another hem for her, or try --share or --refit", row.line,
    )  # fmt: skip


def put_order(
    design: Design, cages: Sequence[Ordered], refused: Sequence[Refused], held: Held, ask: Ask, done: Done
) -> None:
    """The order's own files; without a cage there is none."""
    if not cages:
        return
    try:
        order = done.order = order_of(design, cages, refused)
    except CageError as fault:
        done.failed += fault.problems
        return
    text = json.dumps(order_json(order), indent=1, ensure_ascii=False, allow_nan=False) + "\n"
    files = {**order_files(order, ask.paper), RECORD: text.encode()}
    run = Run(joint_print([cage.design for cage in cages]), dict.fromkeys(files, ORDER), frozenset({ORDER}))
    done.written += held.put(files, run, done.notes.append)


def left_from_before(folder: Path, rows: Iterable[Entry]) -> list[str]:
    """Notes on folders of wearers who stand in the list no more."""
    now = {row.folder for row in rows}
    others = sorted(place.parent for place in folder.glob(f"*/{MADE}") if place.parent.name not in now)
    return [f"{place}: of an earlier list, stays as it is" for place in others]
