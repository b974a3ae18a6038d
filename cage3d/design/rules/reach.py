"""Rules of reach: can the tapes span the step from one hoop to the next at all?

A tape of length L cannot span a step dr > L between two circles (Pythagoras). A
tape shorter than the step is possible where the others let the hoop move off centre,
and where ties or laces take the hoop out of its circle: then it is a remark.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Design
from cage3d.design.points import parse_point
from cage3d.design.routes import BAND, entry_of, tapes_on
from cage3d.design.rules.body import waist_heights
from cage3d.design.rules.circles import (
    ROOM,
    Reach,
    hoop_girths,
    hoop_levels,
    levels_at_tapes,
    measurable,
    reach_beside,
    reaches,
)
from cage3d.design.rules.openings import goes_round
from cage3d.errors import Problem
from cage3d.units import INCH, UnitError, show_length

# Of the level way out to a hoop beside her, that its tapes must span: of a ring on tapes of 0.85 of it, pressed flat
# against her, a rest is found; on tapes of 0.75 it is drawn up past her waist. Our own trials.
LEAST_SPANNED = 0.8


def hoops_not_shorter_than_the_waist(design: Design) -> Iterator[Problem]:
    if not measurable(design):
        return
    for number, girth in enumerate(hoop_girths(design)):
        if girth < design.wearer.waist - ROOM and goes_round(design, number):
            waist = show_length(design.wearer.waist, design.units)
            yield Problem(
                f"hoops[{number}].length",
                show_length(design.hoops[number].length, design.units),
                f"hoop {number + 1} is shorter than the waist ({waist}) and would not go round it",
                "Write its finished length round",
            )


def held_in(design: Design) -> set[int]:
    """Hoops (from 0) that ties or laces take out of their circles."""
    held = {hoop - 1 for panel in design.panels for hoop in panel.hoops}
    for tie in design.ties:
        for text in (tie.from_, tie.to):
            try:
                hoop, _ = parse_point(text)
            except UnitError:
                continue
            held |= {hoop - 1} if hoop else set()
    return held


def too_short(design: Design, reach: Reach) -> Problem:
    hoop, step, drops, short = reach.hoop, reach.step, reach.drops, reach.short
    place = int(np.argmin(np.where(drops > 0.0, drops, np.inf)))
    tape, drop = int(reach.tapes[place]), float(drops[place])
    above = "waistband" if reach.above == BAND else f"hoop {reach.above + 1}"
    which = (
        ""
        if len(short) == len(reach.tapes)
        else f" on tape{'s' if len(short) > 1 else ''} {', '.join(str(own + 1) for own in short)}"
    )
    longer = "longer than its tapes can spread" if step > 0 else "shorter than its tapes can draw in to"
    least = show_length(abs(step) + trade.TAPE_SPARE, design.units)
    return Problem(
        f"tapes.drops[{tape}][{entry_of(design, tape, hoop)}]",
        show_length(drop, design.units),
        f"tape {two(drop, design)} shorter than step {two(abs(step), design)} "
        f"({above} to hoop {hoop + 1}){which}: the hoop is {longer}",
        f"Make this {'drop' if design.cloth is None else 'stretch of cloth'} {least} or more, or the two lengths more"
        " alike",
    )


def two(metres: float, design: Design) -> str:
    """A length to two places of the design's unit, without the unit: the trade's 'tape 3.00'."""
    if design.units in ("in", "ft"):
        return f"{metres / INCH:.2f}"
    return show_length(float(metres), design.units)


def out_of_its_circle(design: Design, reach: Reach) -> bool:
    """Whether ties, laces, an opening to one side or tapes from elsewhere let a hoop hang otherwise than round."""
    held, written = held_in(design), design.hoops[reach.hoop]
    if written.beside is not None and (reach.above == BAND or written.opening != "none"):
        return True  # `hoops_beside_her_are_reached`; a bow opens
    return bool({reach.hoop, reach.above} & held) or not reach.whole or not of_all_its_tapes(design, reach)


def of_all_its_tapes(design: Design, reach: Reach) -> bool:
    """Whether its tapes are all of the cage, or of the side at which the hoop stands beside her."""
    beside = design.hoops[reach.hoop].beside is not None
    return len(reach.tapes) == (len(tapes_on(design, reach.hoop)) if beside else design.tapes.count)


def hoops_beside_her_are_reached(design: Design) -> Iterator[Problem]:
    """Level and clear of her, a hoop beside her must lie about within reach of its tapes from the band.

    Tapes that are a little short press it against her and draw it flat; much shorter ones draw it up past the waist.
    """
    if not measurable(design):
        return
    for reach in reaches(design):
        if reach.above != BAND or design.hoops[reach.hoop].beside is None or reach.reached:
            continue
        near = reach_beside(design, reach.hoop, reach.tapes, reach.drops, reach.whole, LEAST_SPANNED)
        if not near.reached and reach.drops.all():  # `drops_that_may_be_nothing`
            place = int(np.argmin(reach.drops / reach.steps))
            tape, out = int(reach.tapes[place]), show_length(float(reach.steps[place]), design.units)
            yield Problem(
                f"tapes.drops[{tape}][{entry_of(design, tape, reach.hoop)}]",
                show_length(float(reach.drops[place]), design.units),
                f"hoop {reach.hoop + 1} cannot stand beside her: where tape {tape + 1} passes it, it lies {out} from"
                " the waistband, level",
                f"Make this drop longer than {out}, or the hoop shorter",
            )


def tapes_reach_from_hoop_to_hoop(design: Design) -> Iterator[Problem]:
    if not measurable(design):
        return
    for reach in reaches(design):
        stands_aside = out_of_its_circle(design, reach) and not casing_on_casing(design, reach)
        if not reach.reached and reach.short and not stands_aside:
            yield too_short(design, reach)


def casing_on_casing(design: Design, reach: Reach) -> bool:
    """Whether two casings of cloth would lie over one another all round.

    Laced or not, so short a cloth cannot span a step; such cages took minutes to find pulls of many kilograms, or
    none, and could not be sewn.
    """
    return design.cloth is not None and bool((reach.drops < design.tapes.casing - ROOM).all())


def tapes_short_of_the_step(design: Design) -> Iterator[Problem]:
    """Tapes shorter than the step that the hoop can only meet off centre, or held in by ties."""
    if not measurable(design):
        return
    for reach in reaches(design):
        off = reach.reached or (out_of_its_circle(design, reach) and not casing_on_casing(design, reach))
        beside = reach.above == BAND and design.hoops[reach.hoop].beside is not None
        if off and reach.short and of_all_its_tapes(design, reach) and not beside:
            yield too_short(design, reach)


def hem_above_the_floor(design: Design) -> Iterator[Problem]:
    """The longest way down, were every hoop level and round."""
    if not measurable(design):
        return
    down = max(float(own.max()) for own in levels_at_tapes(design))
    room = min(waist_heights(design)) - design.waistband.depth / 2
    if len(design.hoops) and down > room:
        yield Problem(
            "tapes.drops",
            "",
            f"the lowest hoop would hang {show_length(down - room, design.units)} below the floor",
            "Make the drops shorter, or check waist_height",
        )


def girth_of_the_wearer(design: Design, below_waist: float) -> float:
    """m round the wearer at a level between waist and hip; 0 where nothing was measured there."""
    wearer = design.wearer
    if wearer.hip is None or wearer.hip_drop is None or below_waist > wearer.hip_drop:
        return 0.0
    levels, girths = [0.0, wearer.hip_drop], [wearer.waist, wearer.hip]
    if wearer.high_hip is not None and wearer.high_hip_drop is not None:
        levels.insert(1, wearer.high_hip_drop)
        girths.insert(1, wearer.high_hip)
    return float(np.interp(below_waist, levels, girths))


def hoops_go_round_the_wearer(design: Design) -> Iterator[Problem]:
    """A hoop that hangs at or under the hip and is shorter than it catches above: it never comes to hang there."""
    if not measurable(design):
        return
    girths = hoop_girths(design)
    for hoop, below in enumerate(hoop_levels(design)):
        at_level = girth_of_the_wearer(design, min(below, design.wearer.hip_drop or 0.0))
        ring = design.hoops[hoop].opening == "none" and design.hoops[hoop].beside is None
        if girths[hoop] < at_level - ROOM and ring:
            yield Problem(
                f"hoops[{hoop}].length",
                show_length(design.hoops[hoop].length, design.units),
                f"hoop {hoop + 1} would hang {show_length(below, design.units)} below the waist, and the wearer is"
                f" {show_length(at_level, design.units)} round there or above: it catches on her and never hangs",
                "Make it longer than she is round, with 5 in or more to spare, or hang it higher",
            )


RULES = (
    hoops_not_shorter_than_the_waist,
    tapes_reach_from_hoop_to_hoop,
    hoops_beside_her_are_reached,
    hoops_go_round_the_wearer,
)
REMARKS = (tapes_short_of_the_step, hem_above_the_floor)


def can_be_reached(design: Design) -> bool:
    """Whether none of these rules finds anything: asked of designs that are sought, before anybody writes them."""
    return not any(True for rule in RULES for _ in rule(design))
