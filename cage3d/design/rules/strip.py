"""Rules for the strip itself and for its place in the casings."""

from __future__ import annotations

from collections.abc import Iterator

from cage3d.design.models import Design, Steel
from cage3d.errors import Problem
from cage3d.units import show_length, show_mm

THINNEST, THICKEST = 0.0001, 0.003  # m; hoop steel is 0.4 to 0.7 mm thick
WIDEST = 0.040  # m; hoop steel is 5 to 13 mm wide
MOST_STRANDS = 10


def strip_can_be_made(design: Design) -> Iterator[Problem]:
    yield from strip(design.steel, "steel", "the strip")
    for number, hoop in enumerate(design.hoops):
        if hoop.steel.model_fields_set:
            yield from strip(design.steel_of(number), f"hoops[{number}].steel", f"hoop {number + 1}'s strip")


def strip(steel: Steel, where: str, whose: str) -> Iterator[Problem]:
    width, thickness = f"{show_mm(steel.width, 2)} mm", f"{show_mm(steel.thickness, 2)} mm"
    if steel.thickness >= steel.width:
        yield Problem(
            f"{where}.thickness",
            thickness,
            f"{whose} is thicker than it is wide ({width})",
            "Write the width of the flat side first: {width: 7 mm, thickness: 0.5 mm}",
        )
    elif not THINNEST <= steel.thickness <= THICKEST:
        yield Problem(
            f"{where}.thickness",
            thickness,
            f"{whose} is {thickness} thick; hoop steel is 0.4 to 0.7 mm",
            "Write it with its unit: 0.5 mm",
        )
    elif steel.width > WIDEST:
        yield Problem(
            f"{where}.width",
            width,
            f"{whose} is {width} wide; hoop steel is 5 to 13 mm",
            "Write it with its unit: 7 mm",
        )
    if steel.strands > MOST_STRANDS:
        yield Problem(
            f"{where}.strands",
            str(steel.strands),
            f"more than {MOST_STRANDS} strips lie side by side",
            "Write 1 or 2",
        )
    yield from set_bears(steel, where)
    if not 50e6 <= steel.yield_stress <= 5e9:
        yield Problem(
            f"{where}.yield_stress",
            f"{steel.yield_stress / 1e6:g} MPa",
            "no strip yields at that stress",
            "Write 1000 MPa (cautious), 1200 MPa (usual) or 1400 MPa (hard)",
        )


def set_bears(steel: Steel, where: str) -> Iterator[Problem]:
    """Strip that lies free in a curve cannot have been bent to it, nor be laid straight, past what it bears."""
    if steel.set_radius is None:
        if steel.threaded == "against":
            yield Problem(
                f"{where}.threaded",
                steel.threaded,
                "strip that lies straight has no curve to be threaded against",
                "Write set_radius too, such as set_radius: 50 cm, or leave threaded out",
            )
        return
    least = steel.modulus * steel.thickness / (2.0 * steel.yield_stress)
    if steel.set_radius < least:
        yield Problem(
            f"{where}.set_radius",
            f"{show_mm(steel.set_radius)} mm",
            "strip that lies free in so tight a curve keeps a kink when it is laid straight: it bears a change of"
            f" curve of {show_mm(least, 0)} mm in radius",
            "Measure the radius of the strip as it lies free on the floor: 30 cm to 1 m is usual",
        )


def usual_stiffness(design: Design) -> Iterator[Problem]:
    """Steel has 190 to 210 GPa; another material may be tried, and is mostly a slip."""
    stiffness = design.steel.modulus
    if not 10e9 <= stiffness <= 500e9:
        yield Problem(
            "steel.modulus",
            f"{stiffness / 1e9:g} GPa",
            "no strip sold for hoops is as soft or stiff as that",
            "Leave it out for steel (205 GPa)",
        )


def casings_have_room(design: Design) -> Iterator[Problem]:
    """A drop shorter than a casing is high leaves no tape between two casings: the cage hangs, but cannot be sewn."""
    for tape, row in enumerate(design.tapes.drops):
        for hoop, drop in enumerate(row):
            if drop < design.tapes.casing:
                above = f"the casing of hoop {hoop}" if hoop else "the waistband"
                yield Problem(
                    f"tapes.drops[{tape}][{hoop}]",
                    show_length(drop, design.units),
                    f"the casing of hoop {hoop + 1} is {show_length(design.tapes.casing, design.units)} high and"
                    f" would lie over {above}",
                    "Write a lower tapes.casing, or a longer drop",
                )
                return


def steel_fits_its_casing(design: Design) -> Iterator[Problem]:
    casing = design.tapes.casing
    too_wide = [number for number in range(len(design.hoops)) if design.steel_of(number).width > casing]
    if too_wide:
        width = f"{show_mm(design.steel_of(too_wide[0]).width)} mm"
        yield Problem(
            "tapes.casing",
            show_length(casing, design.units),
            f"the casing is lower than the strip of hoop {too_wide[0] + 1} is wide ({width})",
            "Make it 3 to 5 mm higher than the strip is wide",
        )


def strands_fit_their_casing(design: Design) -> Iterator[Problem]:
    """Strips side by side need the room of them all; a casing that holds only one makes them lie over one another."""
    for number in range(len(design.hoops)):
        steel = design.steel_of(number)
        together = steel.strands * steel.width
        if steel.width <= design.tapes.casing < together:
            yield Problem(
                "tapes.casing",
                show_length(design.tapes.casing, design.units),
                f"the casing is lower than the {steel.strands} strips of hoop {number + 1} are wide side by side"
                f" ({show_mm(together)} mm)",
                "Make it 3 to 5 mm higher than that, or write fewer strands",
            )
            return


def rests_inside_the_casing(design: Design) -> Iterator[Problem]:
    casing, tapes = design.tapes.casing, design.tapes.count
    places: list[tuple[str, object, int]] = [("tapes.rest", design.tapes.rest, 0)]
    for number, hoop in enumerate(design.hoops):
        if isinstance(hoop.rest, tuple):
            if len(hoop.rest) != tapes:
                yield Problem(
                    f"hoops[{number}].rest",
                    f"{len(hoop.rest)} places",
                    f"there are {tapes} tapes",
                    "Write one place for each tape, or one for them all",
                )
            places += [(f"hoops[{number}].rest[{tape}]", rest, number) for tape, rest in enumerate(hoop.rest)]
        else:
            places.append((f"hoops[{number}].rest", hoop.rest, number))
    for where, rest, number in places:
        room = casing - (design.steel_of(number).width if design.hoops else 0.0)
        if isinstance(rest, float) and rest > max(room, 0.0):
            yield Problem(
                where,
                show_length(rest, design.units),
                "the steel would rest above its casing",
                f"Write {show_length(max(room, 0.0), design.units)} or less, or bottom, middle or top",
            )


RULES = (strip_can_be_made, steel_fits_its_casing, rests_inside_the_casing)
REMARKS = (usual_stiffness, casings_have_room, strands_fit_their_casing)
