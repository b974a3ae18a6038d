"""Where she gets into a petticoat of gores: a seam left open below the waistband, or a slit, at centre front."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.design import trade
from cage3d.shape.arrays import Floats
from cage3d.sheets.gores import GoreSet
from cage3d.sheets.making import Making
from cage3d.units import inches

AT_FRONT = 1e-9  # of the girth, within which a seam is at centre front
ABOVE_CASING = inches(1 / 2)  # a slit ends so far above the casing of a closed hoop (our own judgement)


@dataclass(frozen=True)
class WayIn:
    """Under the buckle and between the ends of open hoops (common practice)."""

    seam: int | None  # from 1, that is left open; None where a gore is slit
    gore: int  # from 1, that is slit, or that begins at the seam
    share: float  # across that gore from its seam by her right
    depth: float  # m below the waistband's edge


def way_in(making: Making) -> WayIn:
    """Of a cage on its own cloth."""
    stations, count = np.asarray(making.stations), making.design.tapes.count
    at_front = np.flatnonzero(np.minimum(stations, 1.0 - stations) < AT_FRONT)
    if len(at_front):
        seam = int(at_front[0]) + 1
        return WayIn(seam, seam, 0.0, as_deep_as_may_be(making, seam, seam, 0.0))
    span = float((stations[0] - stations[-1]) % 1.0)
    share = float(-stations[-1] % 1.0) / span
    return WayIn(None, count, share, as_deep_as_may_be(making, count, 1, share))


def as_deep_as_may_be(making: Making, seam: int, beyond: int, share: float) -> float:
    """m: no slit runs into the casing of a closed hoop; share: from seam `seam` to `beyond` (from 1)."""
    closed = {cut.hoop for cut in making.cuts if cut.closed}
    upper = [
        (1.0 - share) * one.upper + share * other.upper
        for one, other in zip(making.tapes_at(seam).casings, making.tapes_at(beyond).casings, strict=True)
        if one.hoop in closed
    ]
    return min([trade.SLIT, *(depth - ABOVE_CASING for depth in upper)])


def slit_on(one: GoreSet, into: WayIn) -> Floats | None:
    """(n, 2) m, the slit on the gore as it is drawn, from its cut above; None where none is on it."""
    if into.seam is not None or into.gore not in one.gores:
        return None
    turned = one.mirrored[one.gores.index(into.gore)]
    share = 1.0 - into.share if turned else into.share
    return down_to(np.stack([one.top, *one.flat]), share, into.depth)


def open_to(one: GoreSet, into: WayIn, count: int) -> list[tuple[int, Floats]]:
    """(side, place (2,) m) where a seam that is left open is closed, on the edges of the gore as it is drawn.

    side: 0 by her right, 1 by her left; count: of all gores.
    """
    if into.seam is None:
        return []
    found = []
    for gore, own in ((into.gore, 0), ((into.gore - 2) % count + 1, 1)):
        if gore in one.gores:
            side = 1 - own if one.mirrored[one.gores.index(gore)] else own
            rows = np.stack([one.top, *one.flat])
            found.append((side, down_to(rows, float(side), into.depth)[-1]))
    return found


def down_to(rows: Floats, share: float, depth: float) -> Floats:
    """(n, 2) m, a line down a gore at a share of its width: from the first of `rows` to `depth` m below the second."""
    place = share * (rows.shape[1] - 1)
    left = min(int(place), rows.shape[1] - 2)
    line = rows[:, left] + (place - left) * (rows[:, left + 1] - rows[:, left])
    below = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line[1:], axis=0), axis=1))])
    whole = below < depth
    end = [np.interp(depth, below, line[1:, axis]) for axis in (0, 1)]
    return np.vstack([line[:1], line[1:][whole], end])
