"""The hoops and drops of a first design, worked out from a few measures and a silhouette.

The hoops are laid out level and round under a round waist: a tape between two of them is
the slant side of a cone, L = sqrt(dz^2 + dr^2).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from cage3d.design import trade
from cage3d.design.profile import SILHOUETTES, levels
from cage3d.units import INCH

FLATTEST = 0.9  # least way down of the first tapes against their way out: flatter ones sag under the skirt


@dataclass(frozen=True)
class Brief:
    """What a first design is made from; lengths in m, skirt in kg.

    clearance: least and most height of the hem above the floor; hem: its girth;
    steel: width and thickness; units: in or cm, for the numbers that are written.
    """

    waist: float
    waist_height: float
    hem: float
    clearance: tuple[float, float]
    silhouette: str = "dome"
    hip: float | None = None
    hip_drop: float | None = None
    hoops: int = 4
    tapes: int = 8
    steel: tuple[float, float] = (0.007, 0.0005)
    skirt: float | None = None
    name: str = "First design"
    units: str = "in"


def grid(units: str) -> float:
    """m to which lengths are rounded: 1/8 in or 5 mm."""
    return INCH / 8 if units == "in" else 0.005


def height_of(brief: Brief) -> float:
    """m from the waistband's lower edge down to the wanted hem."""
    return brief.waist_height - trade.BAND_DEPTH / 2 - sum(brief.clearance) / 2


def hip_half_breadth(hip: float) -> float:
    """m, half the breadth of a hip of this girth: an ellipse of the usual proportion, made fuller."""
    depth = trade.HIP_DEPTH_PER_BREADTH
    mean = 1 + depth
    ellipse = math.pi * (3 * mean - math.sqrt((3 + depth) * (1 + 3 * depth)))
    return hip / trade.HIP_FULLNESS / ellipse


def body_length(brief: Brief, level: float) -> float:
    """m, the least length of a round hoop this far below the band's edge that clears the body."""
    if brief.hip is None or brief.hip_drop is None:
        return 0.0
    drop = max(brief.hip_drop - trade.BAND_DEPTH / 2, 0.01)
    girth = brief.waist + (brief.hip - brief.waist) * min(level / drop, 1.0)
    return math.tau * (hip_half_breadth(girth) + trade.HIP_ROOM_PLANNED)


def hoop_lengths(brief: Brief) -> list[float]:
    """m, finished lengths from the top: the silhouette's profile, never narrower than the body.

    Where the profile would lie inside her hip it begins there instead of at the waist.
    """
    height = height_of(brief)
    shape = from_the_hip(brief) if starts_at_the_hip(brief) else from_the_waist(brief)
    # Whole inches or centimetres, as hoops are cut; the body needs the next one up.
    whole = grid(brief.units) * (8 if brief.units == "in" else 2)
    return [
        max(round(shape(level) / whole), math.ceil(least(brief, level * height) / whole - 1e-9)) * whole
        for level in levels(brief.hoops)
    ]


def least(brief: Brief, below: float) -> float:
    return max(body_length(brief, below), brief.waist)


def from_the_waist(brief: Brief) -> Callable[[float], float]:
    """m round at each level, by the silhouette alone."""
    profile = SILHOUETTES[brief.silhouette]
    return lambda level: profile(level, brief.waist / brief.hem) * brief.hem


def from_the_hip(brief: Brief) -> Callable[[float], float]:
    """m round at each level: close over the hip, and the silhouette from there to the hem."""
    profile, hip, round_hip = (
        SILHOUETTES[brief.silhouette],
        hip_level(brief),
        least(brief, height_of(brief)),
    )
    spread = brief.hem - round_hip

    def shape(level: float) -> float:
        return round_hip + spread * profile((level - hip) / (1 - hip), 0.0) if level > hip else 0.0

    return shape


def hip_level(brief: Brief) -> float:
    """The hip's level as a share of the way from the band's edge to the hem."""
    return max((brief.hip_drop or 0.0) - trade.BAND_DEPTH / 2, 0.01) / height_of(brief)


def starts_at_the_hip(brief: Brief) -> bool:
    """Whether the silhouette, drawn from the waist, would lie inside the hip, and there is room to flare below it."""
    room = least(brief, height_of(brief)) < brief.hem and hip_level(brief) < 1.0
    return room and bool(decided_by_the_hip(brief))


def decided_by_the_hip(brief: Brief) -> dict[int, float]:
    """Hoops (from 0) that the silhouette alone would lay inside the hip and its room: what it asks for there (m)."""
    shape, height = from_the_waist(brief), height_of(brief)
    asked = {hoop: shape(level) for hoop, level in enumerate(levels(brief.hoops))}
    return {
        hoop: length
        for hoop, length in asked.items()
        if length < body_length(brief, levels(brief.hoops)[hoop] * height)
    }


def hoop_depths(brief: Brief, lengths: list[float]) -> list[float]:
    """m below the band's edge of each hoop; the first low enough for its tapes to hang steeply."""
    height, shares = height_of(brief), levels(brief.hoops)
    if brief.hoops == 1:
        return [height]
    first = max(shares[0] * height, FLATTEST * (lengths[0] - brief.waist) / math.tau)
    return [first + (share - shares[0]) / (1 - shares[0]) * (height - first) for share in shares]


def drops_for(brief: Brief, lengths: list[float]) -> list[float]:
    """m along the tape, rounded; each drop makes up for the rounding of those above it."""
    step = grid(brief.units)
    radii = [girth / math.tau for girth in (brief.waist, *lengths)]
    drops, reached = [], 0.0
    for depth, above, below in zip(hoop_depths(brief, lengths), radii, radii[1:], strict=False):
        out = abs(below - above)
        slant = round(math.hypot(max(depth - reached, step), out) / step) * step
        tape = max(slant, math.ceil((out + trade.TAPE_SPARE) / step) * step)
        drops.append(tape)
        reached += math.sqrt(tape**2 - out**2)
    return drops
