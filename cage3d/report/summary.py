"""The figures that belong to the whole cage, a sentence each."""

from __future__ import annotations

from cage3d import units
from cage3d.design.hoop_materials import one_stuff, what_it_bears
from cage3d.foresee.stiffness import FARTHEST, LIMP, PUSH_GRAMS, STIFF, USUAL
from cage3d.report.finer import finer_lines
from cage3d.report.how_sure import how_sure, of_the_whole
from cage3d.report.materials import material_lines, moved_by, unsigned
from cage3d.report.outlook import times
from cage3d.report.record import Report
from cage3d.report.slides import slide_lines
from cage3d.report.steels import suiting_lines
from cage3d.report.tables import fine_at_most, fine_unit, span
from cage3d.report.wishes import wish_lines
from cage3d.steady import exceeds, first_least, fixed, percent
from cage3d.wording import capital, listed, numbered


def summary(report: Report) -> list[str]:
    """The figures that belong to the whole cage."""
    lines = totals(report)
    lines += [
        f"Hoop {hoop.number} is open by {units.show_length(hoop.gap_m, report.units)}."
        for hoop in report.hoops
        if hoop.gap_m is not None
    ]
    lines += own_sides(report)
    if any(hoop.measured_at_end for hoop in report.hoops):
        lines.append(f"* no {one_stuff(report.stuff)} on that side: its nearest end is measured.")
    lines += wish_lines(report)
    lines += slide_lines(report)
    lines += how_sure(report)
    lines += material_lines(report)
    lines += nearest(report)
    lines += bent_round_her(report)
    lines += finer_lines(report)
    lines += if_it_slides(report)
    lines += feeling(report)
    lines += carrying(report)
    lines += suiting_lines(report)
    lines.append(
        f"Behind: the share of front to back behind the waist. Bent: of {what_it_bears(report.stuff)}."
    )
    return [report.says(line) for line in lines]


def own_sides(report: Report) -> list[str]:
    """What the sides of a hoop beside her mean."""
    told = "Front, left, back and right of a hoop beside her are its own, seen from its middle."
    return [told] if any(hoop.beside for hoop in report.hoops) else []


def totals(report: Report) -> list[str]:
    """How high, how wide, how heavy, and how much steel."""

    def full(metres: float) -> str:
        return units.show_length(metres, report.units)

    hem = span(full(report.hem.lowest_m), full(report.hem.highest_m))
    return [
        f"Hem {hem}{of_the_whole(report, 'hem_lowest_m', 'hem_highest_m')} above the floor, "
        f"{full(report.hem.widest_m)}{of_the_whole(report, 'hem_widest_m')} at its widest.",
        f"Whole cage {full(report.width_side_side_m)}{of_the_whole(report, 'width_side_side_m')} wide, "
        f"{full(report.width_front_back_m)}{of_the_whole(report, 'width_front_back_m')} front to back, "
        f"{percent(report.back_share)} of that behind the waist.",
        f"Hangs on the waistband: {fixed(report.weight_kg, 2)} kg (cage {fixed(report.cage_kg, 2)} kg, "
        f"skirt {fixed(report.skirt_kg, 2)} kg).",
        f"{capital(report.stuff)}: {full(report.steel_m)} finished, {full(report.steel_cut_m)} to cut"
        f"{every_strip(report)}.",
    ]


def every_strip(report: Report) -> str:
    """Said where hoops are of several bare strips."""
    each = sum(hoop.cut_length_m for hoop in report.hoops)
    return ", every strip counted" if exceeds(report.steel_cut_m, each) else ""


def if_it_slides(report: Report) -> list[str]:
    """How far the answer hangs on the skirt lying where it is put: nobody knows its friction on the hoops."""
    lines = []
    if report.skirt_on_band_kg > 0.0:
        lines.append(
            f"The skirt slides on the hoops: {fixed(report.skirt_on_band_kg, 2)} kg of it hang on the waistband itself."
        )
    found = report.sliding
    if found is None:
        return lines
    rises = (found.hem_front_m, found.hem_left_m, found.hem_back_m, found.hem_right_m)
    unit, heights = fine_unit(report), span(*(moved_by(report, edge) for edge in (min(rises), max(rises))))
    high = max(abs(rise) for hoop in found.hoops for rise in hoop.heights)
    wide = max(abs(width) for hoop in found.hoops for width in hoop.widths)
    begun = (
        "From a skirt that lies to one that slides freely"
        if lines
        else "Were the skirt to slide on the hoops"
    )
    lines.append(
        f"{begun}: hem height {heights} {unit}, width {moved_by(report, found.wide_m)} {unit}, depth "
        f"{moved_by(report, found.deep_m)} {unit}; heights of all hoops within {unsigned(report, high)} {unit}, widths "
        f"within {unsigned(report, wide)} {unit}; {fixed(found.band_kg, 2)} kg of it on the waistband."
    )
    return lines


def feeling(report: Report) -> list[str]:
    """How far the hem gives under a hand, and the hoops between their tapes."""

    def full(metres: float) -> str:
        return units.show_length(metres, report.units)

    droop = max(hoop.droop_m for hoop in report.hoops)
    hangs = f"the {one_stuff(report.stuff)} droops"
    lines = [f"Between tapes {hangs} by {fine_at_most(report, droop)}."]
    if report.gives:
        lines.append(
            f"{pushed(report)} A hoop that gives less than {full(STIFF)} is called stiff, up to {full(USUAL)} usual, "
            f"more than {full(LIMP)} limp."
        )
    return lines


def pushed(report: Report) -> str:
    """How far the hem goes in, at each place pushed; further than a figure can be vouched for is said once.

    A hoop that is drawn longer as the cage swings gives nothing.
    """

    def full(metres: float) -> str:
        return units.show_length(metres, report.units)

    known = [
        f"by {full(one.inward_m)} at the {one.side} (the hoop itself {full(max(one.dent_m, 0.0))})"
        for one in report.gives
        if one.inward_m is not None and one.dent_m is not None
    ]
    far = [f"at the {one.side}" for one in report.gives if one.inward_m is None or one.dent_m is None]
    ways = known + (
        [f"further than can be vouched for {listed(far)}, the hoop itself over {full(FARTHEST)}"]
        if far
        else []
    )
    rest = "; the rest is the cage swinging" if known else ""
    return f"Pushed with {PUSH_GRAMS} g the hem goes in {listed(ways)}{rest}."


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
        steel = "no strip from stock is strong enough"
        if found.lightest_width_m is not None and found.lightest_thickness_m is not None:
            size = f"{units.show_mm(found.lightest_width_m)} x {units.show_mm(found.lightest_thickness_m)} mm"
            steel = f"{size} is strong enough, the lightest from stock"
        lines.append(f"For {found.wanted:g} times its skirt {steel}.")
    return lines
