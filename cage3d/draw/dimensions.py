"""What is written on each picture: widths, heights above the floor, names, lengths, a scale bar."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cage3d.draw.hung import Hung
from cage3d.draw.names import names, names_beside, spread
from cage3d.draw.overlay import ACCENT, SOFT, Overlay, Place, width_of
from cage3d.draw.views import SIDE, SKIRT, Frame, Margins, View
from cage3d.draw.widths import level_widths
from cage3d.mesh.wearer import drawn_form
from cage3d.report.curves import DIRECTIONS, hoop_curve, place_towards
from cage3d.report.how_sure import OFTEN, legend, of_the_whole
from cage3d.report.record import HoopReport, Report
from cage3d.shape.arrays import Floats
from cage3d.units import INCH, show_length

SAME_HEIGHT = 0.004  # m, less than this between the two sides of a picture is not written twice
ONE_HEIGHT = 5e-4  # m, less than this between two hoops is not seen
PLACES_ROUND_HER = 96
SURE, SURE_LINE = 0.62, 0.85  # height of the letters that tell how sure figures are, and from line to line
BARS = {"in": [INCH * inches for inches in (1, 2, 3, 6, 12, 24)], "mm": [0.02, 0.05, 0.1, 0.2, 0.5]}


def margins_of(view: View, hung: Hung, text: float) -> Margins:
    """What the words of a view need round the cage; text: their height in px."""
    longest = max((hung.show(height) for hoop in hung.report.hoops for height in hoop_extent(hoop)), key=len)
    column = width_of(longest + of_the_whole(hung.report, "width_front_back_m") * view.plan, text)
    top, bottom, bare = 2.8 * text, 4.0 * text, 1.5 * text
    top += SURE_LINE * text * len(how_sure_lines(view, hung.report))
    if view.level:
        beside = column + 4.0 * text
        left, right = (beside if side in ladders(view, hung) else bare for side in (-1, 1))
        return Margins(left, right, top, bottom)
    if view.plan:
        return Margins(
            width_of("her right", 0.85 * text) + 2.2 * text, column + 3.8 * text, 5.0 * text, 6.0 * text
        )
    return Margins(*names_beside(hung, text, bare), top, bottom)


def write_on(paper: Overlay, frame: Frame, hung: Hung) -> None:
    """Everything that is written on one view."""
    if frame.view.level:
        floor_line(paper, frame, hung)
        level_widths(paper, frame, hung)
        level_heights(paper, frame, hung)
    elif frame.view.plan:
        hoop_lines(paper, frame, hung)
        plan_widths(paper, frame, hung)
        tape_numbers(paper, frame, hung)
    elif frame.view != SKIRT:
        names(paper, frame, hung)
    scale_bar(paper, frame, hung.report.units)


def how_sure_lines(view: View, report: Report) -> list[str]:
    """What the heights and widths that a view shows may be more or less; in a plan it stands behind the figures."""
    if view.level:
        return legend(report, widths="width_front_back_m" if view == SIDE else "width_side_side_m")
    return [f"±: {OFTEN}"] if view.plan and report.certainty is not None else []


def how_sure(paper: Overlay, place: Place, frame: Frame, hung: Hung) -> None:
    """These lines, from an upper left corner down."""
    x, y = place
    for line in how_sure_lines(frame.view, hung.report):
        paper.words((x, y), paper.shortened(line, paper.size[0] - 2 * x, SURE), "lt", SURE, colour=SOFT)
        y += SURE_LINE * paper.text


def floor_line(paper: Overlay, frame: Frame, hung: Hung) -> None:
    (left, _), (right, _) = reach_of(frame, hung)
    floor = float(frame.on_paper(np.zeros((1, 3)))[0, 1])
    paper.straight([(left - paper.text, floor), (right + paper.text, floor)], SOFT)


def level_heights(paper: Overlay, frame: Frame, hung: Hung) -> None:
    """A ladder at the right, and at the left where it differs: each hoop's height above the floor."""
    found = ladders(frame.view, hung)
    for side, hoops in found.items():
        at = frame.view.sides[0 if side > 0 else 1]
        both = "at her sides" if "left" in at or "right" in at else "front and back"
        alone = len(found) == 1 and all(stands_at(frame.view, hung, hoop, -side) for hoop in hoops)
        ladder(paper, frame, hung, (side, hoops), both if alone else f"at {at}")


