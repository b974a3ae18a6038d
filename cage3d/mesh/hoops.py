"""The steels: swept strip, the joins of closed hoops, the tips of open ones."""

from __future__ import annotations

import numpy as np

from cage3d.design.models import Design, Steel
from cage3d.mesh.extras import Extras
from cage3d.mesh.part import Part
from cage3d.mesh.strip_line import StripLine
from cage3d.mesh.sweep import rectangle, sweep
from cage3d.settle.state import SettledCage
from cage3d.shape.weights import join_centre, join_of

# A coating is written as a weight; its thickness follows from the density of the usual plastic cover
# (plasticised PVC, from memory). Only the drawn section depends on it.
COATING_DENSITY = 1300.0  # kg/m3
TUBE_WALL = 0.0005  # m, common practice; drawn only
TIP_LENGTH = 0.012  # m, caps are 10 to 16 mm long: common practice
TIP_WALL = 0.0006  # m, drawn only
LAYER_GAP = 0.00005  # m between layers, so that no faces of two bodies coincide; drawn only
STRETCH_POINTS = 9  # along a join


def strip_section(steel: Steel) -> tuple[float, float]:
    """(thickness, width) in m of the strip with its coating; strands lie side by side."""
    width, thickness = steel.width * steel.strands, steel.thickness
    coat = coating_thickness(width, thickness, steel.coating)
    return thickness + 2.0 * coat, width + 2.0 * coat


def coating_thickness(width: float, thickness: float, coating: float) -> float:
    """m all round a bare section (m) of a coating of so many kg/m: 4 c^2 + 2 c (b + t) = its area."""
    half_girth = width + thickness
    return float((np.sqrt(half_girth**2 + 4.0 * coating / COATING_DENSITY) - half_girth) / 4.0)


def hoop_part(settled: SettledCage, line: StripLine, hoop: int, steps: int) -> Part:
    """Hoop `hoop` (from 0) as a strip of its true section along its line, in `steps` steps or more."""
    design = settled.cage.design
    steel = design.steel_of(hoop)
    centre, frames = line.whole(steps)
    measures = Extras(design.units)
    measures.add("length", line.length)
    measures.add("steel_width", steel.width)
    measures.add("steel_thickness", steel.thickness, fine=True)
    measures.add("lowest", float(centre[:, 2].min()))
    measures.add("highest", float(centre[:, 2].max()))
    measures.add("width_side_side", float(np.ptp(centre[:, 0])))
    measures.add("width_front_back", float(np.ptp(centre[:, 1])))
    return Part(
        name=f"hoop {hoop + 1}",
        kind="hoops",
        solid=sweep(centre, frames, rectangle(*strip_section(steel))),
        material="covered steel" if steel.coating > 0.0 else "steel",
        number=hoop + 1,
        extras=measures.with_facts(open=not line.closed, strands=steel.strands),
    )


def end_parts(design: Design, line: StripLine, hoop: int) -> list[Part]:
    """The join of a closed hoop, or the two tips of an open one."""
    return _join(design, line, hoop) if line.closed else _tips(design, line, hoop)


def _join(design: Design, line: StripLine, hoop: int) -> list[Part]:
    join = join_of(design, hoop)
    length = join and (join.overlap or join.tube)
    if join is None or not length:
        return []
    thickness, width = strip_section(design.steel_of(hoop))
    middle = line.place_of(join_centre(design, hoop))
    centre, frames = line.stretch(middle - length / 2.0, middle + length / 2.0, STRETCH_POINTS)
    if join.overlap is not None:
        # The second layer of the strip lies outside the first.
        section, material = rectangle(thickness, width, outward=thickness + LAYER_GAP), "steel"
    else:
        section, material = rectangle(thickness + 2 * TUBE_WALL, width + 2 * TUBE_WALL), "hardware"
    measures = Extras(design.units)
    measures.add("overlap" if join.overlap is not None else "tube", length)
    return [
        Part(
            f"hoop {hoop + 1} join", "joins", sweep(centre, frames, section), material, hoop + 1, measures.all
        )
    ]


def _tips(design: Design, line: StripLine, hoop: int) -> list[Part]:
    thickness, width = strip_section(design.steel_of(hoop))
    section = rectangle(thickness + 2 * TIP_WALL, width + 2 * TIP_WALL)
    length = min(TIP_LENGTH, line.length / 4.0)
    measures = Extras(design.units)
    measures.add("length", length)
    # Steel runs by the wearer's left: from her left side of a front opening, from her
    # right side of one at the back.
    sides = ("left", "right") if design.hoops[hoop].opening == "front" else ("right", "left")
    reaches = ((-TIP_WALL, length), (line.length - length, line.length + TIP_WALL))
    parts = []
    for side, reach in zip(sides, reaches, strict=True):
        body = sweep(*line.stretch(*reach, 3), section)
        parts.append(Part(f"hoop {hoop + 1} {side} tip", "tips", body, "hardware", hoop + 1, measures.all))
    return parts
