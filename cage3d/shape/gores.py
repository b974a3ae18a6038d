"""A petticoat's cloth as it is cut: its girths, its lines down from the waistband, its weight.

Cloth carries its hoops all round. What stands for it are lines down the cloth that pull and never push, each as long
as the cloth there, at even steps between two seams and so many that the answer does not hang on their number
(`tests/settle/test_cloth_of_gores.py`). From seam to seam casings run evenly. A line that meets the opening of a hoop
runs past it.
"""

from __future__ import annotations

import numpy as np

from cage3d.design import stock, trade
from cage3d.design.models import Design, Gores
from cage3d.design.points import station_fractions
from cage3d.shape.arrays import Bools, Floats, Ints
from cage3d.shape.marks import drops_of

LINES = 60  # of cloth round the petticoat, or more
OFF_THE_END = (
    0.004  # m; a line that meets the steel nearer to its end than this is held by the opening's cloth
)


def lines_per_gore(cloth: Gores) -> int:
    """Lines from one seam to the next, the seam's own among them."""
    return max(1, -(-LINES // cloth.gores))


def line_places(design: Design) -> Floats:
    """(L,) shares of the girth from centre front by her left at which lines run: seams, and cloth between them."""
    seams = station_fractions(design.tapes)
    if design.cloth is None:
        return seams
    each = lines_per_gore(design.cloth)
    spans = np.diff(np.append(seams, seams[0] + 1.0))
    return np.asarray((seams[:, None] + spans[:, None] * np.arange(each) / each).ravel())


def seam_lines(design: Design) -> Ints:
    """(T,) which of the lines are seams."""
    each = 1 if design.cloth is None else lines_per_gore(design.cloth)
    return each * np.arange(design.tapes.count)


def seam_shares(design: Design, places: Floats) -> Floats:
    """(n, T) how far the cloth at shares of the girth is as long as at each seam: evenly from seam to seam."""
    seams = station_fractions(design.tapes)
    shares = [np.interp(places, seams, one, period=1.0) for one in np.eye(len(seams))]
    return np.column_stack(shares)


def gap_of(design: Design, hoop: int) -> float:
    """m from end to end of the steel of hoop `hoop` (from 0), along its circle; 0 of a ring."""
    return design.cloth.gap_of(design.hoops[hoop]) if design.cloth else 0.0


def circle_girth(design: Design, hoop: int) -> float:
    """m round a hoop in cloth, its opening with it."""
    return design.hoops[hoop].length + gap_of(design, hoop)


def cloth_girths(design: Design) -> Floats:
    """(H + 1,) m of finished cloth round the waistband and along each casing, openings with it."""
    cloth = design.cloth
    assert cloth is not None
    circles = [circle_girth(design, hoop) for hoop in range(len(design.hoops))]
    own = cloth.girths or [(1.0 + cloth.ease) * girth for girth in circles]
    return np.array([design.wearer.waist, *own])


def eases(design: Design) -> Floats:
    """(H,) by which share the cloth along each casing is longer than its hoop and opening."""
    circles = np.array([circle_girth(design, hoop) for hoop in range(len(design.hoops))])
    return np.asarray(cloth_girths(design)[1:] / circles - 1.0)


def has_steel(design: Design, hoop: int, places: Floats) -> Bools:
    """(n,) whether a hoop has steel at shares of its girth."""
    if design.hoops[hoop].opening == "none":
        return np.ones(len(places), dtype=bool)
    centre = 0.0 if design.hoops[hoop].opening == "front" else 0.5
    off = np.abs(np.mod(places - centre + 0.5, 1.0) - 0.5) * circle_girth(design, hoop)
    return np.asarray(off > gap_of(design, hoop) / 2.0 + OFF_THE_END)


def stretch_widths(design: Design) -> Floats:
    """(H,) m, mean girth of the cloth from one casing to the next, the waistband's edge first."""
    girths = cloth_girths(design)
    return np.asarray((girths[:-1] + girths[1:]) / 2.0)


def area_mass(design: Design) -> float:
    """kg/m2 of the cloth."""
    assert design.cloth is not None
    return stock.cloth_weight(design.cloth.fabric)


def casing_mass(design: Design, hoop: int) -> float:
    """kg of the strip that is sewn on as one hoop's casing."""
    assert design.cloth is not None
    high = design.cloth.casing + 2.0 * trade.CASING_TURNING
    return float(cloth_girths(design)[hoop + 1] * high * area_mass(design))


def mass_round(design: Design, hoop: int, places: Floats) -> Floats:
    """(n,) kg a share of the girth that hangs on a hoop: half of the cloth above and below it, and its casing."""
    drops = drops_of(design).T @ seam_shares(design, places).T  # (H, n) m
    areas = stretch_widths(design)[:, None] * drops
    below = areas[hoop + 1] / 2.0 if hoop + 1 < len(areas) else below_hem(design) * np.ones(len(places))
    return np.asarray((areas[hoop] / 2.0 + below) * area_mass(design) + casing_mass(design, hoop))


def below_hem(design: Design) -> float:
    """m2 of the turned hem below the lowest hoop, were it all round."""
    assert design.cloth is not None
    return float(cloth_girths(design)[-1] * design.cloth.allowance.hem)


def mass_on_band(design: Design) -> float:
    """kg that the waistband bears itself: half of the uppermost stretch."""
    places = station_fractions(design.tapes)
    first = drops_of(design)[:, 0]
    spans = np.diff(np.append(places, places[0] + 1.0))
    mean = float(spans @ (first + np.roll(first, -1)) / 2.0)
    return mean * float(stretch_widths(design)[0]) / 2.0 * area_mass(design)
