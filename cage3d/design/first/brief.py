"""What a first design is made from."""

from __future__ import annotations

from dataclasses import dataclass

from cage3d.design import trade
from cage3d.units import INCH

UNITS = ("in", "cm", "mm")  # in which a first design is written


@dataclass(frozen=True)
class Brief:
    """A few measures and a kind of cage; lengths in m, skirt in kg, behind a share.

    hem: its girth, 0 where other measures say how wide it is; clearance: its least and most height above the floor,
    at the front where it dips; dip: by which it is lower at the back; wide, deep: of an oval, deep of a basket too;
    behind: the part of its depth that lies behind the waist; out: how far half hoops stand out behind it, or baskets
    from her hip (`hoops` is then how many each has); gores: of the cloth that carries the hoops in place of tapes;
    steel: width and thickness, None: by the hem; units: one of UNITS, for the numbers that are written.
    """

    waist: float
    waist_height: float
    hem: float = 0.0
    clearance: tuple[float, float] = (8 * INCH, 10 * INCH)
    silhouette: str = "dome"
    hip: float | None = None
    hip_drop: float | None = None
    hoops: int = 4
    tapes: int = 8
    steel: tuple[float, float] | None = None
    skirt: float | None = None
    name: str = "First design"
    units: str = "in"
    dip: float | None = None
    wide: float | None = None
    deep: float | None = None
    behind: float | None = None
    out: float | None = None
    gores: int | None = None


def grid(units: str) -> float:
    """m to which lengths are rounded that all tapes share: 1/8 in or 5 mm."""
    return INCH / 8 if units == "in" else 0.005


def fine_grid(units: str) -> float:
    """m to which lengths are rounded that differ from tape to tape: 1/8 in or 1 mm."""
    return INCH / 8 if units == "in" else 0.001


def whole(units: str) -> float:
    """m: inches or centimetres, to which hoops are cut."""
    return INCH if units == "in" else 0.01


def edge_of(brief: Brief) -> float:
    """m above the floor of the waistband's lower edge, where tapes begin."""
    return brief.waist_height - trade.BAND_DEPTH / 2


def height_of(brief: Brief) -> float:
    """m from the waistband's lower edge down to the middle of the wanted hem."""
    return edge_of(brief) - sum(brief.clearance) / 2 + (brief.dip or 0.0) / 2
