"""How much it matters what is not known of the hoops' material, in sentences."""

from __future__ import annotations

from cage3d import units
from cage3d.design.hoop_materials import HOOP_MATERIALS, SOURCE
from cage3d.foresee.stiffness import FARTHEST, PUSH_GRAMS
from cage3d.report.foreseen import GiveReport, HoopMoves, MaterialReport
from cage3d.report.record import Report
from cage3d.report.tables import fine_unit, in_inches, span
from cage3d.wording import capital, listed

ENDS = {
    "stiffness": ("softest", "stiffest"),
    "density": ("lightest", "heaviest"),
    "cover": ("lightest", "heaviest"),
}
SOFT = 1.1  # times from end to end, more than which is told of a hand's push too
SHOWN = {"stiffness": (1e9, "GPa"), "density": (1.0, "kg/m3"), "cover": (1e-3, "g/m of cover")}


def material_lines(report: Report) -> list[str]:
    """One sentence for each thing that is taken from the table, and what creeps."""
    lines = [line_of(report, one) for one in report.materials]
    names = dict.fromkeys(one.material for one in report.materials)
    creeping = [name for name, of in HOOP_MATERIALS.items() if name in names and of.creeps]
    lines += [
        f"{capital(name)} creeps: it keeps a part of the curve in which it is held for weeks; these figures are of"
        " a new and straight one."
        for name in creeping
    ]
    return lines


def line_of(report: Report, one: MaterialReport) -> str:
    size, unit = SHOWN[one.what]
    low, taken, high = (f"{value / size:g}" for value in (one.low, one.taken, one.high))
    names = ENDS[one.what]
    first, last = (moved(report, hoops) for hoops in (one.at_low, one.at_high))
    does = f"either end {first}" if first == last else f"the {names[0]} {first}, the {names[1]} {last}"
    if one.gives_at_low and one.gives_at_high:
        soft, stiff = (most_given(report, gives) for gives in (one.gives_at_low, one.gives_at_high))
        given = (
            f"{soft} with either" if soft == stiff else f"{soft} with the softest, {stiff} with the stiffest"
        )
        does += f"; pushed with {PUSH_GRAMS} g the hoop itself gives {given}"
    elif one.what == "stiffness" and one.high > SOFT * one.low:
        does += f"; under a hand it gives {one.taken / one.low:.1f} to {one.taken / one.high:.1f} times as far, about"
    return f"{capital(one.material)} has {low} to {high} {unit} ({SOURCE}), and {taken} is taken: {does}."


def most_given(report: Report, gives: tuple[GiveReport, ...]) -> str:
    """'2 3/8 in' where the hoop itself gives most, or 'over 6 in' where that cannot be told."""
    dents = [one.dent_m for one in gives if one.dent_m is not None]
    if len(dents) < len(gives):
        return f"over {units.show_length(FARTHEST, report.units)}"
    return units.show_length(max(0.0, *dents), report.units)


def moved(report: Report, hoops: tuple[HoopMoves, ...] | None) -> str:
    """'moves the hem by -1/8 to +1/16 in, any width by up to 1/2 in'."""
    if hoops is None:
        return "finds no rest"
    unit = fine_unit(report)
    edge = [rise for hem in report.hem_hoops for rise in hoops[hem.number - 1].heights]
    wide = max(abs(width) for hoop in hoops for width in hoop.widths)
    high = max(abs(height) for hoop in hoops for height in hoop.heights)
    hem = span(moved_by(report, min(edge)), moved_by(report, max(edge)))
    parts = [
        f"{what} {by} {unit}"
        for what, by in (
            ("the hem by", hem),
            ("any height by up to", unsigned(report, high)),
            ("any width by up to", unsigned(report, wide)),
        )
        if by != "0"
    ]
    return f"moves {listed(parts)}" if parts else "moves nothing that can be seen"


def unsigned(report: Report, metres: float) -> str:
    """'1/16' or '3': sixteenths of an inch or whole millimetres, without the unit."""
    return units.show_inches(metres, 1 / 16) if in_inches(report) else units.show_mm(metres, 0)


def moved_by(report: Report, metres: float) -> str:
    """As `unsigned`, with its sign; '0' where there is none."""
    text = unsigned(report, metres)
    return text if text.startswith("-") or text == "0" else f"+{text}"
