"""All parts of a settled cage's model, in a fixed order."""

from __future__ import annotations

from collections.abc import Set

from cage3d.mesh.casings import casings_parts
from cage3d.mesh.cover import skirt_part
from cage3d.mesh.figure import figure_parts
from cage3d.mesh.gores import casing_parts, gore_parts
from cage3d.mesh.hoops import end_parts, hoop_part
from cage3d.mesh.panels import panel_parts
from cage3d.mesh.part import KINDS, USUAL_KINDS, Part
from cage3d.mesh.strip_line import strip_line
from cage3d.mesh.surroundings import floor_part, form_parts
from cage3d.mesh.tapes import tape_lines, tape_parts
from cage3d.mesh.ties import tie_parts
from cage3d.mesh.waistband import waistband_parts
from cage3d.settle.state import SettledCage

STEPS_ROUND = 200  # least steps round a drawn hoop: the chords of a 110 in hoop leave it by less than 0.06 mm
FINE_STEPS_ROUND = 400


def build_parts(settled: SettledCage, wanted: Set[str] | None = None, fine: bool = False) -> tuple[Part, ...]:
    """The parts of the kinds in `wanted` (names of part.KINDS; None: all but the wearer), each under a name of its own.

    Parts a design has none of (ties, a form without a hip measure) are left out. The vertices
    and faces depend on the design and on `fine` alone: two states of one cage give parts that
    match vertex for vertex.
    """
    kinds = USUAL_KINDS if wanted is None else wanted
    design = settled.cage.design
    lines = [strip_line(settled, hoop) for hoop in range(len(design.hoops))]
    parts: list[Part] = []
    if "hoops" in kinds:
        steps = FINE_STEPS_ROUND if fine else STEPS_ROUND
        parts += [hoop_part(settled, line, hoop, steps) for hoop, line in enumerate(lines)]
    if kinds & {"joins", "tips"}:
        parts += [part for hoop, line in enumerate(lines) for part in end_parts(settled.cage, line, hoop)]
    if design.cloth is not None:
        parts += gore_parts(settled, lines) if "cloth" in kinds else []
        parts += casing_parts(settled, lines) if "casings" in kinds else []
        parts += panel_parts(settled, tape_lines(settled, lines)) if "panels" in kinds else []
    elif kinds & {"tapes", "casings", "panels"}:
        tapes = tape_lines(settled, lines)
        parts += tape_parts(settled, tapes) if "tapes" in kinds else []
        parts += casings_parts(settled, tapes) if "casings" in kinds else []
        parts += panel_parts(settled, tapes) if "panels" in kinds else []
    if "waistband" in kinds:
        parts += waistband_parts(design)
    if "ties" in kinds:
        parts += tie_parts(settled)
    if "form" in kinds:
        parts += form_parts(settled)
    if "wearer" in kinds:
        parts += figure_parts(settled)
    skirt = skirt_part(settled, lines) if "skirt" in kinds else None
    parts += [skirt] if skirt is not None else []
    if "floor" in kinds:
        parts.append(floor_part(design))
    order = list(KINDS)
    return tuple(
        sorted((part for part in parts if part.kind in kinds), key=lambda part: order.index(part.kind))
    )
