"""cage3d check: how the cage will hang."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .as_json import faults_as_json, print_json
from .options import File
from .telling import progress, show_report

if TYPE_CHECKING:
    from cage3d.report import Report
    from cage3d.settle import SettledCage


def check(
    file: File,
    carry: Annotated[
        float | None,
        typer.Option(
            metavar="TIMES",
            min=1.0,
            max=10.0,
            help="Also find how much skirt it carries, and the lightest steel for TIMES the skirt.",
        ),
    ] = None,
    steel: Annotated[
        bool,
        typer.Option(
            "--steel",
            help="Also find the steel that is stiff enough to wear, and whether sizes under buying would do.",
        ),
    ] = False,
    as_json: Annotated[
        bool,
        typer.Option("--json", help="Print the figures as JSON (m, N, kg) and nothing else; faults too."),
    ] = False,
) -> None:
    """Show how the cage will hang: heights, widths, tilt, pulls, weight, every warning. Writes no files."""
    from cage3d.flow import proved, vouched

    with faults_as_json(as_json):
        settled, report = foreseen(file, carry, steel)
        if as_json:
            print_figures(settled, report, file)
    if report.trusted and not as_json:
        show_report(report)
    proved(settled, file)
    vouched(report, file)


def foreseen(file: Path, carry: float | None, steel: bool = False) -> tuple[SettledCage, Report]:
    """The cage as it hangs, and what it will do. Raises CageError."""
    from cage3d.flow import foretold, settle_file
    from cage3d.report import with_capacity, with_suiting

    with progress().status("settling the cage") as status:
        settled = settle_file(file)
        report = foretold(settled)
        if carry is not None:
            status.update("finding out how much it carries")
            report = with_capacity(report, settled, carry)
        if steel:
            status.update("trying steels")
            report = with_suiting(report, settled, *([] if carry is None else [carry]))
    return settled, report


def print_figures(settled: SettledCage, report: Report, file: Path) -> None:
    """The figures, and under `problems` why they are no answer where they are none."""
    from cage3d.report import not_vouched_for, problems_json, report_json, why_not

    problems = [] if settled.trusted else [why_not(settled, str(file))]
    if settled.trusted and not report.trusted:
        problems = [not_vouched_for(report, str(file))]
    print_json(report_json(report) | problems_json(problems))
