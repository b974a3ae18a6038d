"""Rules for tapes, hoops and strip: how many, where, and what goes with what."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from cage3d.errors import Problem
from cage3d.spec.design import Design, Steel
from cage3d.spec.points import station_fractions
from cage3d.units import show_length, show_mm

FEWEST_TAPES, MOST_TAPES = 2, 60
MOST_HOOPS = 40
THINNEST, THICKEST = 0.0001, 0.003  # m; hoop steel is 0.4 to 0.7 mm thick
WIDEST = 0.040  # m; hoop steel is 5 to 13 mm wide
MOST_STRANDS = 10
ON = 1e-6  # of the girth; a tape this near the opening stands on it


def number_of_tapes(design: Design) -> Iterator[Problem]:
    count = design.tapes.count
    if count < FEWEST_TAPES:
        yield Problem(
            "tapes.count", str(count), "a hoop cannot hang from one tape", "Write 2 or more; 8 is usual"
        )
    elif count > MOST_TAPES:
        yield Problem("tapes.count", str(count), f"there are more than {MOST_TAPES} tapes",
                      "Write 60 or fewer; 8 to 12 are usual")  # fmt: skip


def number_of_hoops(design: Design) -> Iterator[Problem]:
    count = len(design.hoops)
    if count == 0:
        yield Problem(
            "hoops", "", "there are no hoops", "Write a line - {length: 48 in} for each hoop, from the top"
        )
    elif count > MOST_HOOPS:
        yield Problem(
            "hoops", f"{count} hoops", f"there are more than {MOST_HOOPS} hoops", "Write 40 or fewer"
        )


def a_drop_for_each_hoop(design: Design) -> Iterator[Problem]:
    rows, hoops, tapes = design.tapes.drops, len(design.hoops), design.tapes.count
    if not hoops or not FEWEST_TAPES <= tapes <= MOST_TAPES:
        return
    if len(rows) != tapes:
        yield Problem("tapes.drops", f"{len(rows)} lists of drops", f"there are {tapes} tapes",
                      f"Write {tapes} lists, one for each tape, or a single list for them all")  # fmt: skip
    wrong = [number for number, row in enumerate(rows) if len(row) != hoops]
    if len(wrong) == len(rows) and len(set(rows)) == 1:
        yield Problem("tapes.drops", _how_many(len(rows[0]), "drop"), f"there are {_how_many(hoops, 'hoop')}",
                      "Write one drop for each hoop, from the waistband down")  # fmt: skip
        return
    for number in wrong:
        yield Problem(f"tapes.drops[{number}]", f"{_how_many(len(rows[number]), 'drop')} for tape {number + 1}",
                      f"there are {_how_many(hoops, 'hoop')}", "Write one drop for each hoop")  # fmt: skip


def _how_many(count: int, what: str) -> str:
    return f"{count} {what}" + ("" if count == 1 else "s")


def stations_in_order(design: Design) -> Iterator[Problem]:
    stations = design.tapes.stations
    if not isinstance(stations, tuple):
        return
    if len(stations) != design.tapes.count:
        yield Problem("tapes.stations", f"{len(stations)} stations", f"there are {design.tapes.count} tapes",
                      "Write one fraction of the girth for each tape, or between, or on")  # fmt: skip
    for number, fraction in enumerate(stations):
        if fraction >= 1.0:
            yield Problem(f"tapes.stations[{number}]", f"{fraction:g}", "once round the girth is centre front again",
                          "Write a fraction below 1; centre front is 0")  # fmt: skip
    for number, (before, after) in enumerate(pairwise(stations), start=1):
        if after <= before:
            yield Problem(f"tapes.stations[{number}]", f"{after:g}",
                          f"tape {number + 1} does not come after tape {number} at {before:g}",
                          "Write them rising, from centre front round by the wearer's left")  # fmt: skip


def no_tape_on_an_opening(design: Design) -> Iterator[Problem]:
    for number, hoop in enumerate(design.hoops):
        if hoop.opening == "none":
            continue
        at = 0.0 if hoop.opening == "front" else 0.5
        tapes = [tape for tape, f in enumerate(station_fractions(design.tapes), 1) if abs(f - at) < ON]
        if tapes:
            yield Problem(f"hoops[{number}].opening", hoop.opening,
                          f"tape {tapes[0]} stands at centre {hoop.opening}, where hoop {number + 1} opens",
                          "Write another number of tapes, or other stations (between keeps centre front free), "
                          "or close the hoop")  # fmt: skip


def open_hoops_have_no_join(design: Design) -> Iterator[Problem]:
    for number, hoop in enumerate(design.hoops):
        if hoop.opening != "none" and hoop.join not in (None, "none"):
            yield Problem(f"hoops[{number}].join", "join", f"hoop {number + 1} is open and its ends do not meet",
                          "Leave join out, or leave opening out")  # fmt: skip


def one_kind_of_join(design: Design) -> Iterator[Problem]:
    for number, hoop in enumerate(design.hoops):
        if hoop.join is None or hoop.join == "none":
            continue
        lengths = [size for size in (hoop.join.tube, hoop.join.overlap) if size is not None]
        where = f"hoops[{number}].join"
        if len(lengths) != 1:
            yield Problem(
                where, "join", "a join is a tube or an overlap", "Write {tube: 1 1/4 in} or {overlap: 2 in}"
            )
        elif lengths[0] > hoop.length / 4:
            yield Problem(where, "join", f"the join is longer than a quarter of hoop {number + 1}",
                          "Write {overlap: 2 in}")  # fmt: skip


def ends_of_open_hoops(design: Design) -> Iterator[Problem]:
    """Overhangs must leave steel between the end tapes, and must not cross in the opening."""
    stations = station_fractions(design.tapes)
    if len(stations) < 2:
        return
    for number, hoop in enumerate(design.hoops):
        if hoop.opening == "none":
            continue
        held = hoop.length - 2 * hoop.overhang
        where = f"hoops[{number}].overhang"
        said = show_length(hoop.overhang, design.units)
        if held <= 0.1 * hoop.length:
            yield Problem(
                where, said, f"hardly any of hoop {number + 1} is left between its end tapes", "Write 1/2 in"
            )
        elif 2 * hoop.overhang >= held * opening_share(stations, hoop.opening) / (
            1 - opening_share(stations, hoop.opening)
        ):
            yield Problem(where, said, f"the two ends of hoop {number + 1} would cross in the opening",
                          "Write a shorter overhang; 1/2 in is usual")  # fmt: skip


def opening_share(stations: tuple[float, ...], opening: str) -> float:
    """Share of the girth between the two tapes beside an opening."""
    if opening == "front":
        return 1.0 - stations[-1] + stations[0]
    after = next((place for place, f in enumerate(stations) if f >= 0.5), 0)
    return (stations[after] - stations[after - 1]) % 1.0


def strip_can_be_made(design: Design) -> Iterator[Problem]:
    yield from _strip(design.steel, "steel", "the strip")
    for number, hoop in enumerate(design.hoops):
        if hoop.steel.model_fields_set:
            yield from _strip(design.steel_of(number), f"hoops[{number}].steel", f"hoop {number + 1}'s strip")


def _strip(steel: Steel, where: str, whose: str) -> Iterator[Problem]:
    width, thickness = f"{show_mm(steel.width, 2)} mm", f"{show_mm(steel.thickness, 2)} mm"
    if steel.thickness >= steel.width:
        yield Problem(f"{where}.thickness", thickness, f"{whose} is thicker than it is wide ({width})",
                      "Write the width of the flat side first: {width: 7 mm, thickness: 0.5 mm}")  # fmt: skip
    elif not THINNEST <= steel.thickness <= THICKEST:
        yield Problem(f"{where}.thickness", thickness, f"{whose} is {thickness} thick; hoop steel is 0.4 to 0.7 mm",
                      "Write it with its unit: 0.5 mm")  # fmt: skip
    elif steel.width > WIDEST:
        yield Problem(f"{where}.width", width, f"{whose} is {width} wide; hoop steel is 5 to 13 mm",
                      "Write it with its unit: 7 mm")  # fmt: skip
    if steel.strands > MOST_STRANDS:
        yield Problem(f"{where}.strands", str(steel.strands), f"more than {MOST_STRANDS} strips lie side by side",
                      "Write 1 or 2")  # fmt: skip
    if not 10e9 <= steel.modulus <= 500e9:
        yield Problem(f"{where}.modulus", f"{steel.modulus / 1e9:g} GPa", "no strip is as soft or stiff as that",
                      "Leave it out for steel (205 GPa)")  # fmt: skip
    if not 50e6 <= steel.yield_stress <= 5e9:
        yield Problem(f"{where}.yield_stress", f"{steel.yield_stress / 1e6:g} MPa", "no strip yields at that stress",
                      "Write 1000 MPa (cautious), 1200 MPa (usual) or 1400 MPa (hard)")  # fmt: skip


def steel_fits_its_casing(design: Design) -> Iterator[Problem]:
    casing = design.tapes.casing
    too_wide = [number for number in range(len(design.hoops)) if design.steel_of(number).width > casing]
    if too_wide:
        width = f"{show_mm(design.steel_of(too_wide[0]).width)} mm"
        yield Problem("tapes.casing", show_length(casing, design.units),
                      f"the casing is lower than the strip of hoop {too_wide[0] + 1} is wide ({width})",
                      "Make it 3 to 5 mm higher than the strip is wide")  # fmt: skip


def rests_inside_the_casing(design: Design) -> Iterator[Problem]:
    casing, tapes = design.tapes.casing, design.tapes.count
    places: list[tuple[str, object, int]] = [("tapes.rest", design.tapes.rest, 0)]
    for number, hoop in enumerate(design.hoops):
        if isinstance(hoop.rest, tuple):
            if len(hoop.rest) != tapes:
                yield Problem(f"hoops[{number}].rest", f"{len(hoop.rest)} places", f"there are {tapes} tapes",
                              "Write one place for each tape, or one for them all")  # fmt: skip
            places += [(f"hoops[{number}].rest[{tape}]", rest, number) for tape, rest in enumerate(hoop.rest)]
        else:
            places.append((f"hoops[{number}].rest", hoop.rest, number))
    for where, rest, number in places:
        room = casing - (design.steel_of(number).width if design.hoops else 0.0)
        if isinstance(rest, float) and rest > max(room, 0.0):
            yield Problem(where, show_length(rest, design.units), "the steel would rest above its casing",
                          f"Write {show_length(max(room, 0.0), design.units)} or less, or bottom, middle or top")  # fmt: skip


RULES = (
    number_of_tapes,
    number_of_hoops,
    a_drop_for_each_hoop,
    stations_in_order,
    no_tape_on_an_opening,
    open_hoops_have_no_join,
    one_kind_of_join,
    ends_of_open_hoops,
    strip_can_be_made,
    steel_fits_its_casing,
    rests_inside_the_casing,
)
