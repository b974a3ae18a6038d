"""Rules for what hangs on the cage."""

from __future__ import annotations

from collections.abc import Iterator

from cage3d.design import stock
from cage3d.design.models import Design, Skirt, SkirtSides
from cage3d.design.rules.body import HEAVIEST, too_heavy
from cage3d.errors import Problem
from cage3d.units import UnitError

WHOLE = 1e-3  # by which shares may miss the whole, for rounding
MOST_SKIRTS = 10


def places_of(design: Design) -> Iterator[tuple[str, Skirt]]:
    """Every skirt with its place in the design."""
    for number, skirt in enumerate(design.skirts):
        yield f"skirt[{number}]" if isinstance(design.skirt, tuple) else "skirt", skirt


def skirts_are_given(design: Design) -> Iterator[Problem]:
    for where, skirt in places_of(design):
        if (skirt.weight is None) == (skirt.cloth is None):
            why = "a skirt is given by its weight or by its cloth" + (
                ", not both" if skirt.weight is not None else ""
            )
            yield Problem(where, "skirt", why, "Write skirt: {weight: 0.8 kg} or skirt: {cloth: taffeta}")
        if skirt.layers > 20:
            yield Problem(
                f"{where}.layers", str(skirt.layers), "a skirt has fewer than 20 layers", "Write 1 or 2"
            )
        if isinstance(skirt.cloth, str):
            try:
                stock.cloth_weight(skirt.cloth)
            except UnitError as fault:
                yield Problem(f"{where}.cloth", skirt.cloth, fault.why, fault.try_this)
    if len(design.skirts) > MOST_SKIRTS:
        yield Problem(
            "skirt",
            f"{len(design.skirts)} skirts",
            f"there are more than {MOST_SKIRTS} skirts",
            "Add some up",
        )


def skirts_can_be_carried(design: Design) -> Iterator[Problem]:
    for where, skirt in places_of(design):
        if skirt.weight is not None and skirt.weight > HEAVIEST:
            yield too_heavy(f"{where}.weight", skirt.weight, "a skirt")
            return
    together = sum(skirt.weight or 0.0 for skirt in design.skirts)
    if together > HEAVIEST:
        yield too_heavy("skirt", together, "skirts together")


def skirts_hang_from_hoops_there_are(design: Design) -> Iterator[Problem]:
    for where, skirt in places_of(design):
        if skirt.hoops is None:
            continue
        said = f"[{', '.join(map(str, skirt.hoops))}]"
        if not skirt.hoops:
            yield Problem(
                f"{where}.hoops", said, "a skirt must hang from some hoop", "Leave hoops out for all of them"
            )
        elif max(skirt.hoops) > len(design.hoops):
            yield Problem(
                f"{where}.hoops",
                said,
                f"there is no hoop {max(skirt.hoops)}: the design has {len(design.hoops)}",
                "Count hoops from the top, from 1",
            )
        elif len(set(skirt.hoops)) < len(skirt.hoops):
            yield Problem(f"{where}.hoops", said, "a hoop stands there twice", "Name each hoop once")


def shares_of_a_skirt_add_up(design: Design) -> Iterator[Problem]:
    for where, skirt in places_of(design):
        lies = skirt.lies
        if lies is None:
            continue
        sides = isinstance(lies, SkirtSides)
        shares = (lies.front, lies.sides, lies.back) if isinstance(lies, SkirtSides) else lies
        said = " + ".join(f"{100.0 * share:g}" for share in shares) + " %"
        if not sides and len(shares) != design.tapes.count:
            yield Problem(
                f"{where}.lies",
                f"{len(shares)} shares",
                f"there are {design.tapes.count} tapes",
                "Write a share for each tape from centre front by her left, or {front: , sides: , back: }",
            )
        elif abs(sum(shares) - 1.0) > WHOLE:
            yield Problem(
                f"{where}.lies",
                said,
                f"the shares of the skirt make {100.0 * sum(shares):g} %, not the whole",
                "Write shares that make 100 % together; an even skirt has front 25 %, sides 50 %, back 25 %",
            )


def cloth_that_slides_has_friction(design: Design) -> Iterator[Problem]:
    for where, skirt in places_of(design):
        if not skirt.slides and "friction" in skirt.model_fields_set:
            yield Problem(
                f"{where}.friction",
                f"{skirt.friction:g}",
                "this skirt lies where it is put, and only one that slides has friction",
                "Add slides: yes, or leave friction out",
            )


RULES = (
    skirts_are_given,
    skirts_can_be_carried,
    skirts_hang_from_hoops_there_are,
    shares_of_a_skirt_add_up,
    cloth_that_slides_has_friction,
)
