"""The report for reading: what stands on the page, from the design's name to the cautions."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from io import BytesIO, TextIOWrapper
from textwrap import wrap

from rich.console import Console, ConsoleOptions, Group, RenderableType, RenderResult
from rich.text import Text

from cage3d.legible import in_signs_of, legible
from cage3d.report.cautions import PREDICTIONS, TEXT_WIDTH
from cage3d.report.figure_table import FigureTable
from cage3d.report.how_sure import OFTEN
from cage3d.report.mark_table import mark_table, sewing_lines
from cage3d.report.record import Report
from cage3d.report.summary import summary
from cage3d.report.tables import fine, fine_unit, hoop_table, tape_table, tie_table, unit_of

HELD = "\u00a0"  # stands for a blank at which no line is broken
WITHIN_FIGURES = re.compile(r"(?<=\d) (?=\d+/\d|(?:in|ft|mm|cm|m|g|kg|N|degrees)\b)")


def report_text(report: Report, encoding: str = "utf-8") -> str:
    """The whole report as plain text in signs of an encoding, TEXT_WIDTH wide at most."""
    return as_text(report_view(report, encoding), encoding)


def as_text(view: RenderableType, encoding: str = "utf-8") -> str:
    """What is shown on a screen as plain text, TEXT_WIDTH wide at most."""
    page = TextIOWrapper(BytesIO(), encoding, "replace", newline="\n")
    console = Console(file=page, width=TEXT_WIDTH, color_system=None, legacy_windows=False)
    console.print(view)
    page.seek(0)
    return "\n".join(line.rstrip() for line in page.read().splitlines()) + "\n"


def report_view(report: Report, encoding: str = "utf-8") -> Group:
    """Everything a maker reads, for a rich console whose terminal or file has this encoding."""

    def said(text: str, style: str = "") -> Wrapped:
        return Wrapped(in_signs_of(encoding, legible(text)), style)

    unit, trusted = unit_of(report), report.trusted
    sure = f"; ± {OFTEN}" if report.certainty is not None else ""
    parts: list[RenderableType] = [
        said(report.design, "bold"),
        *([said(f"Notes: {report.notes}")] if report.notes else []),
        *([] if trusted else [said(proof_line(report))]),
        *headed(
            said(f"Hoops ({unit}; heights are of the {report.stuff} above the floor{sure})", "bold"),
            hoop_table(report),
        ),
        *map(said, summary(report)),
        Text(""),
        *(said(line, "yellow" if report.warnings else "") for line in warning_lines(report)),
        Text(""),
    ]
    if report.marks:
        off = f"{fine(report, report.marks[0].off_by_m)} {fine_unit(report)}"
        title = said(
            f"What one mark {off} too low or too high does to the hem ({fine_unit(report)}; + higher)", "bold"
        )
        parts += [title, mark_table(report), *map(said, sewing_lines(report)), Text("")]
    if report.ties:
        parts += [said(f"Ties ({unit}; pull in g)", "bold"), tie_table(report)]
    title = said(pulls_title(report), "bold")
    parts += [title, tape_table(report), *map(said, seam_line(report))]
    return Group(*parts, *([said(proof_line(report))] if trusted else []), said(PREDICTIONS))


def pulls_title(report: Report) -> str:
    if report.on_cloth:
        return "Pull at each seam above each hoop, with the cloth half way to the seams beside it (g)"
    return "Pull in the tapes above each hoop (g, as a spring balance shows it)"


def seam_line(report: Report) -> list[str]:
    """What is written of a drop of nothing, where there is one."""
    if all(part.length_m for tape in report.tapes for part in tape.segments):
        return []
    return ["Sewn: a drop of nothing, where no tape pulls; what the stitches there bear."]


@dataclass(frozen=True)
class Wrapped:
    """Text that is broken between words and never inside a figure: '3 1/8 in' stays on one line."""

    text: str
    style: str = ""

    def __rich_console__(self, _console: Console, options: ConsoleOptions) -> RenderResult:
        kept = WITHIN_FIGURES.sub(HELD, self.text)
        for line in wrap(kept, options.max_width, break_on_hyphens=False) or [""]:
            yield Text(line.replace(HELD, " "), self.style)


def headed(title: RenderableType, table: FigureTable) -> tuple[RenderableType, ...]:
    """A table under its title, after a blank line."""
    return Text(""), title, table


def proof_line(report: Report) -> str:
    """Whether this is an answer."""
    if not report.settled:
        return f"NOT SETTLED: {report.residual_N:.2g} N is left unbalanced. These numbers are not an answer."
    if not report.stable:
        return "NOT STABLE: the cage would not stay in this shape. These numbers are not an answer."
    # A round bound and not the figure itself, whose last bits differ from machine to machine.
    bound = max(1e-6, 10.0 ** math.ceil(math.log10(max(report.residual_N, 1e-12))))
    return f"Settled and stable: all forces balance to {bound:g} N."


def warning_lines(report: Report) -> list[str]:
    """Every warning, numbered; a sentence where there are none."""
    if not report.warnings:
        return ["No warnings."]
    return [f"Warning {number}: {warning.text}" for number, warning in enumerate(report.warnings, start=1)]