def ladders(view: View, hung: Hung) -> dict[int, list[int]]:
    """At the right (1) and the left (-1) of the picture the hoops (from 0) whose heights stand there.

    Seen from before or behind, a hoop beside her is told at its own side alone, where its outside is. At the left
    stands nothing where that would tell what the right does.
    """
    hoops = range(len(hung.curves))
    found = {side: [hoop for hoop in hoops if stands_at(view, hung, hoop, side)] for side in (1, -1)}
    twice = [hoop for hoop in found[1] if hoop in found[-1]]
    apart = [np.ptp([measured_at(view, hung, hoop, side)[2] for side in (1, -1)]) for hoop in twice]
    if found[1] and len(twice) == len(found[-1]) and max(apart, default=0.0) <= SAME_HEIGHT:
        del found[-1]
    return {side: own for side, own in found.items() if own}


def stands_at(view: View, hung: Hung, hoop: int, side: int) -> bool:
    """Whether a hoop (from 0) is told at the right (1) or left (-1): all are but those beside her at the other."""
    beside = hung.report.hoops[hoop].beside
    return beside is None or view.sides[0 if side < 0 else 1] != f"her {beside}"


def ladder(paper: Overlay, frame: Frame, hung: Hung, rungs: tuple[int, list[int]], measured: str) -> None:
    """Heights above the floor along one line at the right (1) or left (-1) of the cage.

    rungs: the side and the hoops (from 0); measured: at which place of her; a tilted hoop is seen from the front at
    both its heights, its front's and its back's, and measured at neither. Hoops that are at one height, as those are
    that meet and baskets alike from the side, are told once.
    """
    side, hoops = rungs
    places = told_once([measured_at(frame.view, hung, hoop, side) for hoop in hoops])
    ends = [(float(x), float(y)) for place in places for x, y in frame.on_paper(place[None])]
    least, most = reach_of(frame, hung)
    rail = float(most[0] if side > 0 else least[0]) + side * 2.2 * paper.text
    floor = float(frame.on_paper(np.zeros((1, 3)))[0, 1])
    paper.straight([(rail, min(y for _, y in ends)), (rail, floor)])
    paper.arrow((rail, floor), (0.0, 1.0))
    levels = spread([y for _, y in ends], 1.25 * paper.text, floor - 0.9 * paper.text)
    words_at, anchor = rail + side * 0.9 * paper.text, "lm" if side > 0 else "rm"
    for (x, y), text_y, place in zip(ends, levels, places, strict=True):
        paper.straight([(x + side * 0.3 * paper.text, y), (rail, y)], ACCENT, 0.5)
        paper.arrow((rail, y), (0.0, -1.0))
        paper.straight([(rail, y), (words_at, text_y)], ACCENT, 0.5)
        paper.words((words_at + side * 0.25 * paper.text, text_y), hung.show(float(place[2])), anchor)
    for line, words in enumerate(("above floor", measured)):
        paper.words((words_at, floor + (0.2 + 0.85 * line) * paper.text), words, anchor, 0.72, colour=SOFT)


def told_once(places: Sequence[Floats]) -> list[Floats]:
    """Places (3,) m without those as high as one before, to what the eye tells apart."""
    found: list[Floats] = []
    for place in places:
        if all(abs(float(place[2] - other[2])) > ONE_HEIGHT for other in found):
            found.append(place)
    return found


def reach_of(frame: Frame, hung: Hung) -> Floats:
    """(2, 2) px, the least and the most of what the hoops and she take up: beside one basket she stands out herself."""
    form = drawn_form(hung.settled)
    rings = [] if form is None else [form.ring(section.height, PLACES_ROUND_HER) for section in form.sections]
    flat = np.vstack([frame.on_paper(curve) for curve in (*hung.curves, *rings)])
    return np.array([flat.min(axis=0), flat.max(axis=0)])


