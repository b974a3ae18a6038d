"""The rows of a table as spreadsheets save it: commas, semicolons or tabs between the cells, with or without a BOM."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass, replace
from pathlib import Path

from cage3d.design.text_files import bytes_of, text_of
from cage3d.errors import CageError, DesignError, Problem

MOST_ROWS = 2000
NUMBER_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9])")
SAVE_AS_CSV = "Save it as CSV from the spreadsheet (File, Save as)"
MAKE_ONE = "Check the name; cage3d sheets FILE writes tables/fitting-record.csv to fill in"


@dataclass(frozen=True)
class Row:
    """One row: the cells by their column's name, and the line of the file where it begins."""

    cells: dict[str, str]
    line: int


def table_text(path: Path) -> str:
    """The text of a table, in the encodings in which spreadsheets save it. Raises DesignError."""
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
        raise DesignError([of_a_table(problem) for problem in fault.problems]) from None


def of_a_table(problem: Problem) -> Problem:
    """What to do about a file that is no table, where the words were those for a design."""
    missing = "no such file" in problem.why or "folder" in problem.why
    why = problem.why.replace("and a design is a file", "and a table is a file").replace(
        "no design", "no record"
    )
    return replace(problem, why=why, try_this=MAKE_ONE if missing else SAVE_AS_CSV)


def rows_of(text: str, name: str) -> tuple[list[str], list[Row]]:
    """(the columns' names, the rows that hold anything). Raises CageError for what is no table."""
    text = text.lstrip("\ufeff")
    skipped = 0
    if text[:4].lower() == "sep=":  # how some spreadsheets are told what stands between the cells
        text, skipped = text.partition("\n")[2], 1
    first = text.partition("\n")[0]
    separator = max(",;\t", key=first.count)
    reader = csv.reader(io.StringIO(text), delimiter=separator)
    try:
        heads = [tidied_head(head) for head in next(reader, [])]
        rows: list[Row] = []
        while (cells := next(reader, None)) is not None and len(rows) < MOST_ROWS:
            values = [tidied_cell(cell, separator) for cell in cells]
            known = {head: value for head, value in zip(heads, values, strict=False) if head and value}
            if known:
                rows.append(Row(known, reader.line_num + skipped))
    except csv.Error:
        raise CageError(
            Problem(name, "", "this is no table", SAVE_AS_CSV, reader.line_num + skipped)
        ) from None
    return heads, rows


def tidied_head(head: str) -> str:
    return " ".join(head.lower().replace("_", " ").split())


def tidied_cell(cell: str, separator: str) -> str:
    """A cell without blanks about it; a decimal comma as a point, where commas do not stand between cells."""
    cell = cell.strip().removeprefix("'").strip()
    return cell if separator == "," else NUMBER_COMMA.sub(".", cell)
