"""Rules for ties: do their ends exist, and can they do anything?"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Design, Tie
from cage3d.design.points import parse_point, point_text, station_fractions
from cage3d.design.rules.reach import hoop_girths
from cage3d.errors import Problem
from cage3d.units import UnitError, both, show_length

BODY_REACH = 1.5  # times hip_drop: ties above this level pass the trunk, below it the legs
NO_DISTANCE = 1e-9  # of half the body's breadth
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
        ends.append((hoop, tape))
    return ends[0], ends[1]


def tied(design: Design) -> Iterator[tuple[int, Tie, Point, Point]]:
    for number, tie in enumerate(design.ties):
        ends = both_ends(design, tie)
        if ends:
            yield number, tie, *ends


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
    longest = max((hoop.length for hoop in design.hoops), default=0.0)
    longest += max((sum(row) for row in design.tapes.drops), default=0.0)
    for number, tie, _, _ in tied(design):
        if tie.length > longest:
            yield Problem(
                f"ties[{number}].length",
                show_length(tie.length, design.units),
                "the tie is longer than any two points of this cage can be apart",
                "Check the number and its unit",
            )


def ties_pass_the_body(design: Design) -> Iterator[Problem]:
    """A tie across a hoop at the hips that is shorter than the hips it must pass."""
    wearer = design.wearer
    if wearer.hip is None or wearer.hip_drop is None:
        return
    if wearer.hip_breadth is not None and wearer.hip_depth is not None:
        half_breadth, half_depth = wearer.hip_breadth / 2, wearer.hip_depth / 2
    else:
        half_breadth = wearer.hip / math.pi / (1 + trade.HIP_DEPTH_PER_BREADTH)
        half_depth = half_breadth * trade.HIP_DEPTH_PER_BREADTH
    for number, tie, start, end in tied(design):
        if start[0] is None or start[0] != end[0] or level(design, start[0]) > BODY_REACH * wearer.hip_drop:
            continue
        needed = across_body(design, start[0], (start[1], end[1]), (half_breadth, half_depth))
        if tie.length < needed:
            yield Problem(
                f"ties[{number}].length",
                show_length(tie.length, design.units),
                f"the tie is shorter than the body it must pass ({both(needed)})",
                "Make it longer, or tie points whose straight line runs beside the body",
            )


def level(design: Design, hoop: int) -> float:
    """m below the waist, along the shortest tape, of a hoop counted from 1."""
    return min((sum(row[:hoop]) for row in design.tapes.drops), default=0.0) + design.waistband.depth / 2


def across_body(design: Design, hoop: int, tapes: tuple[int, int], half: tuple[float, float]) -> float:
    """m of body on the straight line between two tapes of a round hoop; 0 where it runs beside the body."""
    stations = station_fractions(design.tapes)
    if max(tapes) > len(stations):
        return 0.0
    radius = hoop_girths(design)[hoop - 1] / math.tau
    turns = [math.tau * stations[tape - 1] for tape in tapes]
    # In the plane where the body is a unit circle the chord is a straight line too.
    ends = np.array([[math.sin(turn), -math.cos(turn)] for turn in turns]) * radius
    one, other = ends / np.array(half)
    along = other - one
    nearest = one - along * float(one @ along) / max(float(along @ along), 1e-12)
    inside = 1.0 - float(nearest @ nearest)
    apart = float(np.linalg.norm(along))
    # Two tapes at one place, or a hoop whose overhangs leave nothing: other rules say so.
    if inside <= 0.0 or apart < NO_DISTANCE:
        return 0.0
    share = 2 * math.sqrt(inside) / apart
    return share * float(np.linalg.norm(ends[1] - ends[0]))


def ties_that_never_pull(design: Design) -> Iterator[Problem]:
    """No two places of a hoop are farther apart than the steel between them."""
    for number, tie, start, end in tied(design):
        if start[0] is None or start[0] != end[0]:
            continue
        steel = steel_between(design, start[0], start[1], end[1])
        if tie.length >= steel:
            yield Problem(
                f"ties[{number}].length",
                show_length(tie.length, design.units),
                f"the tie is longer than the steel of hoop {start[0]} between its ends"
                f" ({show_length(steel, design.units)}) and will never pull",
                "Make it shorter than the distance between its ends",
            )


def steel_between(design: Design, hoop: int, one: int, other: int) -> float:
    """m of steel between two tapes of a hoop (all from 1): the shorter way round, of an open one the way it has."""
    stations = station_fractions(design.tapes)
    if max(one, other) > len(stations):
        return math.inf  # another rule counts the stations
    places, opening = stations[[one - 1, other - 1]], design.hoops[hoop - 1].opening
    if opening == "back":
        places = np.mod(places + 0.5, 1.0)
    share = abs(float(places[1] - places[0]))
    if opening == "none":
        share = min(share, 1.0 - share)
    return share * hoop_girths(design)[hoop - 1]


RULES = (
    ends_that_exist,
    ends_that_differ,
    ties_of_a_sensible_length,
    ties_pass_the_body,
)
REMARKS = (ties_that_never_pull,)
