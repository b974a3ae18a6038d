"""Rules for the strip itself, whatever it is made of."""

from __future__ import annotations

from collections.abc import Iterator, Set

from cage3d.design.hoop_materials import FLAT_STEEL, HOOP_MATERIALS
from cage3d.design.models import Design, Steel
from cage3d.design.models.steel import COUNTS, SIZES
from cage3d.errors import Problem
from cage3d.units import show_mm
from cage3d.wording import listed

# m, (least, most, what is usual) of every size by the form that it belongs to [common practice].
STEEL_THICKNESS = (0.0001, 0.003, "hoop steel is 0.4 to 0.7 mm")
BOUNDS = {
    "thickness": (0.0003, 0.006, "plastic strip is 1 to 2 mm"),
    "diameter": (0.0015, 0.040, "cane and rods are 3 to 10 mm, hose 12 to 25 mm"),
}
STEEL_WIDTH, WIDTH = "hoop steel is 5 to 13 mm", "plastic strip is 5 to 25 mm"
WIDEST = 0.040  # m
MOST_STRANDS, MOST_LAYERS = 10, 5
SIZE_EXAMPLES = {"width": "7 mm", "thickness": "0.5 mm", "diameter": "6 mm", "wall": "2 mm"}
LEAST_TURN = 3.0  # thicknesses; a strain of a sixth


def strip_can_be_made(design: Design) -> Iterator[Problem]:
    yield from strip(design.steel, design.steel.model_fields_set, "steel", "the strip")
    for number, hoop in enumerate(design.hoops):
        written = hoop.steel.model_fields_set
        if written:
            whose = f"hoop {number + 1}'s strip"
            yield from strip(design.steel_of(number), written, f"hoops[{number}].steel", whose)


def strip(steel: Steel, written: Set[str], where: str, whose: str) -> Iterator[Problem]:
    """written: the keys that stand there."""
    yield from keys_of_its_form(steel, written, where)
    if not steel.sized:
        missing = [size for size in SIZES[steel.made_of.form] if getattr(steel, size) is None]
        for size in missing:
            yield Problem(
                f"{where}.{size}", "", f"{size} is missing", f"Write {size}: {example(steel, size)}"
            )
        return
    yield from sizes(steel, where, whose)
    yield from set_bears(steel, where)
    yield from how_far_it_bends(steel, written, where)


def example(steel: Steel, size: str) -> str:
    """What a size may be, in its material."""
    if steel.made_of.form == "hollow" and size == "diameter":
        return "20 mm"
    if size == "thickness" and not steel.made_of.is_steel:
        return "1.5 mm"
    return SIZE_EXAMPLES[size]


def keys_of_its_form(steel: Steel, written: Set[str], where: str) -> Iterator[Problem]:
    """A rod has no thickness, and a flat strip no diameter."""
    form, name = steel.made_of.form, steel.material or FLAT_STEEL
    own = SIZES[form]
    for size in sorted({one for form_sizes in SIZES.values() for one in form_sizes} - set(own)):
        if size in written:
            others = [other for other in HOOP_MATERIALS if size in SIZES[HOOP_MATERIALS[other].form]]
            yield Problem(
                f"{where}.{size}",
                "",
                f"{name} is told by its {listed(own)}",
                f"Leave {size} out, or write its material: {listed(others, 'or')}",
            )
    for key in COUNTS:
        if form != "flat" and key in written and getattr(steel, key) > 1:
            yield Problem(
                f"{where}.{key}",
                str(getattr(steel, key)),
                f"only flat strip lies in {key}",
                f"Leave {key} out",
            )


def sizes(steel: Steel, where: str, whose: str) -> Iterator[Problem]:
    flat = steel.made_of.form == "flat"
    yield from flat_sizes(steel, where, whose) if flat else round_sizes(steel, where)
    for key, most in (("strands", MOST_STRANDS), ("layers", MOST_LAYERS)):
        if getattr(steel, key) > most:
            lie = "side by side" if key == "strands" else "one upon another"
            yield Problem(
                f"{where}.{key}",
                str(getattr(steel, key)),
                f"more than {most} strips lie {lie}",
                "Write 1 or 2",
            )


