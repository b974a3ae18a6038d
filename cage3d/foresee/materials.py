"""What a hoop's material may do: cane and plastic are sold stiffer and softer, heavier and lighter.

Of a material that the design names, what it does not write itself is taken from a table and known between two ends
(`design/hoop_materials.py`). The cage is settled again at both.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

from cage3d.design.hoop_materials import HOOP_MATERIALS, Between, HoopMaterial, MaterialName
from cage3d.design.models import Design
from cage3d.foresee.stiffness import Give, gives
from cage3d.settle.settling import settle
from cage3d.settle.state import SettledCage
from cage3d.shape.lay_out import lay_out

Gives = tuple[Give, ...] | None
KEYS = {"stiffness": "modulus", "density": "density", "cover": "coating"}  # of a design, by what is told


@dataclass(frozen=True)
class MaterialEnds:
    """The cage with one thing of one material at either end of what is sold."""

    material: MaterialName
    what: str  # one of KEYS
    between: Between
    at_low: SettledCage | None  # None where it finds no rest
    at_high: SettledCage | None


def material_ends(settled: SettledCage, asked: Collection[str] = tuple(KEYS)) -> tuple[MaterialEnds, ...]:
    """Of every material that the design names and what it leaves to the table; nothing of a cage that is no answer.

    asked: what of, of KEYS.
    """
    if not settled.trusted:
        return ()
    design, found = settled.cage.design, []
    named = [design.steel_of(hoop).material for hoop in range(len(design.hoops))]
    for material in dict.fromkeys(name for name in named if name is not None):
        for what, key in ((what, key) for what, key in KEYS.items() if what in asked):
            between = known_between(HOOP_MATERIALS[material], key)
            own = hoops_that_leave(design, material, key)
            if own and between.low < between.high:
                low, high = (taken(settled, own, key, end) for end in (between.low, between.high))
                found.append(MaterialEnds(material, what, between, low, high))
    return tuple(found)


def gives_at_ends(settled: SettledCage) -> dict[MaterialName, tuple[Gives, Gives]]:
    """How the hem gives under a hand with every named material at its softest and at its stiffest.

    Of materials whose stiffness the design leaves to the table; None where the cage finds no rest.
    """
    found: dict[MaterialName, tuple[Gives, Gives]] = {}
    for one in material_ends(settled, ("stiffness",)):
        low, high = (None if end is None else gives(end) for end in (one.at_low, one.at_high))
        found[one.material] = (low, high)
    return found


def known_between(of: HoopMaterial, key: str) -> Between:
    return {"modulus": of.modulus, "density": of.density, "coating": of.cover}[key]


def hoops_that_leave(design: Design, material: MaterialName, key: str) -> list[int]:
    """Hoops (from 0) of a material whose design does not write this of it."""
    steels = [design.steel_of(hoop) for hoop in range(len(design.hoops))]
    return [
        hoop
        for hoop, steel in enumerate(steels)
        if steel.material == material and key not in steel.model_fields_set
    ]


def taken(settled: SettledCage, hoops: list[int], key: str, value: float) -> SettledCage | None:
    """The cage settled again with this in those hoops; None where it finds no rest."""
    cage = settled.cage
    written = list(cage.design.hoops)
    for hoop in hoops:
        steel = written[hoop].steel.model_copy(update={key: value})
        written[hoop] = written[hoop].model_copy(update={"steel": steel})
    laid = lay_out(cage.design.model_copy(update={"hoops": tuple(written)}), cage.nodes_per_hoop)
    again = settle(replace(cage, parameters=laid.parameters, steels=laid.steels), settled)
    return again if again.trusted else None
