"""Which hoops of a design go round another wearer as they are, and how much longer the others are cut."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, tau

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Design
from cage3d.design.rules.reach import hoop_girths
from cage3d.shape.arrays import Floats
from cage3d.shape.form import Form, build_form, mean_waist_height
from cage3d.units import INCH

HAIR = 1e-6  # m, by which a hoop may be short for rounding's sake


def whole_step(design: Design) -> float:
    """m to which hoops are cut where they are made longer: whole inches or centimetres [common practice]."""
    return INCH if design.units in ("in", "ft") else 0.01


def round_her(design: Design, heights: Sequence[float] | Floats) -> Floats | None:
    """(H,) m, the radius that a round hoop needs to touch her where each hoop hangs; None where no hip was measured.

    heights: of the hoops above the floor (m). One that hangs below her hip has to come over it.
    """
    form = build_form(design.wearer, design.padding)
    if form is None or design.wearer.hip_drop is None:
        return None
    hip = mean_waist_height(design.wearer) - design.wearer.hip_drop
    return np.array([widest(form, max(float(height), hip)) for height in heights])


def widest(form: Form, height: float) -> float:
    """m, from the axis to the farthest place of the form at one height."""
    ring = form.ring(height)
    return float(np.hypot(ring[:, 0], ring[:, 1]).max())


def rooms_in(design: Design, heights: Floats) -> Floats:
    """(H,) m, what each hoop must leave all round.

    Three quarters of an inch [common practice], or as little as the design itself leaves its own wearer.
    """
    own = round_her(design, heights)
    usual = np.full(len(design.hoops), trade.HIP_ROOM)
    return usual if own is None else np.minimum(usual, np.array(hoop_girths(design)) / tau - own)


def lengths_for(design: Design, heights: Floats, rooms: Floats) -> tuple[float, ...]:
    """m, the hoops' lengths for the design's wearer: as they are where they leave her room, else longer.

    heights: (H,) m above the floor, where they hang; rooms: as `rooms_in`. A longer hoop is in whole inches or
    centimetres; one that was not shorter than the hoop above stays so.
    """
    lengths = [hoop.length for hoop in design.hoops]
    body = round_her(design, heights)
    if body is None:
        return tuple(lengths)
    girths, whole = hoop_girths(design), whole_step(design)
    found: list[float] = []
    for hoop, length in enumerate(lengths):
        least = tau * (body[hoop] + rooms[hoop])
        if girths[hoop] < least - HAIR:
            length = up(length * least / girths[hoop], whole)
        if hoop and lengths[hoop] >= lengths[hoop - 1] - HAIR and length < found[-1] - HAIR:
            length = found[-1] if design.hoops[hoop].opening == "none" else up(found[-1], whole)
        found.append(length)
    return tuple(found)


def up(metres: float, whole: float) -> float:
    """m, the next whole step."""
    return ceil(metres / whole - 1e-6) * whole
