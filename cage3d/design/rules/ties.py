"""Rules for ties: do their ends exist, and can they do anything?"""

from __future__ import annotations

import math
from collections.abc import Iterator

from cage3d.design.models import Design, Tie
from cage3d.design.points import OPENS_AT, SIDES, parse_point, point_text, station_fractions, way_round
from cage3d.design.routes import stations_on, tapes_on, ways
from cage3d.design.rules.circles import hoop_girths
from cage3d.errors import Problem
from cage3d.units import UnitError, show_length
from cage3d.wording import numbered

Point = tuple[int | None, int]


def both_ends(design: Design, tie: Tie) -> tuple[Point, Point] | None:
    """Both ends of a tie, None where one of them is not there (ends_that_exist says so)."""
    ends = []
    for text in (tie.from_, tie.to):
        try:
            hoop, tape = parse_point(text)
        except UnitError:
            return None
        if tape not in range(1, design.tapes.count + 1) or (
            hoop is not None and hoop not in range(1, len(design.hoops) + 1)
        ):
            return None
        if hoop is None and not ways(design)[tape - 1].from_band:
            return None
        if hoop is not None and tape - 1 not in tapes_on(design, hoop - 1):
            return None
        ends.append((hoop, tape))
    return ends[0], ends[1]


def tied(design: Design) -> Iterator[tuple[int, Tie, Point, Point]]:
    for number, tie in enumerate(design.ties):
        ends = both_ends(design, tie)
        if ends:
            yield number, tie, *ends


def side_of_tie(design: Design, start: Point, end: Point) -> str | None:
    """The side of her at which the basket stands from hoop to hoop of which a tie runs; None for any other tie."""
    sides = {None if hoop is None else design.hoops[hoop - 1].beside for hoop, _ in (start, end)}
    return sides.pop() if len(sides) == 1 else None


def ends_that_exist(design: Design) -> Iterator[Problem]:
    for number, tie in enumerate(design.ties):
        for key, text in (("from", tie.from_), ("to", tie.to)):
            where = f"ties[{number}].{key}"
            try:
                hoop, tape = parse_point(text)
            except UnitError as fault:
                yield Problem(where, text, fault.why, fault.try_this)
                continue
            if hoop is not None and not 1 <= hoop <= len(design.hoops):
                yield Problem(
                    where,
                    text,
                    f"there is no hoop {hoop}: the design has {len(design.hoops)}",
                    "Count hoops from the top, from 1",
                )
            if not 1 <= tape <= design.tapes.count:
                yield Problem(
                    where,
                    text,
                    f"there is no tape {tape}: the design has {design.tapes.count}",
                    "Count tapes from centre front round by the wearer's left, from 1",
                )
            elif hoop is not None and hoop <= len(design.hoops):
                yield from where_they_cross(design, where, text, hoop, tape)
            elif hoop is None and not ways(design)[tape - 1].from_band:
                why = f"tape {tape} does not begin at the waistband"
                yield Problem(where, text, why, "Write a tape that does, or a hoop that it passes")


def where_they_cross(design: Design, where: str, said: str, hoop: int, tape: int) -> Iterator[Problem]:
    """A point of a hoop is where a tape passes it."""
    on_it = [own + 1 for own in tapes_on(design, hoop - 1)]
    if hoop >= 1 and tape not in on_it:
        why = f"tape {tape} does not pass hoop {hoop}"
        yield Problem(where, said, why, f"Hoop {hoop} passes {numbered('tape', on_it)}: write one of these")


def ends_that_differ(design: Design) -> Iterator[Problem]:
    for number, _, start, end in tied(design):
        if start == end:
            yield Problem(
                f"ties[{number}].to",
                point_text(*end),
                "the tie goes from a point to the same point",
                "Write two different points",
            )
        elif start[0] is None and end[0] is None:
            yield Problem(
                f"ties[{number}].to",
                point_text(*end),
                "both ends are on the waistband, which does not give",
                "Tie a hoop",
            )


def ties_of_a_sensible_length(design: Design) -> Iterator[Problem]:
    """No tie is longer than the longest hoop and the longest tape together."""
    longest = max(hoop.length for hoop in design.hoops) + max(sum(row) for row in design.tapes.drops)
    for number, tie, _, _ in tied(design):
        if tie.length > longest:
            yield Problem(
                f"ties[{number}].length",
                show_length(tie.length, design.units),
                "the tie is longer than any two points of this cage can be apart",
                "Check the number and its unit",
            )


def ties_that_never_pull(design: Design) -> Iterator[Problem]:
    """No two places of a hoop are farther apart than the steel between them."""
    for number, tie, start, end in tied(design):
        if start[0] is None or start[0] != end[0]:
            continue
        steel = steel_between(design, start[0], start[1], end[1], tie.runs)
        if tie.length >= steel:
            stuff = design.steel_of(start[0] - 1).made_of.stuff
            yield Problem(
                f"ties[{number}].length",
                show_length(tie.length, design.units),
                f"the tie is longer than the {stuff} of hoop {start[0]} between its ends"
                f" ({show_length(steel, design.units)}) and will never pull",
                "Make it shorter than the distance between its ends",
            )


def steel_between(design: Design, hoop: int, one: int, other: int, side: str | None = None) -> float:
    """m of steel between two tapes of a hoop (all from 1): on that side of her, else the shorter way round.

    An open hoop has one way only.
    """
    if len(station_fractions(design.tapes)) != design.tapes.count:
        return math.inf  # another rule counts the stations
    places, opening = stations_on(design)[hoop - 1, [one - 1, other - 1]], design.hoops[hoop - 1].opening
    if opening != "none":
        places = (places - OPENS_AT[opening]) % 1.0
    share = abs(float(places[1] - places[0]))
    if opening == "none" and side is not None and design.hoops[hoop - 1].beside is None:
        share = abs(way_round(float(places[0]), float(places[1]), SIDES[side]))
    elif opening == "none":
        share = min(share, 1.0 - share)
    return share * hoop_girths(design)[hoop - 1]


RULES = (
    ends_that_exist,
    ends_that_differ,
    ties_of_a_sensible_length,
)
REMARKS = (ties_that_never_pull,)
