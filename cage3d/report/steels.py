"""Which steel suits, in sentences."""

from __future__ import annotations

from cage3d import units
from cage3d.foresee.stiffness import FARTHEST, PUSH_GRAMS, USUAL
from cage3d.foresee.suiting import NO_REST, SOFT
from cage3d.report.foreseen import SteelReport
from cage3d.report.record import Report
from cage3d.report.tables import fine_at_most
from cage3d.steady import first_largest, fixed, percent


def suiting_lines(report: Report) -> list[str]:
    """The steel of the stock, and the maker's own; nothing where it was not asked."""
    found = report.suiting
    if found is None:
        return []
    most = units.show_length(USUAL, report.units)
    load = f", and {found.carries:g} times the skirt carried" if report.skirt_kg else ""
    bounds = (
        f"at most {most} under {PUSH_GRAMS} g (common practice), a third of what it bears left for knocks and walking "
        f"(our own judgement){load}"
    )
    best, size = found.steel, size_of(found.steel)
    if not best.fault:
        lines = [
            f"The lightest steel from stock for {bounds}: {size}. In every hoop it {figures(report, best)}."
        ]
    elif best.fault in (SOFT, NO_REST):
        lines = [
            f"No steel from stock does for {bounds}; the stiffest, {size}, {figures(report, best)}. Use two strands, "
            "more hoops or a shorter hem, or live with a softer one."
        ]
    else:
        lines = [f"No steel from stock does for {bounds}; {size} is stiff enough and {best.fault}."]
    for steel in found.own:
        verdict = f"does not do, {steel.fault}" if steel.fault else "would do"
        told = "" if steel.fault == NO_REST else f": it {figures(report, steel)}"
        lines.append(f"Of your own, {size_of(steel)} {verdict}{told}.")
    return lines


def size_of(steel: SteelReport) -> str:
    return f"{units.show_mm(steel.width_m, 2)} x {units.show_mm(steel.thickness_m, 2)} mm"


def figures(report: Report, steel: SteelReport) -> str:
    """'gives 2 in at the front, weighs 0.41 kg, and is bent to 35% of ...'."""

    def full(metres: float) -> str:
        return units.show_length(metres, report.units)

    told = [(one.side, one.dent_m) for one in steel.gives if one.dent_m is not None]
    if len(told) < len(steel.gives) or not told:
        dent = f"gives more than {full(FARTHEST)}, more than can be vouched for"
    else:
        side, largest = told[first_largest([most for _, most in told])]
        dent = f"gives {full(largest)} at the {side}"
    bent = "" if steel.strain_used is None else f", is bent to {percent(steel.strain_used)} of what it bears"
    droop = "" if steel.droop_m is None else f", droops by {fine_at_most(report, steel.droop_m)}"
    return (
        f"{dent}{droop}{bent}, kinks below a radius of {full(steel.least_radius_m)}, and weighs "
        f"{fixed(steel.mass_kg, 2)} kg"
    )