def hoop_lines(paper: Overlay, frame: Frame, hung: Hung) -> None:
    """From above the strip shows only its thickness, less than a pixel: its centre line is drawn over it."""
    for curve in hung.curves:
        paper.bare_line([(float(x), float(y)) for x, y in frame.on_paper(curve)])


def plan_widths(paper: Overlay, frame: Frame, hung: Hung) -> None:
    """From above: the whole cage's width below it and its depth at the right."""
    flat = np.vstack([frame.on_paper(curve) for curve in hung.curves])
    (left, top), (right, bottom) = flat.min(axis=0), flat.max(axis=0)
    (least_x, least_y), (most_x, most_y) = reach_of(frame, hung)
    y, x = most_y + 2.4 * paper.text, most_x + 2.4 * paper.text
    for end in (left, right):
        paper.straight([(end, (top + bottom) / 2.0), (end, y + 0.3 * paper.text)], ACCENT, 0.5)
    wide = hung.show(hung.report.width_side_side_m) + of_the_whole(hung.report, "width_side_side_m")
    paper.dimension((left, y), (right, y), wide)
    for end in (top, bottom):
        paper.straight([((left + right) / 2.0, end), (x + 0.3 * paper.text, end)], ACCENT, 0.5)
    paper.dimension((x, top), (x, bottom))
    depth = hung.show(hung.report.width_front_back_m) + of_the_whole(hung.report, "width_front_back_m")
    across, along = (left + right) / 2.0, (top + bottom) / 2.0
    paper.words((x + 0.5 * paper.text, along), depth, "lm", colour=ACCENT)
    paper.words((across, least_y - 1.5 * paper.text), "back", "mb", 0.85, colour=SOFT)
    paper.words((across, y + 0.8 * paper.text), "front", "mt", 0.85, colour=SOFT)
    paper.words((least_x - 1.5 * paper.text, along), "her right", "rm", 0.85, colour=SOFT)
    paper.words((x + 0.5 * paper.text, along + 1.2 * paper.text), "her left", "lm", 0.85, colour=SOFT)


def tape_numbers(paper: Overlay, frame: Frame, hung: Hung) -> None:
    """From above: every tape's number just outside its lowest crossing."""
    joined = hung.settled.cage.connectivity
    lowest_places = hung.settled.positions[joined.ends]
    out = lowest_places - lowest_places.mean(axis=0)
    out = out / np.linalg.norm(out, axis=1)[:, None] * 0.9 * paper.text / frame.scale
    for number, (x, y) in enumerate(frame.on_paper(lowest_places + out), 1):
        paper.words((float(x), float(y)), str(number), "mm", 0.8, colour=SOFT, card=True)


def scale_bar(paper: Overlay, frame: Frame, units: str | None) -> None:
    """At the lower left: a length to measure against."""
    room = 0.2 * paper.size[0]
    bars = BARS["in" if units in ("in", "ft") else "mm"]
    length = max((bar for bar in bars if bar * frame.scale <= room), default=bars[0])
    x, y = 1.2 * paper.text, paper.size[1] - 1.2 * paper.text
    end, tick = x + length * frame.scale, 0.3 * paper.text
    paper.straight([(x, y - tick), (x, y), (end, y), (end, y - tick)], (27, 29, 33), 1.3)
    # Beside it: above it the foot of the heights may stand.
    paper.words((end + 0.4 * paper.text, y - 0.5 * tick), show_length(length, units), "lm", 0.8)


def measured_at(view: View, hung: Hung, hoop: int, side: int) -> Floats:
    """(3,) m, where a hoop (from 0) is measured at the right (1) or left (-1) of the picture, as the report does.

    A hoop that tilts is not measured where it is furthest to that side, which is further forward or back.
    """
    across = side * view.axes[0]
    towards = max(DIRECTIONS, key=lambda name: float(across[:2] @ DIRECTIONS[name]))
    return place_towards(hoop_curve(hung.settled, hoop), towards)[0]


def hoop_extent(hoop: HoopReport) -> tuple[float, ...]:
    return hoop.lowest_m, hoop.highest_m, hoop.width_front_back_m, hoop.width_side_side_m
