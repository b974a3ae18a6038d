"""Rules for ties that pass the wearer: on which side of her, and whether they are long enough to."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Design, Tie
from cage3d.design.points import SIDES, point_text, station_fractions, way_round
from cage3d.design.routes import depth_table, stations_on
from cage3d.design.rules.body import half_measures_of_the_hip, waist_heights
from cage3d.design.rules.circles import hoop_girths, hoop_levels, measurable
from cage3d.design.rules.openings import end_tapes, goes_round
from cage3d.design.rules.ties import Point, side_of_tie, tied
from cage3d.errors import Problem
from cage3d.units import both, show_length

BODY_REACH = 1.5  # times hip_drop: ties above this level pass the trunk, below it the legs
NO_DISTANCE = 1e-9  # of half the body's breadth
BESIDE = 5.0 / 360.0  # of a turn: an end nearer to a side than this lies on it
OUTLINE = 720  # places round her outline


def ties_pass_the_body(design: Design) -> Iterator[Problem]:
    """A tie across a hoop at the hips that is shorter than the hips it must pass."""
    half, hip_drop = half_measures_of_the_hip(design), design.wearer.hip_drop
    if half is None or hip_drop is None or not measurable(design):
        return
    for number, tie, start, end in tied(design):
        if tie.runs or start[0] is None or start[0] != end[0] or draws_ends_together(design, start, end):
            continue
        if side_of_tie(design, start, end):
            continue
        if level(design, start[0]) > BODY_REACH * hip_drop:
            continue
        needed = across_body(design, start[0], (start[1], end[1]), half)
        if tie.length < needed:
            yield Problem(
                f"ties[{number}].length",
                show_length(tie.length, design.units),
                f"the tie is shorter than the body it must pass ({both(needed)})",
                "Make it longer, or tie points whose straight line runs beside the body",
            )


def draws_ends_together(design: Design, start: Point, end: Point) -> bool:
    """Whether a tie runs from end to end of a hoop behind, before or beside her: it need not go round her at all."""
    if start[0] is None or start[0] != end[0] or goes_round(design, start[0] - 1):
        return False
    opening = design.hoops[start[0] - 1].opening
    return opening != "none" and {start[1] - 1, end[1] - 1} == set(
        end_tapes(stations_on(design)[start[0] - 1], opening)
    )


def level(design: Design, hoop: int) -> float:
    """m below the waist, along the shortest tape, of a hoop counted from 1."""
    return float(np.nanmin(depth_table(design)[:, hoop - 1])) + design.waistband.depth / 2


def across_body(design: Design, hoop: int, tapes: tuple[int, int], half: tuple[float, float]) -> float:
    """m of body on the straight line between two tapes of a round hoop; 0 where it runs beside the body."""
    stations = stations_on(design)[hoop - 1]
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


def turns_of(design: Design, start: Point, end: Point) -> tuple[float, float] | None:
    """Where two tapes stand, as shares of a turn; None where the stations are not in order."""
    band = station_fractions(design.tapes)
    if len(band) != design.tapes.count:
        return None
    stations = stations_on(design)
    # A hoop beside her has a turn of its own: its tapes then stand about her as they do on the band.
    one, other = (
        float(
            band[tape - 1] if hoop is None or design.hoops[hoop - 1].beside else stations[hoop - 1, tape - 1]
        )
        for hoop, tape in (start, end)
    )
    return one, other


def ties_run_on_a_side_between_their_ends(design: Design) -> Iterator[Problem]:
    """A side tells the way only where neither end lies on it and the ends are not above one another."""
    for number, tie, start, end in tied(design):
        turns = turns_of(design, start, end)
        if tie.runs is None or turns is None:
            continue
        where = f"ties[{number}].runs"
        if start[1] == end[1]:
            yield Problem(
                where,
                tie.runs,
                f"both ends are on tape {start[1]}, and the tie passes her on no side",
                "Leave out runs",
            )
        if side_of_tie(design, start, end):
            continue  # `baskets.ties_of_a_basket_run_at_its_side`
        on_it = [point for point, turn in zip((start, end), turns, strict=True) if lies_on(turn, tie.runs)]
        if on_it and start[1] != end[1]:
            others = " or ".join(side for side in SIDES if not any(lies_on(turn, side) for turn in turns))
            yield Problem(
                where,
                tie.runs,
                f"{point_text(*on_it[0])} is itself on that side of her, so this does not say which way round her the"
                " tie takes",
                f"Write {others}",
            )


def lies_on(turn: float, side: str) -> bool:
    """Whether a place (share of a turn) is itself on that side of her."""
    return abs((turn - SIDES[side] + 0.5) % 1.0 - 0.5) < BESIDE


def ties_that_run_round_her_are_long_enough(design: Design) -> Iterator[Problem]:
    """A tie shorter than her outline on its side, between its two tapes, would have to go through her."""
    for number, tie, start, end in tied(design):
        turns = turns_of(design, start, end)
        if tie.runs is None or turns is None or not measurable(design):
            continue
        if start[1] == end[1] or any(lies_on(turn, tie.runs) for turn in turns):
            continue
        if draws_ends_together(design, start, end) or side_of_tie(design, start, end):
            continue
        needed = outline_between(design, tie, (start, end), turns)
        if tie.length < needed:
            yield Problem(
                f"ties[{number}].length",
                show_length(tie.length, design.units),
                f"the tie would have to go through her: {PASSING[tie.runs]} she is {both(needed)} round between its"
                " two tapes",
                "Make it longer than that, tie tapes nearer to that side, or write another side for runs",
            )


PASSING = {"behind": "behind", "before": "in front", "left": "on her left", "right": "on her right"}


def outline_between(design: Design, tie: Tie, ends: tuple[Point, Point], turns: tuple[float, float]) -> float:
    """m round her where she is least between the levels of both ends, on the side of the tie; 0 if not measured."""
    hip, hip_drop = half_measures_of_the_hip(design), design.wearer.hip_drop
    if hip is None or hip_drop is None:
        return 0.0
    levels = hoop_levels(design)
    reached = [0.0 if hoop is None else levels[hoop - 1] for hoop, _ in ends]
    way = way_round(*turns, SIDES[str(tie.runs)])
    angles = 2.0 * np.pi * (turns[0] + way * np.linspace(0.0, 1.0, OUTLINE))
    lengths = []
    for below in np.linspace(min(reached), max(reached), 9):
        half = half_measures_at(design, float(below), hip)
        radius = 1.0 / np.hypot(np.sin(angles) / half[0], np.cos(angles) / half[1])
        outline = np.column_stack([radius * np.sin(angles), -radius * np.cos(angles)])
        lengths.append(float(np.linalg.norm(np.diff(outline, axis=0), axis=1).sum()))
    return min(lengths)


def half_measures_at(design: Design, below_waist: float, hip: tuple[float, float]) -> tuple[float, float]:
    """m, about half her breadth and depth at a level: between waist and hip, and of her legs close together."""
    wearer = design.wearer
    waist_height, hip_drop = mean_waist_height(design), float(wearer.hip_drop or 0.0)
    waist = wearer.waist / math.pi / (1.0 + trade.WAIST_DEPTH_PER_BREADTH)
    hip_height = waist_height - hip_drop
    crotch, knee = trade.CROTCH_PER_HIP * hip_height, trade.KNEE_PER_HIP * hip_height
    knee = min(wearer.knee_height or knee, crotch)
    rows = [(waist_height, waist, waist * trade.WAIST_DEPTH_PER_BREADTH), (hip_height, *hip)]
    rows += [
        (crotch - share * (crotch - knee), breadth * hip[0], depth * hip[1])
        for share, breadth, depth in trade.LEGS_ABOVE_KNEE
    ]
    rows += [
        (knee * (1.0 - share), breadth * hip[0], depth * hip[1])
        for share, breadth, depth in trade.LEGS_BELOW_KNEE
    ]
    if wearer.knee is not None and wearer.hip is not None:
        thick = wearer.knee / (trade.USUAL_KNEE * wearer.hip)
        place = len(trade.LEGS_ABOVE_KNEE) + 1  # the knee; the calf follows
        rows[place : place + 2] = [(level, thick * b, thick * d) for level, b, d in rows[place : place + 2]]
    heights, breadths, depths = np.array(rows[::-1]).T
    height = waist_height - below_waist
    return float(np.interp(height, heights, breadths)), float(np.interp(height, heights, depths))


def mean_waist_height(design: Design) -> float:
    """m above the floor."""
    return sum(waist_heights(design)) / len(waist_heights(design))


def ties_that_run_round_nobody(design: Design) -> Iterator[Problem]:
    """Without a hip there is no form of the wearer."""
    for number, tie in enumerate(design.ties):
        if tie.runs is not None and half_measures_of_the_hip(design) is None:
            yield Problem(
                f"ties[{number}].runs",
                tie.runs,
                "there is no hip measured, so the tie runs straight as if nobody wore the cage",
                "Write hip and hip_drop under wearer",
            )


RULES = (
    ties_pass_the_body,
    ties_run_on_a_side_between_their_ends,
    ties_that_run_round_her_are_long_enough,
)
REMARKS = (ties_that_run_round_nobody,)
