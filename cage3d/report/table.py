"""The report for reading: tables in the design's units, inches to 1/8."""

from __future__ import annotations

import math
from io import StringIO

from rich.box import SIMPLE_HEAD
from rich.console import Console, Group, RenderableType
from rich.table import Table
from rich.text import Text

from cage3d import units
from cage3d.report.cautions import PREDICTIONS, TEXT_WIDTH
from cage3d.report.record import HoopReport, Report, SegmentReport
from cage3d.shape.weights import GRAVITY
from cage3d.steady import first_least, fixed, percent, steady
from cage3d.units import INCH


def report_text(report: Report) -> str:
    """The whole report as plain text, TEXT_WIDTH wide at most."""
    page = StringIO()
    Console(file=page, width=TEXT_WIDTH, color_system=None, legacy_windows=False).print(report_view(report))
    return "\n".join(line.rstrip() for line in page.getvalue().splitlines()) + "\n"


def report_view(report: Report) -> Group:
    """Everything a maker reads, for a rich console."""
    unit = unit_of(report)
    parts: list[RenderableType] = [
        heading(report.design),
        Text(proof_line(report)),
        heading(f"\nHoops ({unit}; heights are of the steel above the floor)"),
        hoop_table(report),
        *(Text(line) for line in summary(report)),
        heading("\nPull in the tapes above each hoop (g, as a spring balance shows it)"),
        tape_table(report),
    ]
    if report.marks:
        low = "3 mm" if metric(report) else "1/8 in"
        parts += [heading(f"What one mark {low} too low does to the hem (mm; + higher)"), mark_table(report)]
    if report.ties:
        parts += [heading(f"Ties ({unit}; pull in g)"), tie_table(report)]
    return Group(*parts, *warning_lines(report), Text(PREDICTIONS))


def heading(text: str) -> Text:
    return Text(text, style="bold")


def proof_line(report: Report) -> str:
    """Whether this is an answer."""
    if not report.settled:
        return f"NOT SETTLED: {report.residual_N:.2g} N is left unbalanced. These numbers are not an answer."
    if not report.stable:
        return "NOT STABLE: the cage would not stay in this shape. These numbers are not an answer."
    # A round bound and not the figure itself, whose last bits differ from machine to machine.
    bound = max(1e-6, 10.0 ** math.ceil(math.log10(max(report.residual_N, 1e-12))))
    return f"Settled and stable: all forces balance to {bound:g} N."


def shown(report: Report, metres: float) -> str:
    """A length without its unit, which stands in the heading."""
    return units.show_length(metres, report.units, unit=False)


def unit_of(report: Report) -> str:
    """The unit of bare figures; feet carry their own marks."""
    return {"ft": "feet and inches"}.get(report.units or "mm", report.units or "mm")


def hoop_table(report: Report) -> Table:
    """Lengths, heights above the floor, widths, tilt and bending, hoop by hoop."""
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    heads = ("Hoop", "Length", "Front", "Left", "Back", "Right", "Wide", "Deep", "Tilt", "Bent")
    for head in heads:
        table.add_column(head, justify="right", no_wrap=True)
    for hoop in report.hoops:
        table.add_row(*hoop_row(report, hoop))
    return table


def hoop_row(report: Report, hoop: HoopReport) -> list[str]:
    heights = {
        "front": hoop.height_front_m,
        "left": hoop.height_left_m,
        "back": hoop.height_back_m,
        "right": hoop.height_right_m,
    }
    marked = [shown(report, h) + ("*" if side in hoop.measured_at_end else "") for side, h in heights.items()]
    widths = [shown(report, width) for width in (hoop.width_side_side_m, hoop.width_front_back_m)]
    number = f"{hoop.number} open" if hoop.open else str(hoop.number)
    bent = percent(hoop.strain_used)
    return [number, shown(report, hoop.length_m), *marked, *widths, f"{fixed(hoop.tilt_deg, 1)}°", bent]


