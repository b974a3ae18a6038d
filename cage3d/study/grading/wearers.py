"""The list of wearers: a table (CSV) as a workroom keeps it, or a range of waists."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from cage3d.design.faults import printable
from cage3d.design.names import file_stem
from cage3d.design.tables import TableLine, table_of
from cage3d.design.texts import plain_name
from cage3d.errors import CageError, CommandError, Problem
from cage3d.units import UnitError, length, length_range, show_length, unit_name
from cage3d.units.kinds import LENGTHS
from cage3d.wording import nearest

MOST = 500  # wearers in one order
LONGEST_CODE = 60  # letters; it names a folder and stands on labels
SIDES = ("front", "left", "back", "right")
SINGLE = (
    "waist", "waist_height", "waist_breadth", "waist_depth", "high_hip", "high_hip_drop", "hip", "hip_drop",
    "hip_breadth", "hip_depth", "knee", "knee_height",
)  # fmt: skip
PER_SIDE = tuple(f"waist_height_{side}" for side in SIDES)
LENGTH_COLUMNS = (*SINGLE, *PER_SIDE, "hem")
COLUMNS = ("code", "role", *LENGTH_COLUMNS)
SAME_COLUMN = {"wearer": "code", "hem_height": "hem"}
OWN_UNIT = re.compile(r"(?P<name>.*?)(?:_|[ _]*[(\[])(?P<unit>[a-z\"']+)[)\]]?")
KEPT_NAMES = ("old", "order", "tables")  # folders of the order itself
BY = re.compile(r"(?P<range>.+?)\s+by\s+(?P<step>.+)", re.IGNORECASE)


@dataclass(frozen=True)
class Entry:
    """One wearer as written: texts as a design has them, and the same in m."""

    code: str
    given: Mapping[str, Any]  # by key of `wearer`; waist_height may hold one text a side
    metres: Mapping[str, float]  # by column
    role: str = ""
    where: str = ""  # the table, with its line
    line: int | None = None
    hem: float | None = None  # m, where it is written

    @property
    def folder(self) -> str:
        """A safe name for her folder."""
        stem = file_stem(self.code, 100)
        return f"{stem}-cage" if stem in KEPT_NAMES else stem


@dataclass
class Reading:
    """The cells of a table, and what is wrong with them."""

    name: str
    units: str | None  # of bare numbers
    problems: list[Problem] = field(default_factory=list)

    def fault(self, line: int | None, said: str, why: str, try_this: str) -> None:
        self.problems.append(Problem(self.name, printable(said), why, try_this, line))

    def done(self) -> None:
        """Raises CageError where anything was wrong."""
        if self.problems:
            raise CageError(self.problems[:MOST])


def wearers_of(text: str, name: str, units: str | None) -> tuple[Entry, ...]:
    """The wearers of a table (CSV), in its order.

    Its first line names the columns (COLUMNS), with their unit where it is not the design's: 'waist (cm)'. Between
    cells stands a comma, a semicolon or a tab; with the latter two a number may have a decimal comma. An empty cell
    says nothing. name: of the table, in messages; units: of bare numbers. Raises CageError with every fault.
    """
    table = Reading(name, units)
    cells = table_of(text, name)
    heads = heads_of(cells.heads, table)
    table.done()
    lines = cells.lines
    if not lines:
        table.fault(1, "", "the table names no wearer", "Write a line for each: W-11,30,41")
    if len(lines) > MOST:
        table.fault(None, "", f"there are more than {MOST} wearers", "Write several tables")
    rows = [row for line in lines[:MOST] if (row := row_of(line, heads, table))]
    told_twice(rows, table)
    table.done()
    return tuple(rows)


def heads_of(cells: Sequence[str], table: Reading) -> list[tuple[str, str]]:
    """(column, its own unit or '') for each."""
    plain = ["_".join(cell.lower().replace("-", " ").replace("_", " ").split()) for cell in cells]
    while plain and not plain[-1]:  # a spreadsheet's empty columns
        plain.pop()
    heads = [(SAME_COLUMN.get(column, column), unit) for column, unit in map(with_unit, plain)]
    names = [column for column, _ in heads]
    if "name" in names:  # it stands for the code where there is none
        other = "code" if "code" not in names else "role"
        heads = [(other if column == "name" else column, unit) for column, unit in heads]
        names = [column for column, _ in heads]
    for place, column in enumerate(names):
        if column not in COLUMNS:
            near = nearest(column, COLUMNS)
            hint = f"Did you mean {near.replace('_', ' ')}? " if near else ""
            known = f"Columns are {', '.join(COLUMNS).replace('_', ' ')}"
            table.fault(1, cells[place], "there is no such column", f"{hint}{known}")
        elif column in names[:place]:
            table.fault(1, cells[place], "this column stands there twice", "Leave one of them out")
    for needed in ("code", "waist"):
        if needed not in names and not table.problems:
            table.fault(1, "", f"the column {needed} is missing", "Begin the table with: code,waist,hip")
    return heads


def with_unit(head: str) -> tuple[str, str]:
    """'waist_(cm)' and 'waist_cm' as ('waist', 'cm')."""
    found = OWN_UNIT.fullmatch(head)
    unit = unit_name(found["unit"]) if found else None
    return (found["name"], unit) if found and unit else (head, "")


def row_of(written: TableLine, heads: list[tuple[str, str]], table: Reading) -> Entry | None:
    """One wearer; None where her line is at fault, which the table then knows."""
    line, cells = written.number, written.cells
    faults = len(table.problems)
    if any(cells[len(heads) :]):
        why = f"this line has {len(cells)} cells, and the first line {len(heads)}"
        table.fault(line, "", why, "Write 66.5 with a point where a comma stands in a number")
        return None
    told = {column: (cell, unit) for (column, unit), cell in zip(heads, cells, strict=False) if cell}
    code = code_of(told.pop("code", ("", ""))[0], line, table)
    role = printable(told.pop("role", ("", ""))[0], LONGEST_CODE)
    texts = {column: written_out(text, unit) for column, (text, unit) in told.items()}
    metres = dict(lengths_of(texts, line, table))
    if "waist" not in texts:
        table.fault(line, code, "she has no waist, and everything hangs from it", "Write her waist's girth")
    sides = [side for side in PER_SIDE if side in texts]
    if sides and (len(sides) < len(SIDES) or "waist_height" in texts):
        why = "the height of her waist is one, or one for each of front, left, back and right"
        table.fault(line, code, why, "Write all four, or waist height alone")
    if len(table.problems) > faults:
        return None
    given: dict[str, Any] = {key: text for key, text in texts.items() if key in SINGLE}
    if sides:
        given["waist_height"] = {side: texts[f"waist_height_{side}"] for side in SIDES}
    return Entry(code, given, metres, role, table.name, line, metres.get("hem"))


def code_of(text: str, line: int, table: Reading) -> str:
    """Her code, of which a folder is named; '' where it is at fault."""
    if not text:
        table.fault(line, "", "this wearer has no code", "Write one, such as W-11: folder and labels bear it")
        return ""
    try:
        code = plain_name(text)
    except UnitError as fault:
        why = fault.why.replace("the name ", "the code ").replace("a name ", "a code ")
        table.fault(line, text, why.replace("files are", "a folder is"), fault.try_this)
        return ""
    if len(code) > LONGEST_CODE:
        table.fault(line, text, f"the code is longer than {LONGEST_CODE} letters", "Write it shorter")
    return code


def written_out(text: str, unit: str) -> str:
    """A number with the unit of its column, where it carries none."""
    return f"{text} {unit}" if unit and not re.search(r"[a-z\"'″′”’]", text.lower()) else text


def lengths_of(texts: Mapping[str, str], line: int, table: Reading) -> Iterator[tuple[str, float]]:
    """(column, m) of every cell that is a length."""
    for column, text in texts.items():
        try:
            metres = length(text, table.units)
        except UnitError as fault:
            table.fault(line, f"{column.replace('_', ' ')} {text}", fault.why, fault.try_this)
            continue
        if metres <= 0.0:
            why = "a measure is more than nothing"
            table.fault(line, f"{column.replace('_', ' ')} {text}", why, "Write it, or leave the cell empty")
        else:
            yield column, metres


def told_twice(rows: Sequence[Entry], table: Reading) -> None:
    """Codes that stand there twice, or would name the same folder."""
    first: dict[str, Entry] = {}
    for row in rows:
        before = first.setdefault(row.folder, row)
        if before is row:
            continue
        same = before.code == row.code
        why = f"this code stands in line {before.line} too"
        if not same:
            why = f"her folder would be called {row.folder}, as that of {printable(before.code)} in line {before.line}"
        table.fault(row.line, row.code, why, "Give every wearer a code of her own")


def waists_of(text: str, units: str | None) -> tuple[Entry, ...]:
    """A range of waists as wearers: '24..36 by 2'. Raises CommandError."""
    name = "--waists"

    def refuse(why: str, try_this: str = "Write 24..36 by 2") -> CommandError:
        return CommandError(Problem(name, printable(text), why, try_this))

    found = BY.fullmatch(text.strip())
    if found is None:
        raise refuse("a range names its first and last waist and the step between")
    try:
        first, last = length_range(found["range"], units)
        step = length(found["step"], units)
    except UnitError as fault:
        raise refuse(fault.why, fault.try_this) from None
    if step <= 0.0 or first <= 0.0:
        raise refuse("waists and the step between them are more than nothing")
    if last < first:
        says = f"{show_length(last, units)}..{show_length(first, units)} by {found['step']}"
        raise refuse("the range runs backwards", f"Write {says}")
    count = int((last - first) / step + 1e-6) + 1
    if count > MOST:
        raise refuse(f"these are {count} waists, and one order has {MOST} at most", "Write a larger step")
    return tuple(of_size(first + number * step, units) for number in range(count))


def of_size(waist: float, units: str | None) -> Entry:
    """A wearer of whom the waist alone is known (m)."""
    unit = units if units in LENGTHS else "mm"
    text = f"{round(waist / LENGTHS[unit], 4):g} {unit}"
    return Entry(f"Waist {text}", {"waist": text}, {"waist": waist}, where="--waists")
