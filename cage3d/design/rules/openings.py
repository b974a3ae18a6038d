"""Rules for open hoops: where they open, and what becomes of their ends."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from cage3d.design.baskets import TOWARDS_HER
from cage3d.design.models import Design
from cage3d.design.points import OPENS_AT, station_fractions
from cage3d.design.routes import stations_on
from cage3d.errors import Problem
from cage3d.units import show_length

ON = 1e-6  # of the girth; a tape this near the opening stands on it
HALF = 0.4  # of the girth: a hoop open by so much and more stands before or behind her, and not round her


def no_tape_on_an_opening(design: Design) -> Iterator[Problem]:
    if design.cloth is not None:
        return  # `gores.openings_in_one_gore`
    if len(station_fractions(design.tapes)) != design.tapes.count:
        return  # another rule counts the stations
    for number, (hoop, stations) in enumerate(zip(design.hoops, stations_on(design), strict=True)):
        if hoop.opening == "none" or (hoop.beside and hoop.opening != TOWARDS_HER[hoop.beside]):
            continue  # `baskets.hoops_open_where_they_can`
        at = OPENS_AT[hoop.opening]
        tapes = [tape for tape, f in enumerate(stations, 1) if abs(f - at) < ON]
        if tapes and hoop.beside is None:
            yield Problem(
                f"hoops[{number}].opening",
                hoop.opening,
                f"tape {tapes[0]} stands at centre {hoop.opening}, where hoop {number + 1} opens",
                "Write another number of tapes, or other stations (between keeps centre front free), "
                "or close the hoop",
            )
        elif tapes:
            yield Problem(
                f"hoops[{number}].stations",
                f"{at:g}",
                f"tape {tapes[0]} stands in the middle of the inner side of hoop {number + 1}, where it opens",
                "Write other stations, or leave them out, or close the hoop",
            )


def open_hoops_have_no_join(design: Design) -> Iterator[Problem]:
    for number, hoop in enumerate(design.hoops):
        if hoop.opening != "none" and hoop.join not in (None, "none"):
            yield Problem(
                f"hoops[{number}].join",
                "join",
                f"hoop {number + 1} is open and its ends do not meet",
                "Leave join out, or leave opening out",
            )


def sewn_ends_are_of_open_hoops(design: Design) -> Iterator[Problem]:
    for number, hoop in enumerate(design.hoops):
        if hoop.ends != "sewn":
            continue
        if hoop.opening == "none":
            yield Problem(
                f"hoops[{number}].ends",
                "sewn",
                f"hoop {number + 1} is closed and has no ends",
                "Write opening: front for a hoop behind her, or leave ends out"
                if hoop.beside is None
                else f"Write opening: {TOWARDS_HER[hoop.beside]} for a bow open towards her, or leave ends out",
            )
        elif "overhang" in hoop.model_fields_set and hoop.overhang > 0.0:
            yield Problem(
                f"hoops[{number}].overhang",
                show_length(hoop.overhang, design.units),
                f"the ends of hoop {number + 1} are sewn and stand out past no casing",
                "Leave overhang out, or write ends: free",
            )


def ends_of_open_hoops(design: Design) -> Iterator[Problem]:
    """Overhangs must leave steel between the end tapes, and must not cross in the opening."""
    if design.cloth is not None or len(station_fractions(design.tapes)) != design.tapes.count:
        return  # another rule counts the stations
    for number, (hoop, stations) in enumerate(zip(design.hoops, stations_on(design), strict=True)):
        if hoop.opening == "none":
            continue
        held, opening = hoop.length - 2 * hoop.stands_out, opening_share(stations, hoop.opening)
        if opening >= 1.0:  # all tapes at one place: stations_in_order says so
            continue
        where = f"hoops[{number}].overhang"
        said = show_length(hoop.overhang, design.units)
        if held <= 0.1 * hoop.length:
            yield Problem(
                where, said, f"hardly any of hoop {number + 1} is left between its end tapes", "Write 1/2 in"
            )
        elif 2 * hoop.stands_out >= held * opening / (1 - opening):
            yield Problem(
                where,
                said,
                f"the two ends of hoop {number + 1} would cross in the opening",
                "Write a shorter overhang; 1/2 in is usual",
            )


def goes_round(design: Design, hoop: int) -> bool:
    """Whether a hoop (from 0) goes round her, and stands neither beside her nor before or behind her alone."""
    return design.hoops[hoop].beside is None and not is_half(design, hoop)


def is_half(design: Design, hoop: int) -> bool:
    """Whether a hoop (from 0) stands before or behind her alone."""
    opening = design.hoops[hoop].opening
    return (
        opening != "none"
        and design.hoops[hoop].beside is None
        and design.cloth is None
        and opening_share(stations_on(design)[hoop], opening) >= HALF
    )


def opening_share(stations: NDArray[np.float64], opening: str) -> float:
    """Share of the girth between the two tapes beside an opening; stations: (T,) on the hoop, nan where none passes."""
    around = np.sort(stations[~np.isnan(stations)])
    if opening == "front":
        return float(1.0 - around[-1] + around[0])
    after = next((place for place, f in enumerate(around) if f >= OPENS_AT[opening]), 0)
    return float((around[after] - around[after - 1]) % 1.0)


def sewn_tapes(design: Design, hoop: int) -> set[int]:
    """The two tapes (from 0) at which the ends of a hoop (from 0) are sewn; none where they are free."""
    if design.hoops[hoop].ends != "sewn" or design.hoops[hoop].opening == "none":
        return set()
    return set(end_tapes(stations_on(design)[hoop], design.hoops[hoop].opening))


def end_tapes(stations: NDArray[np.float64], opening: str) -> tuple[int, int]:
    """The first and last tape (from 0) of an open hoop, round by her left; stations: (T,), nan where none passes."""
    order = [int(tape) for tape in np.argsort(stations) if not np.isnan(stations[tape])]
    first = next((n for n, tape in enumerate(order) if stations[tape] >= OPENS_AT[opening]), 0)
    return order[first], order[first - 1]


RULES = (no_tape_on_an_opening, open_hoops_have_no_join, sewn_ends_are_of_open_hoops, ends_of_open_hoops)
