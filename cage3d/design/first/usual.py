"""What a maker would take who has no wish of her own, by the measures that are known already.

By the height of the waist, so that a child's cage is a child's: rules of thumb [common practice].
"""

from __future__ import annotations

import math

from cage3d.design import trade
from cage3d.design.first.brief import whole
from cage3d.design.first.kinds import KINDS
from cage3d.design.first.profile import levels
from cage3d.units import INCH

GROWN = 41.5 * INCH  # the waist's height of the samples' wearer
HIP_DROP = 8 * INCH  # of hers
SKIRT = 0.8  # kg, on her
WIDE, DEEP = 1.0, 0.5  # of an oval, as shares of the waist's height: 43 and 21 in on 41 1/2 [common practice]
DIP = 0.05  # of the waist's height: 2 in
OUT = 0.32  # half hoops behind the waist, as a share of its height: 13 in; 6 to 14 [common practice]
# Of a basket, out from her hip and front to back: 8 and 14 in; 8 to 14 and 10 to 16 [common practice].
BESIDE, BASKET = 0.2, 0.34
BASKET_HOOPS = 3  # 2 or 3 [common practice]
HIGH = (0.56, 0.6)  # where its lowest hoop hangs, as shares of the waist's height: 23 to 25 in
BEHIND = 0.6  # 55 to 70 % [common practice]
NEAR = 5.5 * INCH  # of the two lowest hoops, a little within what lets a heel through
FREE_STEEL = 12 * INCH  # between tapes at the hem, at most [common practice]
FEWEST_HOOPS = 4
GORES = 6  # 4 to 8 are usual [common practice]
FABRIC = 0.140  # kg/m2 of the cloth that carries hoops: cotton of 110 to 200 g/m2 [common practice]
# Strips from the lightest [from memory: sold as hoop steel], and the stiffness of a ring that the hem keeps (N/m):
# E b t^3 / 12 R^3, as stiff as the hem of the samples' long dome, 12 x 0.5 mm on 110 in.
STRIPS = ((0.005, 0.0004), (0.007, 0.0005), (0.012, 0.0005), (0.012, 0.0006), (0.0127, 0.0007))
RING, STEEL_E = 0.29, 207e9


def in_steps(size: float, step: float) -> float:
    """m, to the nearest step, one at least."""
    return max(round(size / step), 1) * step


def hem(kind: str, waist_height: float, units: str) -> float:
    """m, girth of the lowest hoop: whole inches or five centimetres."""
    return in_steps(KINDS[kind].hem * waist_height, round_step(units))


def round_step(units: str) -> float:
    return 2 * INCH if units == "in" else 0.05


def share_of_height(share: float, waist_height: float, units: str) -> float:
    """m, to whole inches or centimetres."""
    return in_steps(share * waist_height, whole(units))


def hip_drop(waist_height: float, units: str) -> float:
    """m below the waist, as much of its height as on the samples' wearer."""
    return in_steps(HIP_DROP * waist_height / GROWN, whole(units) / 2)


def hoops(down: float) -> int:
    """As many as keep the two lowest near enough for heels, on this way down from the band's edge (m)."""
    count = FEWEST_HOOPS
    while count < 20 and (1.0 - levels(count)[-2]) * down > NEAR:
        count += 1
    return count


def tapes(kind: str, girth: float) -> int:
    """An even number that leaves no more free steel at the hem than is usual."""
    return max(2 * math.ceil(girth / FREE_STEEL / 2 - 1e-9), KINDS[kind].tapes)


def skirt(waist_height: float) -> float:
    """kg, by the area of her skirt."""
    return max(round(SKIRT * (waist_height / GROWN) ** 2, 1), 0.1)


def steel(girth: float) -> tuple[float, float]:
    """(width, thickness) m: the lightest strip of which the hem is as stiff as a long dome's."""
    radius = girth / math.tau
    for width, thickness in STRIPS:
        if STEEL_E * width * thickness**3 / 12 >= RING * radius**3:
            return width, thickness
    return STRIPS[-1]


def band_to_hem(waist_height: float, clearance: tuple[float, float]) -> float:
    """m from the band's edge to the middle of the hem."""
    return waist_height - trade.BAND_DEPTH / 2 - sum(clearance) / 2
