"""Rolls and pads worn under the cage: where they make the wearer's form wider, and by how much.

A pad lies on the form along the ray from its axis: at its middle it is as thick as is written, and it
tapers to nothing at its edges as (1 - u^4)^3, u from the middle to the edge, with two continuous
derivatives for the mechanics.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.shape.arrays import Floats


@dataclass(frozen=True)
class Pad:
    """One pad on the form."""

    centre: float  # angle from centre front by her left, as a share of a turn
    reach: float  # from there to its edge, as a share of a turn; beyond a half it goes all the way round
    height: float  # m above the floor, of its middle
    half: float  # m from there to its upper and its lower edge
    share: float  # its thickness over the form's radius at its middle

    def swelling(self, points: Floats) -> Floats:
        """(n,) how much wider the form is at points (n, 3) m, as a share of its radius there."""
        return np.asarray(self.share * taper(self.around(points))[0] * taper(self.upward(points))[0])

    def derivatives(self, points: Floats) -> tuple[Floats, Floats, Floats]:
        """((n,) swelling, (n, 3) gradient, (n, 3, 3) Hessian) over the place."""
        ring, ring_slope, ring_curve = taper(self.around(points))
        level, level_slope, level_curve = taper(self.upward(points))
        turn, bend = angle_derivatives(points)
        around, up = turn / self.reach, 1.0 / self.half
        gradient, hessian = np.zeros((len(points), 3)), np.zeros((len(points), 3, 3))
        gradient[:, :2] = (ring_slope * level)[:, None] * around
        gradient[:, 2] = ring * level_slope * up
        hessian[:, :2, :2] = (ring_curve * level)[:, None, None] * around[:, :, None] * around[:, None, :]
        hessian[:, :2, :2] += (ring_slope * level)[:, None, None] * bend / self.reach
        hessian[:, :2, 2] = hessian[:, 2, :2] = (ring_slope * level_slope * up)[:, None] * around
        hessian[:, 2, 2] = ring * level_curve * up**2
        return self.share * ring * level, self.share * gradient, self.share * hessian

    def around(self, points: Floats) -> Floats:
        """(n,) from the middle (0) to the edges (-1, 1) as seen from above."""
        turn = np.arctan2(points[:, 0], -points[:, 1]) / (2.0 * np.pi)
        return np.asarray((np.mod(turn - self.centre + 0.5, 1.0) - 0.5) / self.reach)

    def upward(self, points: Floats) -> Floats:
        """(n,) from the middle (0) to the lower and upper edge (-1, 1)."""
        return np.asarray((points[:, 2] - self.height) / self.half)


def taper(u: Floats) -> tuple[Floats, Floats, Floats]:
    """(1 - u^4)^3 between -1 and 1 and nothing beyond, with its first and second derivative."""
    inside = np.maximum(1.0 - u**4, 0.0)
    return (
        inside**3,
        -12.0 * u**3 * inside**2,
        -36.0 * u**2 * inside**2 + 96.0 * u**6 * inside,
    )


def angle_derivatives(points: Floats) -> tuple[Floats, Floats]:
    """((n, 2), (n, 2, 2)) of the angle from centre front by her left, in turns, over x and y."""
    x, y = points[:, 0], points[:, 1]
    square = np.maximum(x**2 + y**2, 1e-12)
    first = np.column_stack([-y, x]) / square[:, None]
    second = np.empty((len(points), 2, 2))
    second[:, 0, 0] = 2.0 * x * y
    second[:, 1, 1] = -2.0 * x * y
    second[:, 0, 1] = second[:, 1, 0] = y**2 - x**2
    return first / (2.0 * np.pi), second / (2.0 * np.pi * square**2)[:, None, None]
