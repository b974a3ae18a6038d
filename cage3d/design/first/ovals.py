"""Ovals in plan, for hoops that are drawn and not round: points at equal shares of the girth."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
CORNERS = (
    2000  # of the polygon an oval is measured by: its girth is short by less than two parts in a million
)


@dataclass(frozen=True)
class Oval:
    """Half an ellipse in front of the waist's axis and half another behind it (m)."""

    half_breadth: float
    front: float  # from the axis forward
    back: float

    @property
    def girth(self) -> float:
        """m"""
        return float(self.measured()[1][-1])

    def measured(self) -> tuple[Floats, Floats]:
        """((C + 1, 2) corners x, y in m from centre front round by her left, (C + 1,) m along them)."""
        turns = np.linspace(0.0, 2.0 * np.pi, CORNERS + 1)
        ahead = np.cos(turns)
        depth = np.where(ahead > 0.0, self.front, self.back)
        corners = np.column_stack([self.half_breadth * np.sin(turns), -depth * ahead])
        along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(corners, axis=0), axis=1))])
        return corners, along

    def at(self, shares: Floats) -> Floats:
        """(S, 2) m at these shares of the girth from centre front round by her left."""
        corners, along = self.measured()
        places = np.asarray(shares) * along[-1]
        return np.column_stack([np.interp(places, along, side) for side in corners.T])

    def around(self, other: Oval) -> Oval:
        """The least oval that holds both."""
        return Oval(
            max(self.half_breadth, other.half_breadth),
            max(self.front, other.front),
            max(self.back, other.back),
        )

    def towards(self, other: Oval, share: float) -> Oval:
        """The oval that lies this share of the way from here to another."""
        ends = zip(
            (self.half_breadth, self.front, self.back),
            (other.half_breadth, other.front, other.back),
            strict=True,
        )
        return Oval(*(start + share * (end - start) for start, end in ends))

    def way_behind(self, one: Floats, other: Floats) -> float:
        """m of the shortest way between two points (x, y) behind this oval."""
        corners = self.measured()[0]
        behind = corners[corners[:, 1] > min(one[1], other[1])]
        return hull_length(np.vstack([one, behind[np.argsort(-behind[:, 0])], other]))


def hull_length(way: Floats) -> float:
    """m of a string drawn tight along points (P, 2) from her left to her right, on whose front side she stands."""
    kept: list[Floats] = []
    for point in way:
        while len(kept) > 1 and turns_inwards(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return float(np.linalg.norm(np.diff(np.array(kept), axis=0), axis=1).sum())


def turns_inwards(before: Floats, at: Floats, after: Floats) -> bool:
    """Whether a corner of a way round her back from left to right lies off it, so that a tight string leaves it out."""
    (ax, ay), (bx, by) = at - before, after - at
    return bool(ax * by - ay * bx <= 0.0)
