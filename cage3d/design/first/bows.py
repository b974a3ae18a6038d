"""A bow: steel whose ends are drawn together by a string and turn freely there, in closed form.

Euler's elastica (Love, A Treatise on the Mathematical Theory of Elasticity, 1927, articles 262 and 263): with the
modulus k = sin(half of the slope at an end), chord / length = 2 E(k) / K(k) - 1 and depth / length = k / K(k).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq
from scipy.special import ellipe, ellipeinc, ellipk, ellipkinc

from cage3d.design.first.ovals import Floats

POINTS = 2001  # of the line a bow is measured by
FLATTEST, DEEPEST = 0.01, 0.9  # moduli: at 0.909 the two ends meet


@dataclass(frozen=True)
class Bow:
    """length: of its steel, m; modulus: k, how far it is drawn."""

    length: float
    modulus: float

    @property
    def chord(self) -> float:
        """m from end to end."""
        square = self.modulus**2
        return float(self.length * (2.0 * ellipe(square) / ellipk(square) - 1.0))

    @property
    def depth(self) -> float:
        """m from the chord to the crown."""
        return float(self.length * self.modulus / ellipk(self.modulus**2))

    def measured(self) -> tuple[Floats, Floats]:
        """((C, 2) points m along the chord from its middle and off it, (C,) m of steel to them from its first end).

        By the amplitude a, the sine of half the slope being k sin a: x = 2 E(a) - F(a), y = 2 k cos a, s = F(a).
        """
        square = self.modulus**2
        turns = np.linspace(-np.pi / 2.0, np.pi / 2.0, POINTS)
        first, second = ellipkinc(turns, square), ellipeinc(turns, square)
        scale = self.length / (2.0 * ellipk(square))
        points = scale * np.column_stack([2.0 * second - first, 2.0 * self.modulus * np.cos(turns)])
        return points, scale * (first - first[0])

    @property
    def breadth(self) -> float:
        """m across, where it is widest."""
        return float(np.ptp(self.measured()[0][:, 0]))

    def at(self, shares: Floats) -> Floats:
        """(S, 2) m: along the chord from its middle, and off it, at shares of the steel from one end to the other."""
        points, along = self.measured()
        places = np.asarray(shares) * self.length
        return np.column_stack([np.interp(places, along, side) for side in points.T])


def bow_of(chord: float, depth: float) -> Bow:
    """The bow of this chord and depth (m), at most three times as deep as its chord."""
    modulus = brentq(lambda k: depth_per_chord(k) - depth / chord, FLATTEST, DEEPEST)
    return Bow(chord / Bow(1.0, modulus).chord, modulus)


def depth_per_chord(modulus: float) -> float:
    bow = Bow(1.0, modulus)
    return bow.depth / bow.chord
