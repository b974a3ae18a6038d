"""The way of every tape: where it begins, which hoops it passes, how long it is between two of them, and where.

The one place that knows it. A tape runs from the waistband over every hoop unless a route of the tapes, or the tapes
of a hoop, says otherwise. Everywhere else arrays of hoops and tapes hold nan, or -1, where a tape does not pass.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from cage3d.design.baskets import even_stations, own_half
from cage3d.design.models import Design, Hoop, Route
from cage3d.design.points import station_fractions
from cage3d.units import UnitError, refuse_long

BAND = -1  # in place of a hoop: the waistband
NOWHERE = -2  # no stretch of tape ends there
START = re.compile(r"(?:hoop\s*(?P<hoop>[0-9]{1,4})|(?P<band>waist\s?band|waist|band))")
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Way:
    """The way of one tape; hoops from 0."""

    from_band: bool
    hoops: tuple[int, ...]  # that it passes, from the top; the one at which it begins too

    @property
    def stretches(self) -> tuple[tuple[int, int], ...]:
        """(hoop above or BAND, hoop) of every stretch, from the top."""
        return tuple(pairwise((BAND, *self.hoops) if self.from_band else self.hoops))


def hoop_or_band(text: str) -> int:
    """'hoop 2' -> 1, 'waistband' -> BAND. Raises UnitError (a ValueError) where the text is neither."""
    refuse_long(text, "Write hoop 2, or waistband")
    found = START.fullmatch(" ".join(text.lower().split()))
    if found is None:
        raise UnitError("this is neither a hoop nor the waistband", "Write hoop 2, or waistband")
    return BAND if found["band"] else int(found["hoop"]) - 1


def route_hoops(route: Route, hoops: int) -> tuple[bool, set[int]]:
    """(whether it begins at the band, hoops from 0 that it passes) as the route alone has it. Raises UnitError."""
    first = hoop_or_band(route.from_)
    last = hoops - 1 if route.to is None else hoop_or_band(route.to)
    if route.hoops is None:
        return first == BAND, set(range(max(first, 0), last + 1))
    ends = {first} - {BAND} | (set() if route.to is None else {last})
    return first == BAND, ends | {hoop - 1 for hoop in route.hoops}


def ways(design: Design) -> tuple[Way, ...]:
    """(T,) the way of every tape. What is not there, or cannot be read, passes nothing: rules say so."""
    hoops = range(len(design.hoops))
    passed = [set(hoops) for _ in range(design.tapes.count)]
    from_band = [True] * design.tapes.count
    for route in design.tapes.routes:
        try:
            begins, own = route_hoops(route, len(design.hoops))
        except UnitError:
            continue
        for tape in route.tapes:
            if 1 <= tape <= design.tapes.count:
                from_band[tape - 1], passed[tape - 1] = begins, own & set(hoops)
    for hoop, written in enumerate(design.hoops):
        named = tapes_named(design, written)
        for tape, own in enumerate(passed, start=1):
            if named is not None and tape not in named:
                own.discard(hoop)
    return tuple(Way(band, tuple(sorted(own))) for band, own in zip(from_band, passed, strict=True))


def tapes_named(design: Design, hoop: Hoop) -> tuple[int, ...] | None:
    """The tapes (from 1) that a hoop alone lets pass: as written, or of one beside her those of her side; else None."""
    if hoop.tapes is not None or hoop.beside is None:
        return hoop.tapes
    stations = station_fractions(design.tapes)[: design.tapes.count]
    return tuple(tape for tape, at in enumerate(stations.tolist(), start=1) if own_half(at, str(hoop.beside)))


def is_plain(design: Design) -> bool:
    """Whether every tape runs from the band over every hoop."""
    return not design.tapes.routes and all(
        hoop.tapes is None and hoop.beside is None for hoop in design.hoops
    )


def drop_of(row: tuple[float, ...], way: Way, number: int) -> float:
    """m, the drop of one stretch (its number from 0): written for itself, or the sum of what lies between two hoops."""
    if len(row) == len(way.stretches):
        return row[number]
    above, hoop = way.stretches[number]
    return sum(row[above + 1 : hoop + 1])


def drop_table(design: Design) -> Floats:
    """(T, H) m, the tape above every hoop up to what it comes from; nan where there is none."""
    if is_plain(design):
        return np.array(design.tapes.drops, dtype=np.float64)
    table = np.full((design.tapes.count, len(design.hoops)), np.nan)
    for tape, (way, row) in enumerate(zip(ways(design), design.tapes.drops, strict=True)):
        for number, (_, hoop) in enumerate(way.stretches):
            table[tape, hoop] = drop_of(row, way, number)
    return table


def above_table(design: Design) -> NDArray[np.intp]:
    """(T, H) the hoop (from 0) from which a tape comes to each hoop, or BAND; NOWHERE where none does."""
    table = np.full((design.tapes.count, len(design.hoops)), NOWHERE, dtype=np.intp)
    for tape, way in enumerate(ways(design)):
        for above, hoop in way.stretches:
            table[tape, hoop] = above
    return table


def depth_table(design: Design) -> Floats:
    """(T, H) m along the tapes from the waistband's edge to every hoop; nan where a tape does not pass.

    A tape that begins at a hoop counts on from the mean of the others there.
    """
    table = drop_table(design)
    if is_plain(design):
        return np.asarray(np.cumsum(table, axis=1))
    depths, above, passed = np.full(table.shape, np.nan), above_table(design), passing(design).T
    for hoop in range(len(design.hoops)):
        comes = np.flatnonzero(above[:, hoop] != NOWHERE)
        start = [0.0 if above[tape, hoop] == BAND else depths[tape, above[tape, hoop]] for tape in comes]
        depths[comes, hoop] = table[comes, hoop] + np.array(start)
        depths[passed[:, hoop] & (above[:, hoop] == NOWHERE), hoop] = depths[comes, hoop].mean()
    return depths


def entry_of(design: Design, tape: int, hoop: int) -> int:
    """Which of the drops of its tape (both from 0) is that above a hoop, or the last of those that make it up."""
    way, row = ways(design)[tape], design.tapes.drops[tape]
    if len(row) != len(way.stretches):
        return hoop
    return [below for _, below in way.stretches].index(hoop)


def drops_in_play(design: Design) -> list[list[int]]:
    """T x the numbers (from 0) of those written drops that make up a stretch of their tape, and are not nothing."""
    found = []
    for way, row in zip(ways(design), design.tapes.drops, strict=True):
        whole = len(row) != len(way.stretches)
        part = range(way.stretches[0][0] + 1, way.hoops[-1] + 1) if whole else range(len(row))
        found.append([drop for drop in part if row[drop] > 0.0])
    return found


def passing(design: Design) -> Bools:
    """(H, T) whether a tape passes a hoop."""
    table = np.zeros((len(design.hoops), design.tapes.count), dtype=bool)
    for tape, way in enumerate(ways(design)):
        table[list(way.hoops), tape] = True
    return table


def tapes_on(design: Design, hoop: int) -> list[int]:
    """Tapes (from 0) that pass a hoop (from 0), in their order."""
    return [tape for tape, way in enumerate(ways(design)) if hoop in way.hoops]


def stations_on(design: Design) -> Floats:
    """(H, T) where each tape passes each hoop, as a share of its girth from its front; nan where it does not."""
    rows = np.where(passing(design), station_fractions(design.tapes)[None, :], np.nan)
    for hoop, written in enumerate(design.hoops):
        passed = tapes_on(design, hoop)
        if written.stations is not None:
            rows[hoop, passed] = written.stations
        elif written.beside is not None:
            rows[hoop, passed] = even_stations(written, len(passed))
    return rows