def flat_sizes(steel: Steel, where: str, whose: str) -> Iterator[Problem]:
    least, most, usual = STEEL_THICKNESS if steel.made_of.is_steel else BOUNDS["thickness"]
    across, through = steel.width or 0.0, steel.thickness or 0.0
    width, thickness = f"{show_mm(across, 2)} mm", f"{show_mm(through, 2)} mm"
    if through >= across:
        yield Problem(
            f"{where}.thickness",
            thickness,
            f"{whose} is thicker than it is wide ({width})",
            "Write the width of the flat side first: {width: 7 mm, thickness: 0.5 mm}; of cane, rod or hose write the"
            " material and its diameter",
        )
    elif not least <= through <= most:
        yield Problem(
            f"{where}.thickness",
            thickness,
            f"{whose} is {thickness} thick; {usual}",
            f"Write it with its unit: {example(steel, 'thickness')}",
        )
    elif across > WIDEST:
        usual = STEEL_WIDTH if steel.made_of.is_steel else WIDTH
        yield Problem(
            f"{where}.width", width, f"{whose} is {width} wide; {usual}", "Write it with its unit: 7 mm"
        )


def round_sizes(steel: Steel, where: str) -> Iterator[Problem]:
    least, most, usual = BOUNDS["diameter"]
    across, wall = steel.diameter or 0.0, steel.wall
    size = f"{show_mm(across, 2)} mm"
    if not least <= across <= most:
        yield Problem(
            f"{where}.diameter",
            size,
            f"what is {size} thick is no hoop; {usual}",
            f"Write it with its unit: {example(steel, 'diameter')}",
        )
    elif wall is not None and 2.0 * wall >= across:
        yield Problem(
            f"{where}.wall",
            f"{show_mm(wall, 2)} mm",
            f"two such walls fill the hose, which is {size} across",
            "Write a thinner wall, or material: plastic rod without a wall",
        )


def how_far_it_bends(steel: Steel, written: Set[str], where: str) -> Iterator[Problem]:
    """A yield stress is of steel; a least radius may be of anything, and says the same."""
    if "yield_stress" in written and not steel.made_of.is_steel:
        yield Problem(
            f"{where}.yield_stress",
            "",
            f"{steel.material} is not told by a yield stress",
            "Write least_radius, the radius to which you can bend it and it springs back",
        )
    elif {"yield_stress", "least_radius"} <= written:
        yield Problem(
            f"{where}.least_radius",
            "",
            "yield_stress and least_radius both say how far it may be bent",
            "Write one of them",
        )
    elif steel.yield_stress is not None and not 50e6 <= steel.yield_stress <= 5e9:
        yield Problem(
            f"{where}.yield_stress",
            f"{steel.yield_stress / 1e6:g} MPa",
            "no strip yields at that stress",
            "Write 1000 MPa (cautious), 1200 MPa (usual) or 1400 MPa (hard)",
        )
    if steel.least_radius is not None and steel.least_radius < LEAST_TURN * steel.bent_through:
        yield Problem(
            f"{where}.least_radius",
            f"{show_mm(steel.least_radius)} mm",
            f"nothing {show_mm(steel.bent_through, 2)} mm thick springs back from so tight a bend",
            f"Write the radius, not the diameter, at least {LEAST_TURN:g} times as much as it is thick",
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
    if steel.threaded == "against" and steel.made_of.form != "flat":
        yield Problem(
            f"{where}.threaded",
            steel.threaded,
            "what is round rolls over in its casings until its own curve lies round her",
            "Leave threaded out",
        )
    least = steel.bent_through / (2.0 * steel.bears)
    if steel.set_radius < least:
        yield Problem(
            f"{where}.set_radius",
            f"{show_mm(steel.set_radius)} mm",
            "strip that lies free in so tight a curve keeps a kink when it is laid straight: it bears a change of"
            f" curve of {show_mm(least, 0)} mm in radius",
            "Measure the radius of the strip as it lies free on the floor: 30 cm to 1 m is usual",
        )


def usual_stiffness(design: Design) -> Iterator[Problem]:
    """Steel has 190 to 210 GPa, and every material its own; another figure may be tried, and is mostly a slip."""
    stiffness, of = design.steel.modulus, design.steel.made_of
    least, most = (10e9, 500e9) if of.is_steel else (of.modulus.low / 3.0, 3.0 * of.modulus.high)
    if not least <= stiffness <= most:
        name = "steel" if of.is_steel else design.steel.material
        yield Problem(
            "steel.modulus",
            f"{stiffness / 1e9:g} GPa",
            "no strip sold for hoops is as soft or stiff as that",
            f"Leave it out for {name} ({of.modulus.usual / 1e9:g} GPa)",
        )


RULES = (strip_can_be_made,)
REMARKS = (usual_stiffness,)
