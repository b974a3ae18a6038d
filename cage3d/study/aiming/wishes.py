"""What is wanted of a cage: from the design's own words, or from a table."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cage3d.design.faults import place_of
from cage3d.design.models import Design
from cage3d.design.models.wanted import HEIGHTS
from cage3d.design.read import read_data
from cage3d.design.tables import table_of
from cage3d.errors import CageError, DesignError, Problem
from cage3d.study.figures import Figure

COLUMNS = ("hoop", "height", *HEIGHTS, "width", "side to side", "front to back")


@dataclass(frozen=True)
class Wish:
    """One figure and what it should be (m)."""

    figure: Figure
    value: float


def wishes_of(design: Design) -> tuple[Wish, ...]:
    """What the design's `wanted` asks for, hoop by hoop; then the middle of what the hem's own keys ask beside it.

    Where the hem has any wish of its own, sides without one are to hang in the middle of the `clearance`: a hem that is
    wished lower at the back shall not rise in front. A `clearance` alone is room, and no wish.
    """
    wishes = [
        Wish(Figure(wanted.hoop - 1, kind_of(key)), value)
        for wanted in sorted(design.wanted, key=lambda one: one.hoop)
        for key, value in wanted.asked()
    ]
    known = {wish.figure for wish in wishes}
    hem = design.hem
    of_hem = hem.heights | hem.widths
    if of_hem and hem.clearance is not None:
        of_hem = dict.fromkeys(HEIGHTS, hem.clearance) | of_hem
    middles = [
        Wish(Figure(len(design.hoops) - 1, kind_of(key)), (least + most) / 2.0)
        for key, (least, most) in of_hem.items()
    ]
    return (*wishes, *(wish for wish in middles if wish.figure not in known))


def kind_of(key: str) -> str:
    """A key of `wanted` as a kind of figure: 'front' is 'height front'."""
    return f"height {key}" if key in HEIGHTS else key.replace("_", " ")


def with_table(data: dict[str, object], text: str, name: str) -> Design:
    """The design (plain data) with the wanted figures of a table (CSV) in place of its own.

    The table's first line names the columns (COLUMNS), one line a hoop; an empty cell asks for nothing. Raises
    DesignError: `name` and line of the table, or what else is wrong with the design.
    """
    rows, lines = rows_of(text, name)
    try:
        return read_data(data | {"wanted": rows})
    except DesignError as fault:
        raise DesignError([in_table(problem, name, lines) for problem in fault.problems]) from None


def rows_of(text: str, name: str) -> tuple[list[dict[str, str]], list[int]]:
    """(keys and values a hoop, the line each stands in). Raises CageError."""
    table = table_of(text, name)
    heads = table.columns
    wrong = [head for head in heads if head not in COLUMNS]
    if wrong or "hoop" not in heads:
        why = "is no column of wanted figures" if wrong else "the column hoop is missing"
        raise CageError(Problem(name, wrong[0] if wrong else "", why, f"Write {', '.join(COLUMNS)}", 1))
    rows = [{head.replace(" ", "_"): cell for head, cell in row.cells.items()} for row in table.rows]
    if not rows:
        raise CageError(Problem(name, "", "the table asks for nothing", "Write a line for each hoop", 1))
    return rows, [row.line for row in table.rows]


def in_table(problem: Problem, name: str, lines: list[int]) -> Problem:
    """A fault of `wanted[2].front` as one of a line of the table."""
    steps = place_of(problem.where)
    if len(steps) < 2 or steps[0] != "wanted" or not isinstance(steps[1], int):
        return problem
    column = f"{str(steps[2]).replace('_', ' ')} " if len(steps) > 2 else ""
    return replace(problem, where=name, said=f"{column}{problem.said}", line=lines[steps[1]])
