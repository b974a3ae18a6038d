"""Warnings about how the cage hangs by itself."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from cage3d.design import trade
from cage3d.report.record import HoopReport, Report, SegmentReport, WarningReport
from cage3d.report.warnings.case import Case
from cage3d.steady import exceeds, first_largest, first_least, fixed, percent
from cage3d.wording import capital, listed, numbered

HAIR = 1e-9  # m
OPPOSITE = (("front", "back"), ("left", "right"))


def slack_tapes(case: Case) -> Iterator[WarningReport]:
    """One warning for all, naming the tapes above each hoop that hang loose."""
    places = []
    for hoop in case.report.hoops:
        loose = {
            tape: part.slack_m
            for tape, part in segments_to(case.report, hoop.number)
            if exceeds(part.slack_m, trade.SEEN_SLACK)
        }
        if loose:
            most = max(loose.values())
            places.append(f"{numbered('tape', loose)} above hoop {hoop.number} (by up to {case.say(most)})")
    if places:
        yield WarningReport(
            "slack_tape",
            f"Slack: {listed(places)}. The other tapes bear the hoop there; shorten the slack drops, or "
            "lengthen the others.",
        )


def hoops_that_cross(case: Case) -> Iterator[WarningReport]:
    """Steel against steel is not reckoned with: a hoop that rises past another is told."""
    joined, positions = case.settled.cage.connectivity, case.settled.positions
    rises: dict[tuple[int, int], list[int]] = {}
    for row in np.setdiff1d(np.arange(joined.segment_count), joined.meeting):
        (upper, lower), (hoop, tape) = joined.pulls[row], joined.segments[row]
        found = np.argwhere(joined.crossing == upper)
        if len(found) and positions[lower, 2] > positions[upper, 2]:
            rises.setdefault((int(hoop), int(found[0][0])), []).append(int(tape) + 1)
    for (hoop, other), tapes in rises.items():
        yield WarningReport(
            "hoops_cross",
            f"Hoop {hoop + 1} rises above hoop {other + 1} at {numbered('tape', tapes)}. How hoops lie "
            "against one another is not reckoned with, so the cage will not hang quite like this.",
        )


def hoops_that_fold(case: Case) -> Iterator[WarningReport]:
    """Nor is steel against itself: a hoop that folds or turns over is told."""
    joined, positions = case.settled.cage.connectivity, case.settled.positions
    for hoop in range(joined.hoop_count):
        nodes = joined.crossing[hoop][joined.passed[hoop]]
        around = positions[nodes[np.argsort(np.mod(joined.node_fraction[nodes], 1.0))], :2]
        offset = around - around.mean(axis=0)
        turns = np.diff(np.unwrap(np.arctan2(offset[:, 1], offset[:, 0])))
        if len(turns) > 1 and (turns < 0.0).all():
            yield WarningReport(
                "hoop_turned",
                f"Hoop {hoop + 1} has turned over on its tapes: seen from above they stand round it the other way. "
                "Lengthen the drops where it hangs highest, or shorten them where it hangs lowest.",
            )
        elif (turns < 0.0).any():
            yield WarningReport(
                "hoop_folds",
                f"Hoop {hoop + 1} is drawn in so far that it folds over itself, which {case.report.stuff} cannot do. "
                "Loosen what draws it in.",
            )


def slack_ties(case: Case) -> Iterator[WarningReport]:
    loose = [
        f"{tie.name} (by {case.say(tie.slack_m)})"
        for tie in case.report.ties
        if exceeds(tie.slack_m, trade.SEEN_SLACK)
    ]
    if loose:
        hang, them = ("hang slack and do", "them") if len(loose) > 1 else ("hangs slack and does", "it")
        yield WarningReport(
            "slack_tie",
            f"{capital(listed(loose))} {hang} nothing. Shorten {them} by more, or leave {them} out.",
        )


def little_margin(case: Case) -> Iterator[WarningReport]:
    """One warning a hoop: a tape hardly longer than its step lies almost level, and its drop is a guess."""
    for hoop in case.report.hoops:
        near = {
            tape: part
            for tape, part in segments_to(case.report, hoop.number)
            if part.length_m > 0.0 and exceeds(trade.TAPE_SPARE, spare(part))
        }
        if near:
            tape, worst = list(near.items())[first_least([spare(part) for part in near.values()])]
            yield WarningReport(
                "tape_margin",
                f"Above hoop {hoop.number} {numbered('tape', near)} must step out almost all of the drop "
                f"(tape {tape}: {case.say(worst.length_m)} long, steps {case.say(worst.step_m)}): a small "
                f"error in it moves the hoop a lot. Lengthen the drop by {case.say(trade.TAPE_SPARE)} or more, or "
                "shorten the hoop.",
            )


def tilted(case: Case) -> Iterator[WarningReport]:
    """One warning for all: hoops above one another mostly tilt together. What is wanted tilted is left out."""
    level = [
        hoop
        for hoop in case.report.hoops
        if not slopes_wanted(case, hoop.number) and not leans_as_the_hem_should(case, hoop)
    ]
    leaning = [hoop for hoop in level if exceeds(hoop.tilt_deg, trade.TILT)]
    if leaning:
        worst = leaning[first_largest([hoop.tilt_deg for hoop in leaning])]
        (low, low_m), (high, high_m) = ends_of_tilt(worst)
        which = capital(numbered("hoop", [hoop.number for hoop in leaning]))
        drops, them = ("drops", "them") if case.settled.cage.design.cloth is None else ("cloth", "it")
        yield WarningReport(
            "tilt",
            f"{which} {'hang' if len(leaning) > 1 else 'hangs'} tilted. Hoop {worst.number}, by "
            f"{fixed(worst.tilt_deg, 1)} degrees: {case.say(low_m)} above the floor {at_side(worst, low)}, "
            f"{case.say(high_m)} {at_side(worst, high)}. If that is not wanted, shorten the {drops} "
            f"{at_side(worst, low)} or lengthen {them} {at_side(worst, high)}.",
        )


def at_side(hoop: HoopReport, side: str) -> str:
    """'at the front'; of a hoop beside her 'next to her', 'on its outside', 'at its front'."""
    if hoop.beside is None:
        return f"at the {side}"
    if side in ("front", "back"):
        return f"at its {side}"
    return "on its outside" if side == hoop.beside else "next to her"


def leans_as_the_hem_should(case: Case, hoop: HoopReport) -> bool:
    """Whether a hoop slopes the way that is wished of the hem, and by no more: hoops above it follow it."""
    wishes, hem = case.settled.cage.design.hem.heights, case.report.hoops[-1]
    for one, other in OPPOSITE:
        if one not in wishes or other not in wishes:
            continue
        across = hem.width_front_back_m if one == "front" else hem.width_side_side_m
        least, most = wishes[one][0] - wishes[other][1], wishes[one][1] - wishes[other][0]
        (_, low), (_, high) = ends_of_tilt(hoop)
        slope = getattr(hoop, f"height_{one}_m") - getattr(hoop, f"height_{other}_m")
        mostly_so = abs(abs(slope) - (high - low)) < HAIR
        # Wishes that leave it open which side is the lower ask for no slope.
        asked = (least > -HAIR and most > HAIR) if slope > 0.0 else (most < HAIR and least < -HAIR)
        steepest = math.degrees(math.atan(max(abs(least), abs(most)) / across)) + trade.TILT
        if mostly_so and asked and not exceeds(hoop.tilt_deg, steepest):
            return True
    return False


def tilted_otherwise(case: Case) -> Iterator[WarningReport]:
    """A hoop whose wanted heights slope, and which does not hang so."""
    for hoop in case.report.hoops:
        for (one, other), wanted in slopes_wanted(case, hoop.number).items():
            across = hoop.width_front_back_m if one == "front" else hoop.width_side_side_m
            hangs = [getattr(hoop, f"height_{side}_m") for side in (one, other)]
            off = hangs[0] - hangs[1] - (wanted[0] - wanted[1])
            if exceeds(math.degrees(math.atan(abs(off) / across)), trade.TILT):
                has, asked = (" and ".join(map(case.say, pair)) for pair in (hangs, wanted))
                yield WarningReport(
                    "tilt",
                    f"Hoop {hoop.number} is {has} above the floor at the {one} and the {other}; {asked} are wanted. "
                    "Let cage3d aim find the drops.",
                )


def tipped_up(case: Case) -> Iterator[WarningReport]:
    """A hoop on edge is no hoop that is worn, however well its forces balance."""
    up = [hoop.number for hoop in case.report.hoops if exceeds(hoop.tilt_deg, trade.ON_EDGE)]
    if up:
        have, them = ("have", "them") if len(up) > 1 else ("has", "it")
        yield WarningReport(
            "on_edge",
            f"{capital(numbered('hoop', up))} {have} tipped up on edge and {'hold' if len(up) > 1 else 'holds'} nothing"
            f" out. Shorten what holds {them} where it is lowest, hang less on {them}, or use stiffer"
            f" {case.report.stuff}.",
        )


def slopes_wanted(case: Case, hoop: int) -> dict[tuple[str, str], tuple[float, float]]:
    """((side, the opposite side): wanted heights in m) of a hoop (from 1), where they differ."""
    wishes = [wanted for wanted in case.settled.cage.design.wanted if wanted.hoop == hoop]
    asked = {side: value for wanted in wishes for side, value in wanted.asked()}
    pairs = [pair for pair in OPPOSITE if set(pair) <= set(asked)]
    return {
        (one, other): (asked[one], asked[other])
        for one, other in pairs
        if abs(asked[one] - asked[other]) > 1e-9
    }


def ends_of_tilt(hoop: HoopReport) -> tuple[tuple[str, float], tuple[str, float]]:
    """((side, m) low, (side, m) high) of front and back or left and right, whichever differ more."""
    sides = (
        (("front", hoop.height_front_m), ("back", hoop.height_back_m)),
        (("left", hoop.height_left_m), ("right", hoop.height_right_m)),
    )
    pairs = [sorted(pair, key=lambda side: side[1]) for pair in sides]
    low, high = pairs[first_largest([high - low for (_, low), (_, high) in pairs])]
    return low, high


def strained(case: Case) -> Iterator[WarningReport]:
    for hoop in case.report.hoops:
        section = case.settled.cage.steels[hoop.number - 1].section
        least, of = section.smallest_elastic_radius, section.steel.made_of
        drawn = case.report.ties  # ties, and laces of panels
        use = f"Use thinner {of.stuff}{', a longer hoop or looser ties' if drawn else ' or a longer hoop'}."
        bent = (
            f"Hoop {hoop.number} is bent to a radius of {case.say(hoop.smallest_bend_radius_m)}, "
            f"{percent(hoop.strain_used)} of what its {of.stuff} bears"
        )
        then = "kinks" if of.is_steel else f"{of.overbent}s"
        if hoop.strain_used > 1.0:
            yield WarningReport(
                "kink",
                f"{bent}: it will {of.overbent}. Below {case.say(least)} it does not spring back. {use}",
            )
        elif hoop.strain_used > trade.STRAIN and section.steel.yields:
            yield WarningReport(
                "strain",
                f"{bent}: little is left for handling, and below {case.say(least)} it {then}. {use}",
            )


def segments_to(report: Report, hoop: int) -> list[tuple[int, SegmentReport]]:
    """(tape, its segment above a hoop), counted from 1."""
    return [(tape.tape, segment) for tape in report.tapes if (segment := tape.to(hoop)) is not None]


def spare(part: SegmentReport) -> float:
    """m of tape beyond the level step it must make."""
    return part.length_m - part.step_m
