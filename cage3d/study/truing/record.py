"""The fitting record as she filled it in: which heights and widths she measured, and which tapes hang loose."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from hashlib import sha256

import numpy as np

from cage3d.design.hoop_materials import one_stuff
from cage3d.design.models import Design
from cage3d.design.routes import passing
from cage3d.design.tables import TableRow, WrittenTable
from cage3d.errors import CageError, Problem
from cage3d.study.truing.hanging import WIDTHS
from cage3d.study.truing.readings import Readings, step_of
from cage3d.units import UnitError, length, unit_name
from cage3d.wording import nearest

HEIGHT, FEELS, DESIGN = "measured height", "tape above feels", "design"
ACROSS = {f"measured {kind}": kind for kind in WIDTHS}
MEASURED = (HEIGHT, *ACROSS)
LOOSE = ("loose", "slack", "limp", "hangs loose", "l")
TAUT = ("taut", "tight", "firm", "tense", "t")
NOTHING_OF_IT = {"name", "production", "notes", "units", "wanted", "buying", "printing", "stage", "hem"}


def record_print(design: Design) -> str:
    """Eight letters that change with everything that decides how a cage hangs, and with nothing else."""
    told = design.model_dump_json(by_alias=True, exclude=NOTHING_OF_IT)
    return sha256(told.encode()).hexdigest()[:8]


@dataclass(frozen=True)
class Record:
    """What the record holds, and how much of what it could."""

    readings: Readings
    heights_missing: tuple[tuple[int, int], ...]  # (tape, hoop) from 0


@dataclass
class Found:
    """Cells as they are read, and what is wrong with them."""

    name: str
    stuff: str  # what the hoops are made of
    values: dict[int, tuple[float, int]]  # of a place among the figures: m, line
    felt: dict[int, tuple[bool, int]]  # of a segment
    problems: list[Problem]

    def wrong(self, said: str, why: str, try_this: str, line: int) -> None:
        self.problems.append(Problem(self.name, said, why, try_this, line))


def record_of(table: WrittenTable, design: Design, name: str) -> Record:
    """What she wrote, checked against the design. Raises CageError with every fault at its line."""
    columns, rows = measured_columns(table.columns, design, name), table.rows
    refuse_other_design(rows, design, name)
    found = Found(name, design.stuff, {}, {}, [])
    for row in rows:
        read_row(found, row, columns, design)
    if found.problems:
        raise CageError(found.problems)
    if not found.values and not found.felt:
        why = "nothing is filled in yet: no height, no width, no tape that was felt"
        raise CageError(Problem(name, "", why, "Write what you measure in the column measured_height"))
    places = np.array(sorted(found.values), dtype=np.intp)
    values = np.array([found.values[place][0] for place in places.tolist()])
    felt = np.array(sorted(found.felt), dtype=np.intp)
    loose = np.array([found.felt[place][0] for place in felt.tolist()], dtype=bool)
    step = step_of(values, design.units in ("in", "ft"))
    tapes = design.tapes.count
    missing = [
        (int(place % tapes), int(place // tapes))
        for place in np.flatnonzero(passing(design).ravel())
        if place not in found.values
    ]
    return Record(Readings(places, values, step, felt, loose), tuple(missing))


def measured_columns(heads: Iterable[str], design: Design, name: str) -> dict[str, tuple[str, str]]:
    """(what it holds, the unit of bare numbers) of each column that she fills in. Raises CageError."""
    columns: dict[str, tuple[str, str]] = {}
    usual = design.units or "mm"
    for head in heads:
        words = head.split()
        unit = unit_name(words[-1]) if len(words) > 1 else None
        what = " ".join(words[:-1]) if unit else head
        if what in (*MEASURED, FEELS):
            columns[head] = (what, unit or usual)
    lacking = [head for head in ("hoop", design.line) if head not in heads]
    if lacking or not columns:
        head = lacking[0] if lacking else HEIGHT
        like = nearest(head, heads)
        why = f"the column {head} is missing" + (f" ({like} stands there)" if like else "")
        try_this = "Fill in tables/fitting-record.csv of cage3d sheets, and leave its first line as it is"
        raise CageError(Problem(name, "", why, try_this, 1))
    return columns


def refuse_other_design(rows: list[TableRow], design: Design, name: str) -> None:
    """Raises CageError where the record says that it was made for another cage."""
    own = record_print(design)
    for row in rows:
        told = row.cells.get(DESIGN, own)
        if told.lower() != own:
            why = f"this record is of another cage, or of another version of it (this design is {own})"
            try_this = "Name the design that it was made from, or make the record anew with cage3d sheets"
            raise CageError(Problem(name, told, why, try_this, row.line))


def read_row(found: Found, row: TableRow, columns: dict[str, tuple[str, str]], design: Design) -> None:
    """One row's cells, each to its place."""
    told = {head: row.cells[head] for head in columns if head in row.cells}
    if not told:
        return
    tapes, hoops = design.tapes.count, len(design.hoops)
    hoop = counted(found, row, "hoop", hoops)
    needs_tape = any(columns[head][0] in (HEIGHT, FEELS) for head in told)
    tape = counted(found, row, design.line, tapes) if needs_tape else 0
    if hoop is None or tape is None:
        return
    if needs_tape and not passing(design)[hoop, tape]:
        why = f"tape {tape + 1} does not pass hoop {hoop + 1}"
        found.wrong(f"hoop {hoop + 1}, tape {tape + 1}", why, "Leave this row empty", row.line)
        return
    for head, said in told.items():
        what, unit = columns[head]
        if what == FEELS:
            feel_of_tape(found, hoop * tapes + tape, said, design, row.line)
            continue
        place = hoop * tapes + tape
        if what in ACROSS:
            place = hoops * tapes + len(WIDTHS) * hoop + WIDTHS.index(ACROSS[what])
        measure(found, place, said, unit, row.line)


