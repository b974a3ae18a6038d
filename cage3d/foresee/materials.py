"""What a hoop's material may do: cane and plastic are sold stiffer and softer, heavier and lighter.

Of a material that the design names, what it does not write itself is taken from a table and known between two ends
(`design/hoop_materials.py`). The cage is settled again at both.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from cage3d.design.hoop_materials import HOOP_MATERIALS, Between, HoopMaterial, MaterialName
from cage3d.design.models import Design
from cage3d.settle.settling import settle
from cage3d.settle.state import SettledCage
from cage3d.shape.lay_out import lay_out

KEYS = {"stiffness": "modulus", "density": "density", "cover": "coating"}  # of a design, by what is told


@dataclass(frozen=True)
class MaterialEnds:
    """The cage with one thing of one material at either end of what is sold."""

    material: MaterialName
    what: str  # one of KEYS
    between: Between
    at_low: SettledCage | None  # None where it finds no rest
    at_high: SettledCage | None


def material_ends(settled: SettledCage) -> tuple[MaterialEnds, ...]:
    """Of every material that the design names and what it leaves to the table; nothing of a cage that is no answer."""
    if not settled.trusted:
        return ()
    design, found = settled.cage.design, []
    named = [design.steel_of(hoop).material for hoop in range(len(design.hoops))]
    for material in dict.fromkeys(name for name in named if name is not None):
        for what, key in KEYS.items():
            between = known_between(HOOP_MATERIALS[material], key)
            own = hoops_that_leave(design, material, key)
            if own and between.low < between.high:
                low, high = (taken(settled, own, key, end) for end in (between.low, between.high))
                found.append(MaterialEnds(material, what, between, low, high))
    return tuple(found)


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
