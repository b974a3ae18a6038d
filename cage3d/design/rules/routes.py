"""Rules for tapes that do not pass every hoop: both sides name the same, and every hoop is carried."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from cage3d.design.models import Design, Route
from cage3d.design.points import station_fractions
from cage3d.design.routes import BAND, hoop_or_band, route_hoops, stations_on, tapes_named, tapes_on, ways
from cage3d.errors import Problem
from cage3d.units import UnitError
from cage3d.wording import listed, numbered

SAME_PLACE = 1e-3  # of the girth: two tapes that are nearer lie in one casing


def routes_that_exist(design: Design) -> Iterator[Problem]:
    """Tapes and hoops that routes name."""
    first: dict[int, int] = {}
    for number, route in enumerate(design.tapes.routes):
        where = f"tapes.routes[{number}]"
        if not route.tapes:
            yield Problem(f"{where}.tapes", "", "no tape runs so", "Write the tapes: [5, 6]")
        for place, tape in enumerate(route.tapes):
            if tape > design.tapes.count:
                yield no_tape(design, f"{where}.tapes[{place}]", tape)
            elif tape in first:
                why = f"tape {tape} has a route already: entry {first[tape] + 1} of the list"
                yield Problem(f"{where}.tapes[{place}]", str(tape), why, "Write each tape once")
            first.setdefault(tape, number)
        yield from ends_of_route(design, route, where)
        for place, hoop in enumerate(route.hoops or ()):
            if hoop > len(design.hoops):
                yield no_hoop(design, f"{where}.hoops[{place}]", str(hoop))


def ends_of_route(design: Design, route: Route, where: str) -> Iterator[Problem]:
    """Where it begins and ends can be read, is there, and the hoops lie between the two, from the top."""
    found = []
    for key, text in (("from", route.from_), ("to", route.to)):
        try:
            hoop = len(design.hoops) - 1 if text is None else hoop_or_band(text)
        except UnitError as fault:
            yield Problem(f"{where}.{key}", str(text), fault.why, fault.try_this)
            return
        if key == "to" and hoop == BAND:
            yield Problem(f"{where}.to", str(text), "a tape ends at a hoop", "Write hoop 3, for instance")
            return
        if not BAND <= hoop < len(design.hoops):
            yield no_hoop(design, f"{where}.{key}", str(text))
            return
        found.append(hoop)
    above, below = found
    if above >= below:
        why = f"the tape would end at hoop {below + 1}, which does not lie below hoop {above + 1}, where it begins"
        key = "from" if route.to is None else "to"
        yield Problem(f"{where}.{key}", str(route.to or route.from_), why, "Hoops count from the top")
        return
    if route.hoops is not None and not route.hoops:
        yield Problem(
            f"{where}.hoops", "", "the tape passes no hoop", "Write the hoops: [1, 3], or leave it out"
        )
    outside = [hoop for hoop in route.hoops or () if not above <= hoop - 1 <= below]
    if outside:
        why = f"hoop {outside[0]} does not lie between {name_of(above)} and {name_of(below)}"
        yield Problem(
            f"{where}.hoops",
            listed([str(hoop) for hoop in route.hoops or ()]),
            why,
            "Write those between its ends",
        )


def name_of(hoop: int) -> str:
    return "the waistband" if hoop == BAND else f"hoop {hoop + 1}"


def no_tape(design: Design, where: str, tape: int) -> Problem:
    why = f"there is no tape {tape}: the design has {design.tapes.count}"
    return Problem(where, str(tape), why, "Count tapes from centre front round by the wearer's left, from 1")


def no_hoop(design: Design, where: str, said: str) -> Problem:
    why = f"there is no {'hoop ' if said.isdigit() else ''}{said}: the design has {numbered_hoops(design)}"
    return Problem(where, said, why, "Count hoops from the top, from 1")


def numbered_hoops(design: Design) -> str:
    return f"{len(design.hoops)} hoop" + ("" if len(design.hoops) == 1 else "s")


def tapes_that_hoops_name(design: Design) -> Iterator[Problem]:
    for number, hoop in enumerate(design.hoops):
        for place, tape in enumerate(hoop.tapes or ()):
            where = f"hoops[{number}].tapes[{place}]"
            if tape > design.tapes.count:
                yield no_tape(design, where, tape)
            elif tape in (hoop.tapes or ())[:place]:
                yield Problem(where, str(tape), "this tape stands twice", "Write each tape once")


def both_say_the_same(design: Design) -> Iterator[Problem]:
    """A tape that names a hoop that does not name it, and the other way round."""
    for number, route in enumerate(design.tapes.routes):
        _, passed = route_hoops(route, len(design.hoops))
        told = {hoop - 1 for hoop in route.hoops or ()}
        told |= {at for text in (route.from_, route.to) if text and (at := hoop_or_band(text)) != BAND}
        for tape in route.tapes:
            for hoop, written in enumerate(design.hoops):
                own = tapes_named(design, written)
                named = own is not None and tape in own
                if hoop in told and own is not None and not named:
                    yield Problem(
                        f"tapes.routes[{number}]",
                        f"tape {tape}",
                        f"tape {tape} passes hoop {hoop + 1}, and hoop {hoop + 1} does not pass tape {tape}: it names"
                        f" {numbered('tape', own)}",
                        f"Write {tape} among the tapes of hoop {hoop + 1}, or leave hoop {hoop + 1} out of its route",
                    )
                elif named and written.tapes is not None and hoop not in passed:
                    yield Problem(
                        f"hoops[{hoop}].tapes",
                        f"tape {tape}",
                        f"hoop {hoop + 1} passes tape {tape}, and the route of tape {tape} leaves hoop {hoop + 1} out",
                        f"Write {hoop + 1} among the hoops of its route, or leave tape {tape} out here",
                    )


def hoops_on_two_tapes_and_more(design: Design) -> Iterator[Problem]:
    for hoop, written in enumerate(design.hoops):
        tapes = tapes_on(design, hoop)
        if len(tapes) < 2:
            key = "tapes" if written.tapes is not None else "length"
            which = f"passes tape {tapes[0] + 1} alone" if tapes else "passes no tape"
            if written.beside is not None and written.tapes is None:
                hangs = f"tape {tapes[0] + 1} alone hangs" if tapes else "no tape hangs"
                yield Problem(
                    f"hoops[{hoop}].beside",
                    written.beside,
                    f"hoop {hoop + 1} stands at her {written.beside}, where {hangs}",
                    "Write more tapes, or stations that put two or more at that side",
                )
                continue
            why = (
                f"hoop {hoop + 1} {which} and would hang down from it"
                if tapes
                else f"hoop {hoop + 1} {which}"
            )
            yield Problem(f"hoops[{hoop}].{key}", "", why, "Let it pass two tapes or more")


def tapes_that_pass_something(design: Design) -> Iterator[Problem]:
    for tape, way in enumerate(ways(design)):
        if not way.stretches:
            where = next(
                (f"tapes.routes[{n}]" for n, one in enumerate(design.tapes.routes) if tape + 1 in one.tapes),
                "tapes.count",
            )
            ends = "begins and ends at one hoop" if way.hoops else "passes no hoop"
            yield Problem(where, "", f"tape {tape + 1} {ends}", "Let a hoop pass it, or leave the tape out")


def hoops_that_something_carries(design: Design) -> Iterator[Problem]:
    """From the band down: a hoop is carried where a tape comes to it from the band, or from a hoop that is."""
    carried = {BAND}
    stretches = [stretch for way in ways(design) for stretch in way.stretches]
    while more := {hoop for above, hoop in stretches if above in carried} - carried:
        carried |= more
    for hoop in range(len(design.hoops)):
        if hoop not in carried and tapes_on(design, hoop):
            yield Problem(
                f"hoops[{hoop}]",
                f"hoop {hoop + 1}",
                f"nothing carries hoop {hoop + 1}: no tape comes to it from the waistband or from a hoop that hangs",
                "Let a tape that begins at the waistband, or at a hoop above, pass it",
            )


def stations_of_hoops(design: Design) -> Iterator[Problem]:
    """One for each tape that passes, each at its own place."""
    for hoop, written in enumerate(design.hoops):
        tapes, stations = tapes_on(design, hoop), written.stations
        if stations is None:
            continue
        where = f"hoops[{hoop}].stations"
        if len(stations) != len(tapes):
            names = numbered("tape", [tape + 1 for tape in tapes])
            why = f"hoop {hoop + 1} passes {names}"
            yield Problem(
                where, f"{len(stations)} stations", why, "Write one for each of them, in their order"
            )
        for place, at in enumerate(stations):
            if at >= 1.0:
                why = "once round the girth is centre front again"
                yield Problem(
                    f"{where}[{place}]", f"{at:g}", why, "Write a fraction below 1; centre front is 0"
                )


def one_casing_a_tape(design: Design) -> Iterator[Problem]:
    """Two tapes at one place of a hoop."""
    if len(station_fractions(design.tapes)) != design.tapes.count:
        return  # another rule counts the stations
    for hoop, row in enumerate(stations_on(design)):
        if design.hoops[hoop].stations is None:
            continue
        tapes = [int(tape) for tape in np.argsort(row) if not np.isnan(row[tape])]
        for one, other in zip(tapes, [*tapes[1:], tapes[0]], strict=True):
            if len(tapes) > 1 and (row[other] - row[one]) % 1.0 < SAME_PLACE:
                why = (
                    f"{numbered('tape', sorted((one + 1, other + 1)))} stand at one place of hoop {hoop + 1}"
                )
                yield Problem(f"hoops[{hoop}].stations", f"{row[other]:g}", why, "Write two different places")


NAMED = (routes_that_exist, tapes_that_hoops_name)
AGREEING = (
    both_say_the_same,
    hoops_on_two_tapes_and_more,
    tapes_that_pass_something,
    hoops_that_something_carries,
    stations_of_hoops,
)
RULES = (one_casing_a_tape,)
