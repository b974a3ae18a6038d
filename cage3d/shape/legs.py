"""One leg of the pair that stands together: what of the pair's oval belongs to it, and how it measures round.

In the balance of forces both legs are one oval, as a string or a hoop meets them. One of them is the oval that
fills its half of the pair's without leaving it: drawn, it is never outside of what hoops and ties lie on.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from cage3d.shape.arrays import Floats
from cage3d.shape.ovals import girth_of, oval_points

APART = 0.01  # of the pair's half breadth, from a leg to the plane between the two; drawn as a line
HALVINGS = 50  # down to the last bit


class Pair(NamedTuple):
    """Both legs at one height as one oval, m."""

    half_breadth: float
    half_depth: float
    power: float

    @property
    def leg(self) -> tuple[float, float]:
        """m, half breadth and half depth of the largest oval of the same power in one half.

        Both ovals meet at the outermost place; there the leg's must bend no less than the pair's, which bounds its
        depth: (x / b)^p + (y / d)^p = 1 near x = b is y = d (p s / b)^(1/p), s from the end inwards.
        """
        half = self.half_breadth * (1.0 - APART) / 2.0
        return half, self.half_depth * (half / self.half_breadth) ** (1.0 / self.power)

    @property
    def leg_middle(self) -> float:
        """m, from the plane between the legs to the leg's own axis."""
        return self.half_breadth - self.leg[0]

    @property
    def leg_girth(self) -> float:
        """m round one leg."""
        return girth_of(oval_points(*self.leg, self.power))

    def outline(self, directions: Floats, apart: float) -> Floats:
        """(n, 2) m about the leg's own axis, in directions (n, 2) whose x points away from the other leg.

        apart: 0 where the legs are one body cut in two, 1 where each is an oval; between, what lies between.
        """
        x, y = directions.T
        half_breadth, half_depth = self.leg
        p = self.power
        oval = ((np.abs(x) / half_breadth) ** p + (np.abs(y) / half_depth) ** p) ** (-1.0 / p)
        radius = (1.0 - apart) * self.cut_in_two(x, y) + apart * oval
        return np.asarray(directions * radius[:, None])

    def cut_in_two(self, x: Floats, y: Floats) -> Floats:
        """(n,) m along unit directions from the leg's axis to the pair's oval, or to the plane between the legs."""
        towards = np.maximum(-x, 1e-12)
        inner = (self.leg_middle - APART * self.half_breadth) / towards
        low, high = np.zeros(len(x)), np.full(len(x), 2.0 * (self.half_breadth + self.half_depth))
        for _ in range(HALVINGS):
            middle = (low + high) / 2.0
            across = np.abs(self.leg_middle + middle * x) / self.half_breadth
            along = np.abs(middle * y) / self.half_depth
            inside = across**self.power + along**self.power < 1.0
            low, high = np.where(inside, middle, low), np.where(inside, high, middle)
        return np.asarray(np.minimum((low + high) / 2.0, inner))
