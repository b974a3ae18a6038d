"""Warnings about the answer itself: whether it is one, and what happened on the way to it."""

from __future__ import annotations

from collections.abc import Iterator

from cage3d.design.rules import remarks
from cage3d.report.record import WarningReport
from cage3d.report.warnings.case import Case
from cage3d.wording import capital


def not_settled(case: Case) -> Iterator[WarningReport]:
    if not case.report.settled:
        where = f", most at {case.settled.worst_node}" if case.settled.worst_node else ""
        yield WarningReport(
            "not_settled",
            f"The cage did not come to rest in {case.report.steps} steps: {case.report.residual_N:.2g} N is "
            f"left unbalanced{where}. The numbers are not an answer.",
        )


def not_stable(case: Case) -> Iterator[WarningReport]:
    if case.report.settled and not case.report.stable:
        yield WarningReport(
            "not_stable",
            "The cage is in balance but would not stay there: at the least touch it moves to another shape "
            f"(lowest eigenvalue {case.settled.lowest_eigenvalue:.2g} N/m). The numbers are not an answer.",
        )


def on_the_way(case: Case) -> Iterator[WarningReport]:
    """A shape that snapped over while it was loaded, or that had two ways to go."""
    for note in case.settled.notes:
        yield WarningReport("on_the_way", capital(note).rstrip(".") + ".")


def looks_like_a_slip(case: Case) -> Iterator[WarningReport]:
    """What the written design allows itself that is out of the ordinary."""
    for remark in remarks(case.settled.cage.design):
        said = f" ({remark.said})" if remark.said else ""
        text = f"{remark.where}{said}: {remark.why}. {remark.try_this}"
        yield WarningReport("check_the_design", text.rstrip(".") + ".")
