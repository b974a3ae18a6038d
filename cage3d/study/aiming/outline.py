"""A wanted shape as it is drawn: the closed outline of the cage from the front, from her left side, or both."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import shapely

from cage3d.errors import CageError, Problem
from cage3d.shape.arrays import Floats
from cage3d.units import both

VIEWS = ("front", "side")
CLOSED = 2e-3  # m between beginning and end of an outline that counts as closed
AHEAD = 0.5  # of its reach to a side: what lies beyond belongs to that side's edge


@dataclass(frozen=True)
class Outline:
    """One view: (n, 2) m across from the waist's axis and above the floor; the last point is the first.

    across: to her left in the view from the front, to her back in the view of her side.
    """

    view: str  # of VIEWS
    points: Floats

    def ends_at(self, height: float) -> tuple[float, float] | None:
        """(least, most) m across at a height (m); None where the outline has nothing there."""
        across = self.points[:, 0]
        level = shapely.LineString([(across.min() - 1.0, height), (across.max() + 1.0, height)])
        cut = level.intersection(shapely.Polygon(self.points))
        return None if cut.is_empty else (float(cut.bounds[0]), float(cut.bounds[2]))

    def lowest_towards(self, sign: float) -> float:
        """m above the floor, where the edge on one side (+1: left or back) ends."""
        across = sign * self.points[:, 0]
        return float(self.points[across >= AHEAD * across.max(), 1].min())


def outlines_of(drawn: Mapping[str, Floats], name: str) -> tuple[Outline, ...]:
    """The outlines of a file by their view. Raises CageError for one that bounds no shape."""
    found = [Outline(view, closed(drawn[view], view, name)) for view in VIEWS if view in drawn]
    if not found:
        why, try_this = "no outline is in it", f"Name an outline {' or '.join(VIEWS)}"
        raise CageError(Problem(name, "", why, try_this))
    return tuple(found)


def closed(points: Floats, view: str, name: str) -> Floats:
    """(n, 2) m, the same outline with its last point at its first. Raises CageError."""

    def refuse(why: str, try_this: str) -> CageError:
        return CageError(Problem(name, f"outline {view}", why, try_this))

    if len(points) < 4:
        raise refuse("an outline needs three corners and its first point again", "Draw it all round")
    gap = float(np.linalg.norm(points[-1] - points[0]))
    if gap > CLOSED:
        why = f"the outline lies open: it ends {both(gap)} from where it begins"
        raise refuse(why, "End it at its first point")
    ring = np.vstack([points[:-1], points[:1]])
    if not shapely.LinearRing(ring).is_simple:
        why = f"the outline crosses or touches itself{crossing(ring)}"
        raise refuse(why, "Draw it once round, without loops")
    if np.ptp(points[:, 0]) < CLOSED or np.ptp(points[:, 1]) < CLOSED:
        raise refuse("the outline has no width or no height", "Draw it all round")
    return ring


def crossing(ring: Floats) -> str:
    """Where, for the message: ' 9 in (0.229 m) above the floor'; nothing where that cannot be told."""
    told = shapely.is_valid_reason(shapely.Polygon(ring))
    inside = told.partition("[")[2].rstrip("]").split()
    return f" {both(float(inside[1]))} above the floor" if len(inside) >= 2 else ""
