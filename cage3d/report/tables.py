"""The tables of the report in the design's units, inches to 1/8: hoops, tapes, ties."""

from __future__ import annotations

from cage3d import units
from cage3d.report.figure_table import FigureTable
from cage3d.report.how_sure import give_or_take
from cage3d.report.record import HoopReport, Report, SegmentReport
from cage3d.shape.weights import GRAVITY
from cage3d.steady import fixed, percent

LEAST_TOLD = 0.0016  # m, a sixteenth of an inch: slack of less would be told as by nothing


def shown(report: Report, metres: float) -> str:
    """A length without its unit, which stands in the heading."""
    return units.show_length(metres, report.units, unit=False)


def unit_of(report: Report) -> str:
    """The unit of bare figures; feet carry their own marks."""
    return {"ft": "feet and inches"}.get(report.units or "mm", report.units or "mm")


def fine(report: Report, metres: float) -> str:
    """A small length without its unit: inches to 1/32, else millimetres to a tenth; see `fine_unit`."""
    return units.show_inches(metres, 1 / 32) if in_inches(report) else units.show_mm(metres)


def fine_change(report: Report, metres: float) -> str:
    """'+1/16' or '-2.1': as `fine`, with its sign; '0' for what rounds to it."""
    text = fine(report, metres)
    return text if text.startswith("-") or text == "0" else f"+{text}"


def fine_unit(report: Report) -> str:
    """The unit of small lengths: of the maker's own system."""
    return "in" if in_inches(report) else "mm"


def fine_at_most(report: Report, metres: float) -> str:
    """'up to 1/16 in'; 'less than 1/32 in' where it rounds to nothing."""
    text, unit = fine(report, metres), fine_unit(report)
    return f"less than {'1/32' if unit == 'in' else '0.1'} {unit}" if text == "0" else f"up to {text} {unit}"


def in_inches(report: Report) -> bool:
    return report.units in ("in", "ft")


def hoop_table(report: Report) -> FigureTable:
    """Lengths, heights above the floor, widths, tilt and bending, hoop by hoop."""
    heads = ("Hoop", "Length", "Front", "Left", "Back", "Right", "Wide", "Deep", "Behind", "Tilt", "Bent")
    rows = []
    for place, hoop in enumerate(report.hoops):
        rows.append(hoop_row(report, hoop))
        if report.certainty is not None:
            sure = report.certainty.hoops[place]
            rows.append(
                [
                    "",
                    "",
                    *(f"±{give_or_take(m, report.units)}" for m in (*sure.heights, *sure.widths)),
                    "",
                    "",
                    "",
                ]
            )
    return FigureTable(heads, rows)


def hoop_row(report: Report, hoop: HoopReport) -> list[str]:
    heights = {
        "front": hoop.height_front_m,
        "left": hoop.height_left_m,
        "back": hoop.height_back_m,
        "right": hoop.height_right_m,
    }
    marked = [shown(report, h) + ("*" if side in hoop.measured_at_end else "") for side, h in heights.items()]
    widths = [shown(report, width) for width in (hoop.width_side_side_m, hoop.width_front_back_m)]
    number = f"{hoop.number} {hoop.kind}".rstrip()
    shares = [percent(hoop.back_share), f"{fixed(hoop.tilt_deg, 1)}°", percent(hoop.strain_used)]
    return [number, shown(report, hoop.length_m), *marked, *widths, *shares]


def span(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def tape_table(report: Report) -> FigureTable:
    """Pull in every tape, hoop by hoop, as a spring balance would show it."""
    heads = [report.says("Tape"), *(f"to hoop {hoop.number}" for hoop in report.hoops)]
    rows = [
        [str(tape.tape), *(pull(report, tape.to(hoop.number)) for hoop in report.hoops)]
        for tape in report.tapes
    ]
    return FigureTable(heads, rows)


def pull(report: Report, segment: SegmentReport | None) -> str:
    """Nothing where no tape comes to the hoop; in a seam of hoops what its stitches bear."""
    if segment is None:
        return "–"
    told = tension(report, segment.tension_N, segment.slack_m)
    return told if segment.length_m else f"sewn, {told}"


def tension(report: Report, newtons: float, slack: float) -> str:
    """Grams, or how slack it hangs."""
    if hangs_slack(newtons, slack):
        return f"slack {units.show_length(slack, report.units)}" if slack > LEAST_TOLD else "slack"
    return fixed(newtons / GRAVITY * 1000.0, 0)


def hangs_slack(newtons: float, slack: float) -> bool:
    """Whether a tape or tie is told as slack: under half a gram, and longer than what it spans."""
    return newtons / GRAVITY * 1000.0 < 0.5 and slack > 0.0


def tie_table(report: Report) -> FigureTable:
    rows = [
        (tie.name, shown(report, tie.length_m), tension(report, tie.tension_N, tie.slack_m))
        for tie in report.ties
    ]
    return FigureTable(("Tie", "Length", "Pull"), rows, words=True)