def counted(found: Found, row: TableRow, what: str, count: int) -> int | None:
    """The number of a hoop or tape, from 0."""
    said = row.cells.get(what, "")
    number = re.fullmatch(rf"(?:{what} *)?([0-9]{{1,4}})(?:\.0*)?", said.lower())
    if number and 1 <= int(number[1]) <= count:
        return int(number[1]) - 1
    why = f"there is no such {what}" if said else f"the {what} is missing"
    found.wrong(f"{what} {said}".strip(), why, f"Write a whole number from 1 to {count}", row.line)
    return None


def measure(found: Found, place: int, said: str, unit: str, line: int) -> None:
    try:
        metres = length(said, unit)
    except UnitError as fault:
        found.wrong(said, fault.why, fault.try_this, line)
        return
    if not 0.0 < metres < 1000.0:
        try_this = "Write the height above the floor, or leave it empty"
        found.wrong(said, f"no {one_stuff(found.stuff)} hangs there", try_this, line)
    elif place in found.values and abs(found.values[place][0] - metres) > 1e-6:
        why = f"it is measured already in line {found.values[place][1]}, and otherwise"
        found.wrong(said, why, "Leave one of the two", line)
    else:
        found.values[place] = (metres, line)


def feel_of_tape(found: Found, segment: int, said: str, design: Design, line: int) -> None:
    """What a finger says of a tape; of a seam it says nothing, as the cloth beside a slack one bears in its place."""
    if design.cloth is not None:
        found.wrong(said, "seams are not felt, the cloth beside a slack one bears", "Leave it empty", line)
        return
    feel(found, segment, said, line)


def feel(found: Found, segment: int, said: str, line: int) -> None:
    word = " ".join(said.lower().split())
    if word not in LOOSE + TAUT:
        found.wrong(said, "a tape feels loose or taut", "Write loose or taut, or leave it empty", line)
    elif segment in found.felt and found.felt[segment][0] != (word in LOOSE):
        found.wrong(said, f"line {found.felt[segment][1]} says the other", "Leave one of the two", line)
    else:
        found.felt[segment] = (word in LOOSE, line)
