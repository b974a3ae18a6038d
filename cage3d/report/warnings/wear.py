"""Warnings about the cage on its wearer and in its place."""

from __future__ import annotations

from collections.abc import Iterator

from cage3d.design import trade
from cage3d.design.baskets import basket_of
from cage3d.design.models.wanted import HEIGHTS, WIDTHS
from cage3d.design.rules.openings import goes_round
from cage3d.report.record import WarningReport
from cage3d.report.warnings.case import Case
from cage3d.report.wishes import range_text
from cage3d.steady import exceeds, first_least
from cage3d.wording import capital, listed


def hem_by_sides(case: Case) -> Iterator[WarningReport]:
    """Of a hem that has wishes of its own for its sides: one warning with every side that is off."""
    found = {side: off for side in HEIGHTS if (off := side_off(case, side)) is not None}
    if not found:
        return
    where = {"left": "left side", "right": "right side"}
    if "left" in found and found["left"] == found.get("right"):
        del found["right"]
        where["left"] = "two sides"
    hangs, changes = [], []
    for side, (height, asked, change) in found.items():
        at = where.get(side, side)
        hangs.append(f"{height} above the floor at the {at}, where {asked} is wanted")
        changes.append(f"{change} at the {at}")
    yield WarningReport(
        "hem_clearance",
        f"The hem hangs {listed(hangs)}. {capital(listed(changes))}; cage3d aim finds the drops.",
    )


def side_off(case: Case, side: str) -> tuple[str, str, str] | None:
    """(its height, what is wanted, what to change) of a side that is not as wanted; None where it is, or may be any."""
    wanted = case.settled.cage.design.hem.at(side)
    if wanted is None:
        return None
    height = float(getattr(case.report.hoops[-1], f"height_{side}_m"))
    asked = " to ".join(dict.fromkeys(map(case.say, wanted)))
    if exceeds(wanted[0] - trade.HEM_TOLERANCE, height):
        return case.say(height), asked, f"shorten the drops by {case.say(wanted[0] - height)}"
    if exceeds(height, wanted[1] + trade.HEM_TOLERANCE):
        return case.say(height), asked, f"lengthen the drops by {case.say(height - wanted[1])}"
    return None


def hem_width(case: Case) -> Iterator[WarningReport]:
    number = len(case.report.hoops)
    for one in case.report.wished:
        if one.what in WIDTHS and not one.met:
            longer = one.is_m < one.least_m
            yield WarningReport(
                "hem_width",
                f"The hem is {case.say(one.is_m)} {one.what.replace('_', ' ')}; {range_text(case.report, one)} is"
                f" wanted. Make hoop {number} {'longer' if longer else 'shorter'}, or draw it to another shape with"
                " ties; cage3d aim finds the lengths.",
            )


def hem_clearance(case: Case) -> Iterator[WarningReport]:
    if case.settled.cage.design.hem.heights:
        yield from hem_by_sides(case)
        return
    wanted = case.settled.cage.design.hem.clearance
    if wanted is None:
        return
    low, high = case.report.hem.lowest_m, case.report.hem.highest_m
    # A hem that needs no levelling to lie within the wish is moved as it is: changed on one side it would tilt.
    level = high - low <= wanted[1] - wanted[0] + 2.0 * trade.HEM_TOLERANCE
    changes = []
    if exceeds(wanted[0] - trade.HEM_TOLERANCE, low):
        where = "all round" if level else "where it is lowest"
        changes.append(f"shorten the drops by {case.say(wanted[0] - low)} {where}")
    if exceeds(high, wanted[1] + trade.HEM_TOLERANCE):
        where = "all round" if level else "where it is highest"
        changes.append(f"lengthen the drops by {case.say(high - wanted[1])} {where}")
    if changes:
        yield WarningReport(
            "hem_clearance",
            f"The hem hangs {case.say(low)} to {case.say(high)} above the floor; "
            f"{case.say(wanted[0])} to {case.say(wanted[1])} is wanted. {capital(' and '.join(changes))}.",
        )


def low_as_wished(case: Case) -> str | None:
    """The side at which the hem is as low as that because it is wished so; None where it is not."""
    lowest, wishes = case.report.hoops[-1], {one.what: one for one in case.report.wished}
    heights = [getattr(lowest, f"height_{side}_m") for side in HEIGHTS]
    side = HEIGHTS[first_least(heights)]
    return side if side in wishes and wishes[side].met and wishes[side].least_m < trade.TRIP_HEIGHT else None


def trip(case: Case) -> Iterator[WarningReport]:
    side = low_as_wished(case)
    if side is not None and exceeds(trade.TRIP_HEIGHT, case.report.hem.lowest_m):
        yield WarningReport(
            "trip",
            f"The hem comes down to {case.say(case.report.hem.lowest_m)} above the floor at the {side}, as is wanted: "
            f"below {case.say(trade.TRIP_HEIGHT)} the wearer steps on it. She must not walk that way in it.",
        )
    elif exceeds(trade.TRIP_HEIGHT, case.report.hem.lowest_m):
        yield WarningReport(
            "trip",
            f"The hem comes down to {case.say(case.report.hem.lowest_m)} above the floor: below "
            f"{case.say(trade.TRIP_HEIGHT)} the wearer steps on it. Shorten the drops.",
        )


def on_floor(case: Case) -> Iterator[WarningReport]:
    for touch in case.report.touching:
        if touch.what == "floor":
            yield WarningReport(
                "on_floor", f"Hoop {touch.hoop} lies on the floor at the {touch.where}. Shorten the drops."
            )


def heel_through(case: Case) -> Iterator[WarningReport]:
    design = case.settled.cage.design
    lowest = [
        hem.number
        for hem in case.report.hem_hoops
        if len(case.report.hoops if hem.beside is None else basket_of(design, hem.number - 1)) > 1
    ]
    if not lowest or not exceeds(trade.HEEL_HEM, case.report.hem.lowest_m):
        return
    spacing = max(
        part.drop_m for tape in case.report.tapes for hem in lowest if (part := tape.to(hem)) is not None
    )
    if exceeds(spacing, trade.HEEL_SPACING):
        yield WarningReport(
            "heel_through",
            f"The two lowest hoops lie up to {case.say(spacing)} apart, close above the floor: a heel can go "
            f"through between them. Keep them within {case.say(trade.HEEL_SPACING)}, or put a hoop between.",
        )


def on_wearer(case: Case) -> Iterator[WarningReport]:
    for touch in case.report.touching:
        # Hoops beside her bear on her with their inner side.
        if touch.what == "wearer" and case.settled.cage.design.hoops[touch.hoop - 1].beside is None:
            yield WarningReport(
                "on_wearer",
                f"Hoop {touch.hoop} lies on the wearer at the {touch.where}: it rides up and rocks as she "
                "walks. Make it longer, or hang it where she is narrower.",
            )


def hip_close(case: Case) -> Iterator[WarningReport]:
    top = case.report.hoops[0]
    touches = any(touch.hoop == 1 and touch.what == "wearer" for touch in case.report.touching)
    # One that stands behind her alone is drawn to her sides by its laces; one beside her bears on her.
    round_her = goes_round(case.settled.cage.design, 0)
    if top.clearance_m is None or touches or not round_her or not exceeds(trade.HIP_ROOM, top.clearance_m):
        return
    room, usual = case.say(max(top.clearance_m, 0.0)), case.say(trade.HIP_ROOM)
    by = "just under" if room == usual else "only"
    yield WarningReport(
        "hip_close",
        f"The top hoop clears the wearer by {by} {room}; {usual} or more all round is usual. Make it longer.",
    )
