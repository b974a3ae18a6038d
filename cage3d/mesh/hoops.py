"""The steels: swept strip, the joins of closed hoops, the tips of open ones."""

from __future__ import annotations

from functools import partial

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Steel
from cage3d.mesh.extras import Extras, lengths
from cage3d.mesh.part import Part
from cage3d.mesh.strip_line import StripLine
from cage3d.mesh.sweep import sweep
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage
from cage3d.shape.section import Section

LAYER_GAP = 0.00005  # m between layers, so that no faces of two bodies coincide; drawn only
# Steel runs by the wearer's left: from her left side of a front opening, from her right side of one at the back; of a
# bow beside her from its own front at her left, from its back at her right.
ENDS = {
    "front": ("left", "right"), "back": ("right", "left"), "right": ("front", "back"), "left": ("back", "front"),
}  # fmt: skip
STRETCH_POINTS = 9  # along a join


def hoop_part(settled: SettledCage, line: StripLine, hoop: int, steps: int) -> Part:
    """Hoop `hoop` (from 0) as a strip of its true section along its line, in `steps` steps or more."""
    design, section = settled.cage.design, settled.cage.steels[hoop].section
    steel = section.steel
    centre, frames = line.whole(steps)
    return Part(
        name=f"hoop {hoop + 1}",
        kind="hoops",
        solid=sweep(centre, frames, section.outline(), smooth=section.round),
        material=look_of(steel),
        number=hoop + 1,
        told=partial(hoop_facts, section, line, centre, design.units),
    )


def hoop_facts(section: Section, line: StripLine, centre: Floats, units: str | None) -> dict[str, object]:
    """centre: (n, 3) m, as drawn."""
    steel = section.steel
    measures = Extras(units)
    measures.add("length", line.length)
    measures.add("steel_width", section.along / steel.strands)
    measures.add("steel_thickness", section.through / steel.layers, fine=True)
    measures.add("lowest", float(centre[:, 2].min()))
    measures.add("highest", float(centre[:, 2].max()))
    measures.add("width_side_side", float(np.ptp(centre[:, 0])))
    measures.add("width_front_back", float(np.ptp(centre[:, 1])))
    return measures.with_facts(open=not line.closed, strands=steel.strands, **named(steel))


def named(steel: Steel) -> dict[str, str | int]:
    """What a viewer is told of a material that has a name, and of strips upon one another."""
    facts: dict[str, str | int] = {"material": steel.material} if steel.material else {}
    return facts | ({"layers": steel.layers} if steel.layers > 1 else {})


def look_of(steel: Steel) -> str:
    """By what name of the palette it is drawn."""
    if not steel.made_of.is_steel:
        return steel.made_of.stuff
    return "covered steel" if steel.coating > 0.0 else "steel"


def end_parts(cage: Cage, line: StripLine, hoop: int) -> list[Part]:
    """The join of a closed hoop, or the two tips of an open one."""
    return join_parts(cage, line, hoop) if line.closed else tips(cage, line, hoop)


def join_parts(cage: Cage, line: StripLine, hoop: int) -> list[Part]:
    section, join = cage.steels[hoop].section, cage.steels[hoop].join
    if join is None or not join.length:
        return []
    middle = line.place_of(join.centre)
    centre, frames = line.stretch(middle - join.length / 2.0, middle + join.length / 2.0, STRETCH_POINTS)
    if join.lapped:
        # The second layer of the strip lies outside the first.
        outline, material = (
            section.outline(outward=section.covered[0] + LAYER_GAP),
            section.steel.made_of.stuff,
        )
    else:
        outline, material = section.outline(wider=trade.TUBE_WALL), "hardware"
    told = partial(lengths, cage.design.units, **{"overlap" if join.lapped else "tube": join.length})
    body = sweep(centre, frames, outline, smooth=section.round)
    return [Part(f"hoop {hoop + 1} join", "joins", body, material, hoop + 1, told)]


def tips(cage: Cage, line: StripLine, hoop: int) -> list[Part]:
    section = cage.steels[hoop].section
    length = min(trade.TIP_LENGTH, line.length / 4.0)
    told = partial(lengths, cage.design.units, length=length)
    sides = ENDS[cage.design.hoops[hoop].opening]
    reaches = ((-trade.TIP_WALL, length), (line.length - length, line.length + trade.TIP_WALL))
    parts = []
    for side, reach in zip(sides, reaches, strict=True):
        body = sweep(*line.stretch(*reach, 3), section.outline(wider=trade.TIP_WALL), smooth=section.round)
        parts.append(Part(f"hoop {hoop + 1} {side} tip", "tips", body, "hardware", hoop + 1, told))
    return parts