def summary(report: Report) -> list[str]:
    """The figures that belong to the whole cage."""

    def full(metres: float) -> str:
        return units.show_length(metres, report.units)

    lines = [
        f"Hem {span(full(report.hem.lowest_m), full(report.hem.highest_m))} above the floor, "
        f"{full(report.hem.widest_m)} at its widest.",
        f"Whole cage {full(report.width_side_side_m)} wide, {full(report.width_front_back_m)} front to back.",
        f"Hangs on the waistband: {fixed(report.weight_kg, 2)} kg (cage {fixed(report.cage_kg, 2)} kg, "
        f"skirt {fixed(report.skirt_kg, 2)} kg).",
        f"Steel: {full(report.steel_m)} finished, {full(report.steel_cut_m)} to cut.",
    ]
    lines += [
        f"Hoop {hoop.number} is open by {full(hoop.gap_m)}."
        for hoop in report.hoops
        if hoop.gap_m is not None
    ]
    if any(hoop.measured_at_end for hoop in report.hoops):
        lines.append("* no steel on that side: its nearest end is measured.")
    lines += nearest(report)
    lines += carrying(report)
    lines.append("Bent: the share of what the steel bears before it keeps a kink.")
    return lines


def nearest(report: Report) -> list[str]:
    """Which hoop comes nearest to the wearer, where she was measured."""
    rooms = {hoop.number: hoop.clearance_m for hoop in report.hoops if hoop.clearance_m is not None}
    if not rooms:
        return []
    hoop = list(rooms)[first_least(list(rooms.values()))]
    if any(touch.what == "wearer" and touch.hoop == hoop for touch in report.touching):
        return [f"Hoop {hoop} lies on the wearer."]
    return [f"Nearest to the wearer: hoop {hoop}, {units.show_length(rooms[hoop], report.units)} away."]


def span(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def tape_table(report: Report) -> Table:
    """Pull in every tape, hoop by hoop, as a spring balance would show it."""
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    table.add_column("Tape", justify="right")
    for hoop in report.hoops:
        table.add_column(f"to hoop {hoop.number}", justify="right", no_wrap=True)
    for tape in report.tapes:
        table.add_row(str(tape.tape), *(pull(report, segment) for segment in tape.segments))
    return table


def pull(report: Report, segment: SegmentReport) -> str:
    return tension(report, segment.tension_N, segment.slack_m)


def tension(report: Report, newtons: float, slack: float) -> str:
    """Grams, or how slack it hangs."""
    grams = newtons / GRAVITY * 1000.0
    if grams < 0.5 and slack > 0.0:
        return f"slack {units.show_length(slack, report.units)}" if slack > 0.0016 else "slack"
    return fixed(grams, 0)


def tie_table(report: Report) -> Table:
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    table.add_column("Tie")
    table.add_column("Length", justify="right")
    table.add_column("Pull", justify="right")
    for tie in report.ties:
        table.add_row(tie.name, shown(report, tie.length_m), tension(report, tie.tension_N, tie.slack_m))
    return table


def metric(report: Report) -> bool:
    return report.units not in ("in", "ft")


def mark_table(report: Report) -> Table:
    """The marks that matter most."""
    table = Table(box=SIMPLE_HEAD, pad_edge=False)
    for head in ("Tape", "Hoop", "Front", "Left", "Back", "Right"):
        table.add_column(head, justify="right", no_wrap=True)
    low = 3.0 if metric(report) else INCH / 8 * 1000.0
    for mark in report.marks:
        moves = (mark.hem_front, mark.hem_left, mark.hem_back, mark.hem_right)
        table.add_row(str(mark.tape), str(mark.hoop), *(signed(move * low) for move in moves))
    return table


def signed(millimetres: float) -> str:
    """'+1.2', and 0 for what rounds to it."""
    shown = steady(millimetres, 1)
    return f"{shown:+.1f}" if shown else "0"


def carrying(report: Report) -> list[str]:
    """How much skirt the cage carries, where that was asked."""
    found = report.carries
    if found is None:
        return []
    if found.reached:
        lines = [f"Carries {fixed(found.factor, 1)} times its skirt; then hoop {found.hoop} {found.how}."]
    else:
        lines = [f"Carries {fixed(found.factor, 0)} times its skirt and more."]
    if found.wanted is not None:
        steel = "no strip from stock does"
        if found.lightest_width_m is not None and found.lightest_thickness_m is not None:
            size = f"{units.show_mm(found.lightest_width_m)} x {units.show_mm(found.lightest_thickness_m)} mm"
            steel = f"{size} does, the lightest from stock"
        lines.append(f"For {found.wanted:g} times its skirt {steel}.")
    return lines


def warning_lines(report: Report) -> list[Text]:
    """Every warning, numbered; a sentence where there are none."""
    if not report.warnings:
        return [Text("No warnings.")]
    return [
        Text(f"Warning {number}: {warning.text}", style="yellow")
        for number, warning in enumerate(report.warnings, start=1)
    ]
