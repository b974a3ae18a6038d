"""cage3d check: how the cage will hang."""

from __future__ import annotations

import json
from typing import Annotated

import typer

from .options import File
from .telling import progress, show_report


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
    as_json: Annotated[
        bool, typer.Option("--json", help="Print the figures as JSON (m, N, kg) and nothing else.")
    ] = False,
) -> None:
    """Show how the cage will hang: heights, widths, tilt, pulls, weight, every warning. Writes no files."""
    from cage3d.flow import foretold, proved, settle_file
    from cage3d.report import report_json, with_capacity

    with progress().status("settling the cage") as status:
        settled = settle_file(file)
        report = foretold(settled)
        if carry is not None:
            status.update("finding out how much it carries")
            report = with_capacity(report, settled, carry)
    if as_json:
        print(json.dumps(report_json(report), indent=1, allow_nan=False))
    elif settled.trusted:
        show_report(report)
    proved(settled, file)
