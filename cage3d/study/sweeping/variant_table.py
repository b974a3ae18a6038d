"""What came of a sweep as a table: a row a variant, with how sure lengths are and numbers of what to mind."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from cage3d.report import Report, measure, with_certainty
from cage3d.report.figure_table import FigureTable
from cage3d.report.how_sure import give_or_take
from cage3d.shape.weights import GRAVITY
from cage3d.steady import fixed, percent
from cage3d.study.sweeping.vary import Varied
from cage3d.units import show_length

FINE = 1 / 16  # in, to which lengths are shown
WHICH = ("First", "Second")
MISSING = "–"


@dataclass(frozen=True)
class Sure:
    """How sure lengths are, nine times in ten: worked out at one variant, the middle one of those that hang."""

    variant: int
    report: Report  # with its certainty


def sure_of(varied: Varied) -> Sure | None:
    """A second or more of work; None where no variant is an answer that was held."""
    held = [variant for variant in varied.answers if variant in varied.hung]
    if not held:
        return None
    middle = held[len(held) // 2]
    settled = varied.settled(middle)
    return Sure(middle, with_certainty(measure(settled), settled))


@dataclass(frozen=True)
class Column:
    """A column of figures. sure: its +- in the report of certainty, where it is a length."""

    head: str
    cell: Callable[[dict[str, Any]], str]
    sure: str = ""


def columns_of(varied: Varied) -> list[Column]:
    units = varied.sweep.design.units

    def length(head: str, name: str, sure: str = "") -> Column:
        return Column(head, lambda told: show_length(told[name], units, FINE, unit=False), sure or name)

    found = [
        length("Hem low", "hem_lowest_m"),
        length("Hem high", "hem_highest_m"),
        length("Wide", "width_side_side_m"),
        length("Deep", "width_front_back_m"),
        Column("Behind", lambda told: percent(told["back_share"])),
        Column("Tilt", lambda told: f"{fixed(told['most_tilt_deg'], 1)}°"),
        Column("Bent", lambda told: percent(told["most_strain_used"])),
        Column("Pull", lambda told: grams(told["most_tension_N"])),
    ]
    ties = len(varied.sweep.design.ties)
    if ties:
        names = [f"tie_{number}_tension_N" for number in range(1, ties + 1)]
        found.append(Column("Tie", lambda told: grams(max(told[name] for name in names))))
    if any(one.figures.get("slack_tapes") for one in varied.told):
        found.append(Column("Slack", lambda told: fixed(told["slack_tapes"], 0)))
    return found


def grams(newtons: float) -> str:
    return fixed(newtons / GRAVITY * 1000.0, 0)


def value_heads(varied: Varied) -> list[str]:
    """Over the values: their unit."""
    steps = varied.sweep.steps
    words = ["At"] if len(steps) == 1 else WHICH
    return [f"{word}, {one.unit}" if one.unit else word for word, one in zip(words, steps, strict=True)]


def variant_table(varied: Varied, sure: Sure | None) -> FigureTable:
    columns, sweep = columns_of(varied), varied.sweep
    marks = mind_marks(varied)
    heads = [*value_heads(varied), *(column.head for column in columns), *(["Mind"] if marks else [])]
    rows = []
    for variant, told in enumerate(varied.told):
        pairs = zip(sweep.steps, sweep.places(variant), strict=True)
        values = [steps.shown(place, unit=False) for steps, place in pairs]
        cells = [column.cell(told.figures) if told.figures else MISSING for column in columns]
        minded = ", ".join(map(str, sorted({marks[code] for code, _ in told.warnings})))
        rows.append([*values, *cells, *([minded] if marks else [])])
    if sure is not None and sure.report.certainty is not None:
        spare = ["±", *[""] * (len(sweep.steps) - 1)]
        give = [
            f"±{give_or_take(getattr(sure.report.certainty, column.sure), sure.report.units)}"
            if column.sure
            else ""
            for column in columns
        ]
        rows.append([*spare, *give, *([""] if marks else [])])
    return FigureTable(heads, rows, keys=len(sweep.steps))


def mind_marks(varied: Varied) -> dict[str, int]:
    """A number for every kind of warning, in the order in which they come."""
    codes = dict.fromkeys(code for told in varied.told for code, _ in told.warnings)
    return {code: number for number, code in enumerate(codes, start=1)}
