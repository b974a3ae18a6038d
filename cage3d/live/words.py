"""What the page is told in JSON: the design as opened, its figures, and what is wrong."""

from __future__ import annotations

from traceback import extract_tb
from typing import Any

from cage3d.design.models import Design
from cage3d.errors import CageError, Problem
from cage3d.live.controls import groups_json
from cage3d.live.fitting import Opened
from cage3d.live.joined import joined
from cage3d.live.seeking import sought_places
from cage3d.live.shown import outline, wanted_lines
from cage3d.page.text import summary, text_html
from cage3d.report import report_json
from cage3d.report.record import Report
from cage3d.settle.settling import MOST_STEPS, USUAL_STEPS
from cage3d.settle.state import SettledCage
from cage3d.wording import capital


def opened_told(
    opened: Opened, settled: SettledCage, data: dict[str, Any] | None, keep: bool
) -> dict[str, Any]:
    """The design as it stands in its file; data: the scene, None where the cage finds no rest."""
    controls = list(opened.controls.values())
    trusted = settled.trusted
    return {
        "kind": "opened", "keep": keep, "file": opened.path.name, "title": opened.design.name,
        "units": opened.design.units, "fractions": opened.design.units in ("in", "ft"),
        "groups": groups_json(controls, opened.design.stuff), "joined": list(joined(opened.design, controls)),
        "wanted": wanted_lines(settled) if trusted else [], "outline": outline(settled) if trusted else [],
        "data": data, "aimable": list(sought_places(opened)),
    }  # fmt: skip


def figures_told(seq: int, report: Report, design: Design, foretold: bool) -> dict[str, Any]:
    """foretold: all that `check` says stands in it; before, what can be measured at once."""
    return {
        "kind": "figures", "seq": seq, "rest": True, "foretold": foretold, "trusted": report.trusted,
        "summary": summary(report), "text": text_html(design, report), "warnings": warnings_told(report),
        "report": report_json(report),
    }  # fmt: skip


def warnings_told(report: Report) -> list[dict[str, str]]:
    return [{"code": warning.code, "text": warning.text} for warning in report.warnings]


def no_rest(seq: int, problem: Problem, dragged: bool = False) -> dict[str, Any]:
    """dragged: it was given few steps, and may yet be found when the hand rests."""
    return {
        "kind": "no rest",
        "seq": seq,
        "why": f"{capital(problem.why)}. {problem.try_this}.",
        "dragged": dragged,
    }


def still_settling(seq: int, steps: int) -> dict[str, Any]:
    """What is known of a cage that has not come to rest yet; steps: of Newton's, taken so far."""
    return {"kind": "still settling", "seq": seq, "steps": steps, "usual": USUAL_STEPS, "most": MOST_STEPS}


def faults_json(fault: CageError) -> list[dict[str, Any]]:
    """Every problem: in which place of the file or design, what was written, why not, what to write instead."""
    return [
        {"where": one.where, "line": one.line, "column": one.column, "written": one.said, "why": one.why,
         "try_this": one.try_this}
        for one in fault.problems
    ]  # fmt: skip


def unexpected(fault: BaseException) -> str:
    """A fault of this tool, in one line."""
    place = extract_tb(fault.__traceback__)[-1]
    where = f"{place.filename.replace(chr(92), '/').rsplit('/', 1)[-1]}:{place.lineno}"
    said = f"{type(fault).__name__}: {' '.join(str(fault).split())[:300]}; {where}"
    return f"This should not have happened ({said}). It is a fault of the tool, not of your design."
