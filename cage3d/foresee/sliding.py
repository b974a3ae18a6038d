"""The skirt taken the other way: cloth that lies where it is put, or that slides over the hoops without friction.

Nobody knows how a skirt's cloth drags on the hoops under it. One that lies on them presses each down with what
covers it; one that slides hangs from the waistband, and a hoop gets what the cloth's bend over it gives, inward and
down. The truth is between the two, so the cage is settled both ways.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from cage3d.design.baskets import has_baskets
from cage3d.settle.settling import settle
from cage3d.settle.state import SettledCage
from cage3d.shape.lay_out import lay_out


@dataclass(frozen=True)
class BothWays:
    """The cage under a skirt that lies, and under one that slides freely: the same one where it is written so."""

    lies: SettledCage
    slides: SettledCage


def both_ways(settled: SettledCage) -> BothWays | None:
    """None where no skirt hangs on the cage, it finds no rest the other way, or hoops stand beside her: how cloth
    slides is worked out round her alone.
    """
    if has_baskets(settled.cage.design):
        return None
    if not settled.trusted or not settled.cage.parameters.skirt_hangs:
        return None
    skirts = settled.cage.design.skirts
    lies = settled if not any(skirt.slides for skirt in skirts) else taken(settled, slides=False)
    freely = all(skirt.slides and skirt.friction == 0.0 for skirt in skirts)
    slides = settled if freely else taken(settled, slides=True)
    return BothWays(lies, slides) if lies.trusted and slides.trusted else None


def taken(settled: SettledCage, slides: bool) -> SettledCage:
    """The cage settled again with every skirt sliding without friction, or lying."""
    cage = settled.cage
    skirts = tuple(
        skirt.model_copy(update={"slides": slides, "friction": 0.0}) for skirt in cage.design.skirts
    )
    laid = lay_out(cage.design.model_copy(update={"skirt": skirts}), cage.nodes_per_hoop)
    numbers = replace(
        cage.parameters,
        skirt_weight=laid.parameters.skirt_weight,
        cloth_weight=laid.parameters.cloth_weight,
        cloth_length=laid.parameters.cloth_length,
    )
    cloths = tuple(cloth.laid_over(settled.positions) for cloth in laid.cloths)
    return settle(replace(cage, parameters=numbers, cloths=cloths), settled)
