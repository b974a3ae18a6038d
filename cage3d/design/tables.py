"""A maker's table (CSV) as spreadsheets save it: any separator and letters, decimal commas, with or without a BOM."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass, replace
from pathlib import Path

from cage3d.design.text_files import bytes_of, text_of
from cage3d.errors import CageError, DesignError, Problem

MOST_LINES = 2000
DECIMAL_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9])")
SAVE_AS_CSV = "Save it as CSV from the spreadsheet (File, Save as)"


@dataclass(frozen=True)
class TableLine:
    """One line that holds anything: its cells, and the line of the file where it ends."""

    cells: tuple[str, ...]
    number: int


@dataclass(frozen=True)
class TableRow:
    """The same by its columns' names: the cells that hold anything."""

    cells: dict[str, str]
    line: int


@dataclass(frozen=True)
class WrittenTable:
    """The first line, and those below it. Cells have no blanks about them, numbers a decimal point."""

    heads: tuple[str, ...]
    lines: tuple[TableLine, ...]

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns' names in small letters, one blank between words."""
        return tuple(" ".join(head.lower().replace("_", " ").split()) for head in self.heads)

    @property
    def rows(self) -> list[TableRow]:
        """Its lines by `columns`."""
        return [
            TableRow(
                {name: cell for name, cell in zip(self.columns, line.cells, strict=False) if name and cell},
                line.number,
            )
            for line in self.lines
        ]


def table_text(path: Path, missing: str) -> str:
    """The text of a table, in the encodings in which spreadsheets save it.

    missing: what to do where there is no such file. Raises DesignError.
    """
    try:
        data = bytes_of(path)
    except (OSError, ValueError):
        data = b""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    try:
        return text_of(path)
    except DesignError as fault:
        # What is no UTF-8 and no other kind of file is a table in the letters of an older spreadsheet.
        if any("not UTF-8 text" in problem.why for problem in fault.problems):
            return data.decode("cp1252", errors="replace")
        raise DesignError([of_a_table(problem, missing) for problem in fault.problems]) from None


def of_a_table(problem: Problem, missing: str) -> Problem:
    """What to do about a file that is no table, where the words were those for a design."""
    gone = "no such file" in problem.why or "folder" in problem.why
    why = problem.why.replace("a design is a file", "a table is a file").replace(
        "no design is", "no table is"
    )
    return replace(problem, why=why, try_this=missing if gone else SAVE_AS_CSV)


def table_of(text: str, name: str) -> WrittenTable:
    """The cells of a table. Raises CageError for what is none."""
    text, skipped = text.lstrip("\ufeff"), 0
    if text[:4].lower() == "sep=":  # how some spreadsheets are told what stands between the cells
        text, skipped = text.partition("\n")[2], 1
    separator = separator_of(text)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    try:
        heads = tuple(head.strip() for head in next(reader, []))
        lines: list[TableLine] = []
        while (cells := next(reader, None)) is not None and len(lines) < MOST_LINES:
            if any(cell.strip() for cell in cells):
                told = tuple(tidied(cell, separator) for cell in cells)
                lines.append(TableLine(told, reader.line_num + skipped))
    except csv.Error:
        raise CageError(
            Problem(name, "", "this is no table", SAVE_AS_CSV, reader.line_num + skipped)
        ) from None
    return WrittenTable(heads, tuple(lines))


def separator_of(text: str) -> str:
    """What stands between cells: of comma, semicolon and tab the most frequent in the first line."""
    return max(",;\t", key=text.partition("\n")[0].count)


def tidied(cell: str, separator: str) -> str:
    """A cell without blanks about it; a decimal comma as a point, where commas do not stand between cells."""
    cell = cell.strip().removeprefix("'").strip()
    return cell if separator == "," else DECIMAL_COMMA.sub(".", cell)
