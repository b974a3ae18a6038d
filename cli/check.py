"""cage3d check: how the cage will hang."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from .telling import progress, show_report


def check(
    file: Annotated[Path, typer.Argument(help="The written design, such as petticoat.yaml.")],
    as_json: Annotated[
        bool,
        typer.Option(
            "--json", help="Print the figures as JSON (metres, newtons, kilograms) and nothing else."
        ),
    ] = False,
) -> None:
    """Show how the cage will hang: heights, widths, tilt, pulls, weight, every warning. Writes no files."""
    from cage3d.flow import proved, settle_file
    from cage3d.report import measure, report_json

    with progress().status("settling the cage"):
        settled = settle_file(file)
        report = measure(settled)
    if as_json:
        print(json.dumps(report_json(report), indent=1, allow_nan=False))
    elif settled.trusted:
        show_report(report)
    proved(settled, file)
