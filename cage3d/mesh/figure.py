"""The wearer whole: torso and legs, plain and without a face, built on the sections that hoops and ties lie on.

From the waist down she is the form of the balance of forces: the trunk is its own surface to the crotch, each leg
lies in its half of both. Above the waistband and in the shoes she is drawn only; nothing is measured there.
"""

from __future__ import annotations

from functools import partial

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Wearer
from cage3d.mesh.extras import lengths
from cage3d.mesh.loft import closed_loft
from cage3d.mesh.part import Part
from cage3d.mesh.solid import Solid
from cage3d.mesh.wearer import drawn_form
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.form import Form, Oval, knee_and_crotch
from cage3d.shape.legs import Pair

ROUND = 48  # points on every ring
TRUNK_LEVELS, TORSO_LEVELS, LEG_LEVELS = 26, 20, 32
LEAST_OPENING = 0.05  # m below the crotch over which the legs come apart


def figure_parts(settled: SettledCage) -> list[Part]:
    """Torso and two legs; nothing where no hip was measured."""
    design, form = settled.cage.design, drawn_form(settled)
    if form is None or design.wearer.hip_drop is None:
        return []
    waist = form.sections[0].height
    knee, crotch = knee_and_crotch(waist - design.wearer.hip_drop, design.wearer.knee_height)
    legs = {side: leg(form, crotch, knee, sign) for side, sign in (("left", 1.0), ("right", -1.0))}
    body = torso(form, waist + design.waistband.drawn_depth / 2.0, crotch)
    return [
        Part(
            "wearer's torso", "wearer", body, "form", 0, partial(measures, design.wearer, waist, design.units)
        ),
        *(Part(f"wearer's {side} leg", "wearer", solid, "form") for side, solid in legs.items()),
    ]


def measures(wearer: Wearer, waist_height: float, units: str | None) -> dict[str, object]:
    taken = {"waist": wearer.waist, "hip": wearer.hip, "knee": wearer.knee, "waist_height": waist_height}
    return lengths(units, **{key: metres for key, metres in taken.items() if metres is not None})


def torso(form: Form, band_top: float, crotch: float) -> Solid:
    """From the neck over the waist to the crotch. band_top: m, where what is drawn only begins."""
    hip = max(form.sections, key=lambda section: section.half_breadth)
    waist = form.sections[0]
    length = trade.NECK_OVER_WAIST * waist.height
    above = [
        (
            band_top + share * length,
            Oval(0.0, breadth * hip.half_breadth, depth * hip.half_depth, power),
            forward,
        )
        for share, breadth, depth, power, forward in trade.TORSO
    ]
    sections = (
        *(Oval(level, oval.half_breadth, oval.half_depth, oval.power) for level, oval, _ in above[::-1]),
        Oval(band_top, waist.half_breadth, waist.half_depth, waist.power),
        Oval(waist.height, waist.half_breadth, waist.half_depth, waist.power),
    )
    upper = Form(sections)
    levels = np.linspace(sections[0].height, band_top, TORSO_LEVELS, endpoint=False)
    forward = np.interp(
        levels, [band_top, *(level for level, _, _ in above)], [0.0, *(share for *_, share in above)]
    )
    chest = [
        upper.ring(float(level), ROUND) - [0.0, share * hip.half_depth, 0.0]
        for level, share in zip(levels, forward, strict=True)
    ]
    trunk = [form.ring(float(level), ROUND) for level in np.linspace(band_top, crotch, TRUNK_LEVELS)]
    return closed_loft(np.stack([*chest, *trunk]))


def leg(form: Form, crotch: float, knee: float, side: float) -> Solid:
    """One leg from the crotch to the sole. side: 1 her left, -1 her right."""
    turn = 2.0 * np.pi * np.arange(ROUND) / ROUND
    directions = np.column_stack([np.sin(turn), -np.cos(turn)])  # by the left, as every ring
    directions[:, 0] *= side  # its own x points away from the other leg
    ankle = knee * (1.0 - trade.ANKLE_BELOW_KNEE)
    shoe = trade.SHOE_PER_ANKLE * ankle
    rings = []
    for height in leg_heights(crotch, ankle):
        pair = Pair(*(float(value) for value in form.at(np.array(height))))
        opened = np.clip((crotch - height) / max((crotch - knee) / 2.0, LEAST_OPENING), 0.0, 1.0)
        flat = pair.outline(directions, float(opened**2 * (3.0 - 2.0 * opened)))
        toes = flat[:, 1] < 0.0
        # In the shoe what lies before the leg's axis reaches further forward, most at the sole.
        down = max(1.0 - height / ankle, 0.0)
        flat[toes, 1] *= 1.0 + down**trade.SHOE_SLOPE * max(shoe / pair.leg[1] - 1.0, 0.0)
        flat[:, 0] = side * (flat[:, 0] + pair.leg_middle)
        rings.append(np.column_stack([flat, np.full(ROUND, height)]))
    return closed_loft(np.stack(rings))


def leg_heights(crotch: float, ankle: float) -> Floats:
    """m from the top; closer in the shoe."""
    return np.concatenate(
        [
            np.linspace(crotch, ankle, LEG_LEVELS, endpoint=False),
            ankle * (1.0 - np.linspace(0.0, 1.0, LEG_LEVELS // 4) ** 0.7),
        ]
    )
