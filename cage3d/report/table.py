"""The report for reading: tables in the design's units, inches to 1/8."""

from __future__ import annotations

import math
from io import BytesIO, TextIOWrapper

from rich.console import Console, Group, RenderableType
from rich.text import Text

from cage3d import units
from cage3d.foresee.stiffness import FARTHEST, LIMP, STIFF, USUAL
from cage3d.legible import in_signs_of, legible
from cage3d.report.cautions import PREDICTIONS, TEXT_WIDTH
from cage3d.report.figure_table import FigureTable
from cage3d.report.outlook import times
from cage3d.report.record import GiveReport, HoopReport, MarkReport, Report, SegmentReport, SlipReport
from cage3d.shape.weights import GRAVITY
from cage3d.steady import first_largest, first_least, fixed, percent, steady
from cage3d.wording import capital, listed, numbered

ALIKE = 0.5  # of the strongest mark's effect; above it marks count as equally strong


def report_text(report: Report, encoding: str = "utf-8") -> str:
    """The whole report as plain text in signs of an encoding, TEXT_WIDTH wide at most."""
    page = TextIOWrapper(BytesIO(), encoding, "replace", newline="\n")
    console = Console(file=page, width=TEXT_WIDTH, color_system=None, legacy_windows=False)
    console.print(report_view(report, encoding))
    page.seek(0)
    return "\n".join(line.rstrip() for line in page.read().splitlines()) + "\n"


def report_view(report: Report, encoding: str = "utf-8") -> Group:
    """Everything a maker reads, for a rich console whose terminal or file has this encoding."""

    def said(text: str, style: str = "") -> Text:
        return Text(in_signs_of(encoding, legible(text)), style)

    unit, trusted = unit_of(report), report.trusted
    parts: list[RenderableType] = [
        said(report.design, "bold"),
        *([] if trusted else [said(proof_line(report))]),
        *headed(
            said(f"Hoops ({unit}; heights are of the steel above the floor)", "bold"), hoop_table(report)
        ),
        *map(said, summary(report)),
        Text(""),
        *(said(line, "yellow" if report.warnings else "") for line in warning_lines(report)),
        Text(""),
    ]
    if report.marks:
        off = units.show_length(report.marks[0].off_by_m, report.units)
        title = said(f"What one mark {off} too low or too high does to the hem (mm; + higher)", "bold")
        parts += [title, mark_table(report), *map(said, sewing_lines(report)), Text("")]
    if report.ties:
        parts += [said(f"Ties ({unit}; pull in g)", "bold"), tie_table(report)]
    title = said("Pull in the tapes above each hoop (g, as a spring balance shows it)", "bold")
    parts += [title, tape_table(report)]
    return Group(*parts, *([said(proof_line(report))] if trusted else []), said(PREDICTIONS))


def headed(title: Text, table: FigureTable) -> tuple[RenderableType, ...]:
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


def shown(report: Report, metres: float) -> str:
    """A length without its unit, which stands in the heading."""
    return units.show_length(metres, report.units, unit=False)


def unit_of(report: Report) -> str:
    """The unit of bare figures; feet carry their own marks."""
    return {"ft": "feet and inches"}.get(report.units or "mm", report.units or "mm")


def hoop_table(report: Report) -> FigureTable:
    """Lengths, heights above the floor, widths, tilt and bending, hoop by hoop."""
    heads = ("Hoop", "Length", "Front", "Left", "Back", "Right", "Wide", "Deep", "Behind", "Tilt", "Bent")
    return FigureTable(heads, [hoop_row(report, hoop) for hoop in report.hoops])


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
    shares = [percent(hoop.back_share), f"{fixed(hoop.tilt_deg, 1)}°", percent(hoop.strain_used)]
    return [number, shown(report, hoop.length_m), *marked, *widths, *shares]


