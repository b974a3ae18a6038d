"""Which hoops of a design go round another wearer as they are, and how much longer the others are cut."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, tau

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Design
from cage3d.design.rules.circles import hoop_girths
from cage3d.report.hoops import hoop_reports
from cage3d.settle import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.form import Form, build_form, mean_waist_height
from cage3d.units import INCH

NEARER = INCH / 8  # m, by which a hoop may come nearer to her than to the design's wearer
BELOW_HIP = 2.0 * INCH  # m, so far below her hip a hoop still has to do with it
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
    centimetres.
    """
    lengths = [hoop.length for hoop in design.hoops]
    body = round_her(design, heights)
    if body is None:
        return tuple(lengths)
    whole = whole_step(design)
    return tuple(
        length
        if girth >= least - HAIR or design.hoops[hoop].beside is not None  # it needs no room round her
        else up(length_round(design, length, girth, least), whole)
        for hoop, (length, girth, least) in enumerate(
            zip(lengths, hoop_girths(design), tau * (body + rooms), strict=True)
        )
    )


def length_round(design: Design, length: float, girth: float, wanted: float) -> float:
    """m of a hoop whose whole circle is to be `wanted` and not `girth` long: in cloth its opening stays as wide."""
    return wanted - (girth - length) if design.cloth is not None else length * wanted / girth


def heights_at_tapes(settled: SettledCage) -> Floats:
    """(H,) m, each hoop above the floor in the mean of its tapes."""
    joined, heights = settled.cage.connectivity, settled.positions[:, 2]
    return np.array(
        [heights[joined.crossing[hoop, joined.tapes_of(hoop)]].mean() for hoop in range(joined.hoop_count)]
    )


def lacking_room(base: SettledCage, settled: SettledCage) -> Floats:
    """(H,) m, by how much each hoop about her hip lies too near to her as it hangs; 0 where it does not.

    Near enough is what the design leaves its own wearer (base), three quarters of an inch at most. Ties and tapes move
    a hoop on her, which its length alone does not tell.
    """
    own, hers = rooms_left(base), rooms_left(settled)
    wearer = settled.cage.design.wearer
    if own is None or hers is None or wearer.hip_drop is None or not settled.trusted:
        return np.zeros(len(settled.cage.design.hoops))
    heights = heights_at_tapes(settled)
    about_her_hip = heights > mean_waist_height(wearer) - wearer.hip_drop - BELOW_HIP
    lacking = np.minimum(own, trade.HIP_ROOM) - hers
    round_her = np.array([hoop.beside is None for hoop in settled.cage.design.hoops])  # others may lie on her
    return np.where(round_her & about_her_hip & (lacking > NEARER), lacking, 0.0)


def rooms_left(settled: SettledCage) -> Floats | None:
    """(H,) m, least between each hoop and the wearer; None where no hip was measured."""
    found = [hoop.clearance_m for hoop in hoop_reports(settled)]
    known = [room for room in found if room is not None]
    return np.array(known) if len(known) == len(found) else None


def lengthened(design: Design, lacking: Floats) -> tuple[float, ...]:
    """m, the hoops longer by what gives them the room that they lack (H,) m, in whole inches or centimetres."""
    whole = whole_step(design)
    pairs = zip(design.hoops, lacking, strict=True)
    return tuple(hoop.length if more <= 0.0 else up(hoop.length + tau * more, whole) for hoop, more in pairs)


def up(metres: float, whole: float) -> float:
    """m, the next whole step."""
    return ceil(metres / whole - 1e-6) * whole
