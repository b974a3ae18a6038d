"""What is shown with the cage: the wearer's form on a stand, and the floor."""

from __future__ import annotations

from functools import lru_cache, partial

import numpy as np

from cage3d.design.models import Design, Hoop
from cage3d.mesh.extras import lengths
from cage3d.mesh.loft import closed_loft, cylinder
from cage3d.mesh.part import Part
from cage3d.mesh.wearer import drawn_form
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.beside import reach_beside
from cage3d.shape.form import Form

# Drawn only; a workroom stand, common practice.
ABOVE_WAIST = 0.02  # m the form goes on above the waistband
BELOW_HIP = 0.6  # of the way again from waist to hip, to where the form ends
END_LEVELS = np.array([0.0, 0.012, 0.022, 0.028])  # m, the rounded lower end, from its last full ring
END_SHARES = np.array([1.0, 0.95, 0.82, 0.6])
LEVELS, ROUND = 40, 72  # rings of the form, points on each
POLE_RADIUS, FOOT_RADIUS, FOOT_HEIGHT = 0.016, 0.16, 0.015
FLOOR_MARGIN, FLOOR_THICKNESS = 1.6, 0.004  # of the widest hoop's radius as a circle; m


def form_parts(settled: SettledCage) -> list[Part]:
    """The wearer's form between waist and hips on a pole; nothing where no hip was measured."""
    design, form = settled.cage.design, drawn_form(settled)
    if form is None:
        return []
    wearer = design.wearer
    waist_level = form.sections[0].height
    hip_drop = float(wearer.hip_drop or 0.0)
    top = waist_level + design.waistband.drawn_depth / 2.0 + ABOVE_WAIST
    end = max(waist_level - (1.0 + BELOW_HIP) * hip_drop, FOOT_HEIGHT + 0.1)
    rings = form_rings(form, top, end)
    measured = {"waist": wearer.waist, "hip": float(wearer.hip or 0.0), "waist_height": waist_level}
    pole_top = float(rings[-1, :, 2].mean()) + 0.01
    return [
        Part(
            "wearer's form", "form", closed_loft(rings), "form", 0, partial(lengths, design.units, **measured)
        ),
        Part("stand pole", "form", cylinder(POLE_RADIUS, pole_top, FOOT_HEIGHT - 0.005), "stand"),
        Part("stand foot", "form", cylinder(FOOT_RADIUS, FOOT_HEIGHT, 0.0), "stand"),
    ]


@lru_cache(maxsize=8)
def form_rings(form: Form, top: float, end: float) -> Floats:
    """(r, ROUND, 3) m, the form between two heights and its rounded lower end; kept while she stays the same."""
    rings = [form.ring(float(level), ROUND) for level in np.linspace(top, end, LEVELS)]
    rings += [
        shrunk(rings[-1], share, drop) for share, drop in zip(END_SHARES[1:], END_LEVELS[1:], strict=True)
    ]
    kept = np.stack(rings)
    kept.setflags(write=False)
    return kept


def floor_part(design: Design) -> Part:
    """A disc under the cage, its upper face at height 0; the same whatever hangs on the cage."""
    reach = max(reach_of(design, hoop) for hoop in design.hoops)
    return Part("floor", "floor", cylinder(FLOOR_MARGIN * reach, 0.0, -FLOOR_THICKNESS, 96), "floor")


def reach_of(design: Design, hoop: Hoop) -> float:
    """m, about how far a hoop reaches from her axis: as a circle, beside her about as half of one or as a ring."""
    radius = hoop.length / (2.0 * np.pi)
    return radius if hoop.beside is None else reach_beside(design, hoop.beside) + 2.0 * radius


def shrunk(ring: Floats, share: float, drop: float) -> Floats:
    middle = ring.mean(axis=0)
    return np.asarray(middle + share * (ring - middle) - np.array([0.0, 0.0, drop]))