def summary(report: Report) -> list[str]:
    """The figures that belong to the whole cage."""

    def full(metres: float) -> str:
        return units.show_length(metres, report.units)

    lines = [
        f"Hem {span(full(report.hem.lowest_m), full(report.hem.highest_m))} above the floor, "
        f"{full(report.hem.widest_m)} at its widest.",
        f"Whole cage {full(report.width_side_side_m)} wide, {full(report.width_front_back_m)} front to back, "
        f"{percent(report.back_share)} of that behind the waist.",
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
    lines += bent_round_her(report)
    lines += if_it_slides(report)
    lines += feeling(report)
    lines += carrying(report)
    lines.append(
        "Behind: the share of front to back behind the waist. Bent: of what steel bears before it keeps a kink."
    )
    return lines


def if_it_slides(report: Report) -> list[str]:
    """How far the answer hangs on the skirt lying where it is put: nobody knows its friction on the hoops."""
    found = report.sliding
    if found is None:
        return []
    rises = (found.hem_front_m, found.hem_left_m, found.hem_back_m, found.hem_right_m)
    heights = span(*(moved_by(edge) for edge in (min(rises), max(rises))))
    return [
        f"Were the skirt to slide on the hoops: hem {heights} mm in height, {moved_by(found.wide_m)} mm in width, "
        f"{moved_by(found.deep_m)} mm in depth; {fixed(found.band_kg, 2)} kg of it on the waistband."
    ]


def moved_by(metres: float) -> str:
    """'+3' or '-2': whole millimetres with their sign, '0' where there is none."""
    text = fixed(1000.0 * metres, 0)
    return text if text.startswith("-") or text == "0" else f"+{text}"


def feeling(report: Report) -> list[str]:
    """How far the hem gives under a hand, and the hoops between their tapes."""

    def full(metres: float) -> str:
        return units.show_length(metres, report.units)

    def way(one: GiveReport) -> str:
        if one.inward_m is None or one.dent_m is None:
            return f"more than can be vouched for at the {one.side} (the hoop itself over {full(FARTHEST)})"
        return f"{full(one.inward_m)} at the {one.side} (the hoop itself {full(one.dent_m)})"

    droop = max(hoop.droop_m for hoop in report.hoops)
    lines = [f"Between tapes the steel droops by up to {units.show_mm(droop)} mm."]
    if report.gives:
        ways = [way(one) for one in report.gives]
        lines.append(
            f"Pushed with 200 g the hem goes in by {listed(ways)}; the rest is the cage swinging. "
            f"A hoop that gives less than {full(STIFF)} is called stiff, up to {full(USUAL)} usual, "
            f"more than {full(LIMP)} limp."
        )
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


def bent_round_her(report: Report) -> list[str]:
    """Which ties and tapes do not run straight, since she is in between."""
    lines = []
    if ties := [tie.name for tie in report.ties if tie.on_wearer]:
        lines.append(f"{capital(listed(ties))} {'bend' if len(ties) > 1 else 'bends'} round the wearer.")
    own = [(tape.tape, part.to_hoop) for tape in report.tapes for part in tape.segments if part.on_wearer]
    for hoop in sorted({to_hoop for _, to_hoop in own}):
        tapes = [number for number, to_hoop in own if to_hoop == hoop]
        lie = "lie" if len(tapes) > 1 else "lies"
        lines.append(f"{capital(numbered('tape', tapes))} to hoop {hoop} {lie} on the wearer.")
    return lines


def span(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def tape_table(report: Report) -> FigureTable:
    """Pull in every tape, hoop by hoop, as a spring balance would show it."""
    heads = ["Tape", *(f"to hoop {hoop.number}" for hoop in report.hoops)]
    rows = [[str(tape.tape), *(pull(report, segment) for segment in tape.segments)] for tape in report.tapes]
    return FigureTable(heads, rows)


def pull(report: Report, segment: SegmentReport) -> str:
    return tension(report, segment.tension_N, segment.slack_m)


def tension(report: Report, newtons: float, slack: float) -> str:
    """Grams, or how slack it hangs."""
    grams = newtons / GRAVITY * 1000.0
    if grams < 0.5 and slack > 0.0:
        return f"slack {units.show_length(slack, report.units)}" if slack > 0.0016 else "slack"
    return fixed(grams, 0)


def tie_table(report: Report) -> FigureTable:
    rows = [
        (tie.name, shown(report, tie.length_m), tension(report, tie.tension_N, tie.slack_m))
        for tie in report.ties
    ]
    return FigureTable(("Tie", "Length", "Pull"), rows, words=True)


def settled_again(report: Report) -> list[MarkReport]:
    """The marks that were tried too low and too high."""
    return [mark for mark in report.marks if mark.low or mark.high]


def mark_table(report: Report) -> FigureTable:
    """The marks that matter most, each settled again with it too low and too high."""
    rows = []
    for mark in settled_again(report):
        moves = [*slip_moves(mark.low), *slip_moves(mark.high)]
        shown = ["no rest" if move is None else signed(1000.0 * move) for move in moves]
        rows.append([str(mark.tape), str(mark.hoop), *shown])
    ways = [f"{way} {side}" for way in ("Low:", "High:") for side in ("front", "left", "back", "right")]
    heads = [way if way.endswith("front") else way.split()[1] for way in ways]
    return FigureTable(("Tape", "Hoop", *heads), rows, keys=2)


def slip_moves(slip: SlipReport | None) -> tuple[float | None, ...]:
    """m up at front, left, back and right."""
    return (None,) * 4 if slip is None else (slip.front_m, slip.left_m, slip.back_m, slip.right_m)


def sewing_lines(report: Report) -> list[str]:
    """What the marks say together, and how level the hem comes out."""
    most = [
        max(abs(move) for slip in (mark.low, mark.high) for move in slip_moves(slip) if move is not None)
        for mark in settled_again(report)
    ]
    lines = []
    if most:
        least, largest = (fixed(1000.0 * move, 1) for move in (min(most), max(most)))
        if min(most) > ALIKE * max(most):
            each = span(f"{least} mm", f"{largest} mm")
            lines.append(f"No mark matters much more than the others: each moves the hem by up to {each}.")
        else:
            worst = settled_again(report)[first_largest(most)]
            where = f"tape {worst.tape} at hoop {worst.hoop}"
            lines.append(f"Take most care with {where}: its mark moves the hem by up to {largest} mm.")
    if report.spread is not None:
        mark, hoop, level = (
            units.show_length(length, report.units, 1 / 16)
            for length in (report.spread.mark_m, report.spread.hoop_m, report.spread.level_within_m)
        )
        lines.append(
            f"Sewn to {mark} a mark and {hoop} a hoop, the hem is level, or true to its planned slope, within {level} "
            "nine times in ten."
        )
    return lines


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
        lines = [f"Carries {times(found.factor)} its skirt; then hoop {found.hoop} {found.how}."]
    else:
        lines = [f"Carries {fixed(found.factor, 0)} times its skirt and more."]
    if found.wanted is not None:
        steel = "no strip from stock does"
        if found.lightest_width_m is not None and found.lightest_thickness_m is not None:
            size = f"{units.show_mm(found.lightest_width_m)} x {units.show_mm(found.lightest_thickness_m)} mm"
            steel = f"{size} does, the lightest from stock"
        lines.append(f"For {found.wanted:g} times its skirt {steel}.")
    return lines


def warning_lines(report: Report) -> list[str]:
    """Every warning, numbered; a sentence where there are none."""
    if not report.warnings:
        return ["No warnings."]
    return [f"Warning {number}: {warning.text}" for number, warning in enumerate(report.warnings, start=1)]
