"""The stand of a flat model: a base and two uprights with tabs that carry the waist disc; mm."""

from __future__ import annotations

import numpy as np
from manifold3d import CrossSection

from cage3d.miniature.flat.piece import FlatPiece, flat_piece
from cage3d.miniature.flat.plan import FlatPlan
from cage3d.miniature.flat.shapes import (
    Plane,
    block,
)
from cage3d.miniature.parts import code_of
from cage3d.miniature.process import (
    refuse,
)
from cage3d.miniature.stand import base, plan_stand

SHOULDER = 1.0  # mm an upright is wider than its tabs, on either side
WIDEST_TAB = 10.0  # mm, half
NARROWEST_TAB = 3.0  # mm, half: uprights are not made narrower than this to let a tie pass


def tab(plan: FlatPlan) -> tuple[float, float]:
    """(x of an upright, half the width of its tab), mm: two bars side by side under the waist disc."""
    half_breadth, half_depth = (float(side) for side in np.ptp(plan.waist_line, axis=0) / 2.0)
    x = max(0.45 * half_breadth, plan.laps.thickness + plan.laps.clearance + plan.laps.neck / 2.0)
    edge = x + plan.laps.slot / 2.0
    inner = half_depth * max(1.0 - (edge / half_breadth) ** 2, 0.0) ** 0.5
    half = min(inner - plan.laps.width / 2.0 - plan.laps.neck - SHOULDER, WIDEST_TAB)
    bars = [(tie.hoop, plan.bar(tie)) for tie in plan.lines.ties]
    rooms = [widest_beside(plan, hoop, bar, x) for hoop, bar in bars if hoop is not None and bar is not None]
    half = min([half, *(room for room in rooms if room >= NARROWEST_TAB)])
    if half < plan.laps.thickness / 2.0:
        raise refuse("--scale", plan.scale.text, "the waist disc has no room for the stand's uprights",
                     "Print larger, or without the stand: --part hoops,tapes,waistband")  # fmt: skip
    return x, half


def widest_beside(plan: FlatPlan, hoop: int, bar: CrossSection, x: float) -> float:
    """Half the width (mm) of the widest tab whose upright passes beside a tie's bar across a hoop.

    x: mm of the uprights, to either side of the waist's axis.
    """
    spare = plan.laps.clearance
    axis = plan.ring_planes[hoop].origin[None] * [0.0, 0.0, 1.0]
    at_x, at_y = plan.ring_planes[hoop].flat(axis)[0]
    slit = CrossSection.square((plan.laps.thickness + 2.0 * spare, 1e3), center=True)
    met = [slit.translate((at_x + side * x, at_y)) ^ bar for side in (-1.0, 1.0)]
    reaches = [polygon[:, 1] - at_y for part in met for polygon in part.to_polygons()]
    near = [max(float(reach.min()), -float(reach.max()), 0.0) for reach in reaches]
    return min(near, default=np.inf) - SHOULDER - spare


def tab_holes(plan: FlatPlan) -> list[CrossSection]:
    x, half = tab(plan)
    spare = plan.laps.clearance
    size = (plan.laps.slot, 2.0 * half + spare)
    return [CrossSection.square(size, center=True).translate((side * x, 0.0)) for side in (-1.0, 1.0)]


def stand_pieces(plan: FlatPlan) -> tuple[list[FlatPiece], str]:
    """The base, two upright bars that carry the waist disc on their tabs, and what is engraved."""
    planned = plan_stand(plan.lines, plan.settled.cage.stations, plan.process)
    design = plan.settled.cage.design
    body, engraved = base(planned, plan.process, plan.scale.text, design.name, code_of(design))
    outline = planned.outline
    for hole in tab_holes(plan):
        outline = outline - hole
        body = body - hole.extrude(3.0 * plan.process.base).translate((0.0, 0.0, -2.0 * plan.process.base))
    thick = plan.process.base
    plane = Plane(np.eye(3), np.array([0.0, 0.0, -thick / 2.0]))
    pieces = [FlatPiece("base", outline, body.translate((0.0, 0.0, thick)), 2, plane, thick)]
    x, half = tab(plan)
    for number, side in enumerate((1.0, -1.0), start=1):
        pieces.append(upright(plan, number, side * x, half))
    return pieces, engraved


def upright(plan: FlatPlan, number: int, x: float, half: float) -> FlatPiece:
    """A bar along the front-back direction; its own x is up, so that it lies along the bed."""
    top = plan.waist_height - plan.laps.thickness / 2.0
    up, middle = np.array([1.0, 0.0]), np.zeros(2)
    outline = block(middle, up, 0.0, top, 2.0 * (half + SHOULDER))
    outline = outline + block(middle, up, -plan.process.base, top + plan.laps.thickness, 2.0 * half)
    axes = np.column_stack([[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]])
    plane = Plane(axes, np.array([x, 0.0, 0.0]))
    return flat_piece(plan, f"upright {number}", outline, plane, None, 0)
