"""What makers buy and what it weighs, with where each number is from.

[from memory]: not looked up in print, weigh your own. [common practice]: how workrooms do
it, without a published source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

from cage3d.design import trade
from cage3d.design.models import Join, Stretch
from cage3d.units import UnitError
from cage3d.wording import nearest

Row = TypeVar("Row")


@dataclass(frozen=True)
class Strip:
    """A size of flat hoop steel: width and thickness in m."""

    width: float
    thickness: float


# Sizes sold as hoop steel [from memory], from the lightest.
STRIPS = tuple(
    Strip(width / 1000.0, thickness / 1000.0)
    for thickness in (0.4, 0.5, 0.6, 0.7)
    for width in (5.0, 6.0, 7.0, 8.0, 10.0, 12.0, 12.7)
)

# A lap held by a clamp.
DEFAULT_JOIN = Join(overlap=trade.LAP)
# What is round is butted in a tube over both ends, hose over a plug inside them.
ROUND_JOIN = Join(tube=trade.SOCKET)

# What a price may be written for, under buying.prices.
PRICED = (
    "ribbon", "cloth", "casing", "waistband", "belting", "web", "buckle", "tie", "lacing", "eyelet", "thread", "tip",
    "join", "tube",
)  # fmt: skip

# What may be bought in whole rolls, under buying.rolls.
ROLLED = ("ribbon", "casing", "waistband", "belting", "web", "tie", "lacing", "thread")

# Middles of the usual weights of cloth (kg/m2) [from memory].
CLOTHS = {
    "tulle": 0.020, "net": 0.020, "organza": 0.035, "chiffon": 0.035, "cotton lawn": 0.100, "muslin": 0.100,
    "silk taffeta": 0.095, "taffeta": 0.095, "linen": 0.200, "cotton sateen": 0.215, "cotton twill": 0.215,
    "wool suiting": 0.275, "silk satin": 0.185, "duchesse": 0.185, "brocade": 0.300, "velvet": 0.350,
    "calico": 0.140, "cotton sheeting": 0.130,
}  # fmt: skip

# How finished tapes stretch: a share under a weight (kg) hung on them [from memory; hang 1 kg on a metre of your own].
RIBBONS = {
    "grosgrain": (0.005, 1.0), "polyester ribbon": (0.006, 1.0), "petersham": (0.010, 1.0),
    "twill tape": (0.020, 1.0), "cotton twill": (0.020, 1.0), "bias tape": (0.060, 1.0),
}  # fmt: skip


def tape_weight(width: float, doubled: bool = True) -> float:
    """kg/m of a finished tape of this width (m): grosgrain, doubled as casings ask."""
    return trade.RIBBON_AREA * width * (2 if doubled else 1)


def tube_mass(length: float, width: float, thickness: float) -> float:
    """kg of a flat tube of this length over two ends of a strip (m)."""
    girth = 2.0 * (width + thickness + 2.0 * trade.TUBE_WALL)
    return length * girth * trade.TUBE_WALL * trade.TUBE_DENSITY


def cloth_weight(cloth: float | str) -> float:
    """kg/m2 of a cloth given as such or by name. Raises UnitError for a name that is not in the table."""
    if not isinstance(cloth, str):
        return cloth
    return named(cloth, CLOTHS, "cloth", "its weight, such as 120 g/m2")


def tape_stretch(stretch: Stretch | str) -> tuple[float, float]:
    """(share, kg) by which a tape stretches under a weight, given as such or by name. Raises UnitError as above."""
    if not isinstance(stretch, str):
        return stretch.by, stretch.at
    return named(stretch, RIBBONS, "ribbon", "how it stretches, such as {by: 1 %, at: 1 kg}")


def named(text: str, table: Mapping[str, Row], what: str, otherwise: str) -> Row:
    """What a table says of a name. Raises UnitError for a name that it does not hold."""
    name = " ".join(text.lower().split())
    if name in table:
        return table[name]
    near = nearest(name, table)
    hint = (
        f"Did you mean {near}? Otherwise write" if near else f"Known are {', '.join(table)}; otherwise write"
    )
    raise UnitError(f"this {what} is not in the table", f"{hint} {otherwise}")
