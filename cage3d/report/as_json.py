"""The report as `check --json` gives it: SI units, the keys of the record, figures rounded."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import fields
from typing import Any

from cage3d.errors import Problem
from cage3d.report.record import Report
from cage3d.steady import steady

VERSION = 1  # of this form: goes up when a key goes or comes to mean something else, not when one is added
# Decimals: hundredths of a micron. A sag of a light hoop between its tapes is a few microns and must keep its
# figures; the last bits of a machine must not show.
DIGITS = 8
PROOF = ("residual_N", "lowest_eigenvalue")  # these mean something at any size


def report_json(report: Report) -> dict[str, Any]:
    """Plain values for json.dumps, in the order of the record; a figure that is no number is None."""
    return {"version": VERSION} | {
        name: proof(getattr(report, name)) if name in PROOF else plain(getattr(report, name))
        for name in names(report)
    }


def problems_json(problems: Iterable[Problem]) -> dict[str, Any]:
    """What is wrong, as plain values for json.dumps; line and column are None where there is no place in a file."""
    return {"version": VERSION, "problems": [problem_json(problem) for problem in problems]}


def problem_json(problem: Problem) -> dict[str, Any]:
    return {
        "where": problem.place,
        "written": problem.said,
        "why": problem.why,
        "try": problem.try_this,
        "line": problem.line,
        "column": problem.column,
    }


def names(record: Any) -> list[str]:
    return [field.name for field in fields(record)]


def plain(value: Any) -> Any:
    """Records as dicts, tuples as lists, figures rounded; no negative nought."""
    if isinstance(value, tuple):
        return [plain(part) for part in value]
    if isinstance(value, float):
        return steady(value, DIGITS) if math.isfinite(value) else None
    if value is None or isinstance(value, str | int):
        return value
    return {name: plain(getattr(value, name)) for name in names(value)}


def proof(value: float) -> float | None:
    """Three figures, whatever the size."""
    return float(f"{value:.3g}") if math.isfinite(value) else None
