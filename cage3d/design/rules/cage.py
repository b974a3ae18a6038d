"""Rules for tapes and hoops: how many, where, and what goes with what."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from cage3d.design.baskets import has_baskets
from cage3d.design.models import Design
from cage3d.design.routes import BAND, above_table, drop_table, entry_of, ways
from cage3d.design.rules.openings import sewn_tapes
from cage3d.errors import Problem
from cage3d.wording import numbered

FEWEST_TAPES, MOST_TAPES = 2, 60
MOST_HOOPS = 40


def number_of_tapes(design: Design) -> Iterator[Problem]:
    if design.cloth is not None:
        return  # gores are counted
    count = design.tapes.count
    if count < FEWEST_TAPES:
        yield Problem(
            "tapes.count", str(count), "a hoop cannot hang from one tape", "Write 2 or more; 8 is usual"
        )
    elif count > MOST_TAPES:
        yield Problem(
            "tapes.count",
            str(count),
            f"there are more than {MOST_TAPES} tapes",
            "Write 60 or fewer; 8 to 12 are usual",
        )


def number_of_hoops(design: Design) -> Iterator[Problem]:
    count = len(design.hoops)
    if count == 0:
        yield Problem(
            "hoops", "", "there are no hoops", "Write a line - {length: 48 in} for each hoop, from the top"
        )
    elif count > MOST_HOOPS:
        yield Problem(
            "hoops",
            f"{count} hoops",
            f"there are more than {MOST_HOOPS} hoops",
            f"Write {MOST_HOOPS} or fewer",
        )


def a_drop_for_each_hoop(design: Design) -> Iterator[Problem]:
    """A drop for each hoop of the cage, or for each stretch of a tape that does not pass them all."""
    if design.cloth is not None:
        return  # levels are counted
    rows, hoops, tapes = design.tapes.drops, len(design.hoops), design.tapes.count
    if len(rows) != tapes:
        yield Problem(
            "tapes.drops",
            "1 list of drops" if len(rows) == 1 else f"{len(rows)} lists of drops",
            f"there are {tapes} tapes",
            f"Write {tapes} lists, one for each tape, or a single list for them all",
        )
        return
    needed = [len(way.stretches) for way in ways(design)]
    wrong = [
        number for number, row in enumerate(rows) if len(row) not in counts_of_drops(design, needed[number])
    ]
    if wrong and has_baskets(design):
        alike = len(wrong) == len(rows) and len(set(rows)) == len(set(needed)) == 1
        for number in wrong[:1] if alike else wrong:
            yield a_drop_for_each_stretch(design, number, needed[number], alike)
        return
    if len(wrong) == len(rows) and len(set(rows)) == 1 and set(needed) == {hoops}:
        yield Problem(
            "tapes.drops",
            how_many(len(rows[0]), "drop"),
            f"there are {how_many(hoops, 'hoop')}",
            "Write one drop for each hoop, from the waistband down",
        )
        return
    for number in wrong:
        yield a_drop_for_each_stretch_or_hoop(design, number, needed[number])


def a_drop_for_each_stretch_or_hoop(design: Design, tape: int, stretches: int) -> Problem:
    """Of a cage whose hoops all go round her; tape: from 0."""
    hoops = len(design.hoops)
    if stretches == hoops:
        why, try_this = f"there are {how_many(hoops, 'hoop')}", "Write one drop for each hoop"
    else:
        why = f"tape {tape + 1} runs {how_many(stretches, 'stretch')}"
        try_this = (
            f"Write {how_many(stretches, 'drop')}, one for each stretch of this tape, or one for each hoop of the cage,"
            " of which those between two of its hoops add up"
        )
    said = f"{how_many(len(design.tapes.drops[tape]), 'drop')} for tape {tape + 1}"
    return Problem(f"tapes.drops[{tape}]", said, why, try_this)


def counts_of_drops(design: Design, stretches: int) -> set[int]:
    """How many drops a tape of so many stretches may have: one for each, or one for each hoop of the cage.

    Not where hoops stand beside her: those listed between two of a tape's hoops lie elsewhere.
    """
    return {stretches} if has_baskets(design) else {stretches, len(design.hoops)}


def a_drop_for_each_stretch(design: Design, tape: int, stretches: int, alike: bool) -> Problem:
    """tape: from 0; alike: all tapes have as many drops and need as many."""
    row, hoops = design.tapes.drops[tape], ways(design)[tape].hoops
    drops = how_many(len(row), "drop")
    return Problem(
        "tapes.drops" if alike else f"tapes.drops[{tape}]",
        drops if alike else f"{drops} for tape {tape + 1}",
        f"tape {tape + 1} passes {numbered('hoop', [hoop + 1 for hoop in hoops])}"
        + (", and every other as many" if alike else ""),
        f"Write {how_many(stretches, 'drop')}, one for each of these, from the waistband down",
    )


def how_many(count: int, what: str) -> str:
    return f"{count} {what}" + ("" if count == 1 else "es" if what.endswith("ch") else "s")


def stations_in_order(design: Design) -> Iterator[Problem]:
    stations = design.tapes.stations
    if not isinstance(stations, tuple):
        return
    if len(stations) != design.tapes.count:
        said, of = ("stations", "tapes") if design.cloth is None else ("seams", "gores")
        yield Problem(
            "tapes.stations",
            f"{len(stations)} {said}",
            f"there are {design.tapes.count} {of}",
            "Write one fraction of the girth for each tape, or between, or on",
        )
    for number, fraction in enumerate(stations):
        if fraction >= 1.0:
            yield Problem(
                f"tapes.stations[{number}]",
                f"{fraction:g}",
                "once round the girth is centre front again",
                "Write a fraction below 1; centre front is 0",
            )
    for number, (before, after) in enumerate(pairwise(stations), start=1):
        if after <= before:
            yield Problem(
                f"tapes.stations[{number}]",
                f"{after:g}",
                f"tape {number + 1} does not come after tape {number} at {before:g}",
                "Write them rising, from centre front round by the wearer's left",
            )


def drops_that_may_be_nothing(design: Design) -> Iterator[Problem]:
    """Only where two hoops meet, and not all round."""
    if not counts_agree(design):
        return
    table = drop_table(design)
    if (on_band := first_on_the_band(design)) is not None:
        yield on_band
        return
    for tape in range(len(table)):
        if not np.nansum(table[tape]):
            why = f"tape {tape + 1} is nowhere longer than nothing"
            yield Problem(
                f"tapes.drops[{tape}]", "0", why, "Let it go on to a hoop below, or write its drops"
            )
    above_of = above_table(design)
    for hoop, row in enumerate(table.T):
        own = row[above_of[:, hoop] >= 0]
        if len(own) and not own.any():
            yield Problem(
                "tapes.drops",
                "0",
                f"hoop {hoop + 1} would lie on the hoop above it all round",
                "Hoops may meet at some tapes, such as at the front; write the other drops, or leave the hoop out",
            )


def first_on_the_band(design: Design) -> Problem | None:
    """The first drop of nothing from the waistband, but where an end of an open hoop is sewn to it."""
    table = drop_table(design)
    for tape, way in enumerate(ways(design)):
        for above, hoop in way.stretches:
            if above != BAND or table[tape, hoop] != 0.0:
                continue
            where, try_this = (
                f"tapes.drops[{tape}][{entry_of(design, tape, hoop)}]",
                "Write how far down the tape it hangs",
            )
            if design.hoops[hoop].beside is not None:
                why = f"hoop {hoop + 1} would lie in the waistband, along her, and cannot stand beside her"
                return Problem(where, "0", why, try_this)
            if tape not in sewn_tapes(design, hoop):
                meant = "a drop of 0 is where two hoops meet, or where an end is sewn to the waistband (ends: sewn)"
                return Problem(
                    where, "0", f"hoop {hoop + 1} would lie on the waistband", f"{try_this}; {meant}"
                )
    return None


def counts_agree(design: Design) -> bool:
    """Whether there are drops for every tape, one a stretch or one a hoop."""
    rows = design.tapes.drops
    return len(rows) == design.tapes.count and all(
        len(row) in counts_of_drops(design, len(way.stretches))
        for row, way in zip(rows, ways(design), strict=True)
    )


def one_kind_of_join(design: Design) -> Iterator[Problem]:
    for number, hoop in enumerate(design.hoops):
        if hoop.join is None or hoop.join == "none":
            continue
        if hoop.join.slides:
            continue
        lengths = [size for size in (hoop.join.tube, hoop.join.overlap) if size is not None]
        where = f"hoops[{number}].join"
        if len(lengths) != 1:
            yield Problem(
                where, "join", "a join is a tube or an overlap", "Write {tube: 1 1/4 in} or {overlap: 2 in}"
            )
        elif lengths[0] > hoop.length / 4:
            yield Problem(
                where,
                "join",
                f"the join is longer than a quarter of hoop {number + 1}",
                "Write {overlap: 2 in}",
            )


COUNTS = (number_of_tapes, number_of_hoops)
RULES = (
    a_drop_for_each_hoop,
    drops_that_may_be_nothing,
    stations_in_order,
    one_kind_of_join,
)
