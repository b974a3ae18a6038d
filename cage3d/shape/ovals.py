"""Ovals of the body and the waistband: places round them by share of the girth.

A section is |x/a|^p + |y/b|^p = 1: half breadth a (side to side), half depth b
(front to back). p = 2 is an ellipse; bodies are fuller (p above 2).
"""

from __future__ import annotations

import numpy as np

from cage3d.shape.arrays import Floats

SAMPLES = 4096


def oval_points(half_breadth: float, half_depth: float, power: float = 2.0) -> Floats:
    """(SAMPLES + 1, 2) x, y round the oval from centre front by the wearer's left, closed.

    Sampled evenly in the angle of the ellipse's parameter, so that the flat ends of a
    full oval keep enough points.
    """
    turn = np.linspace(0.0, 2.0 * np.pi, SAMPLES + 1)
    sine, cosine = np.sin(turn), -np.cos(turn)
    x = half_breadth * np.sign(sine) * np.abs(sine) ** (2.0 / power)
    y = half_depth * np.sign(cosine) * np.abs(cosine) ** (2.0 / power)
    return np.column_stack([x, y])


def girth_of(points: Floats) -> float:
    """m, length round a closed line of points (n, 2)."""
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def scaled_to_girth(breadth: float, depth: float, girth: float, power: float = 2.0) -> tuple[float, float]:
    """(half breadth, half depth) in m of the oval of this proportion whose girth is `girth`."""
    share = girth / girth_of(oval_points(breadth / 2.0, depth / 2.0, power))
    return breadth / 2.0 * share, depth / 2.0 * share


def at_fractions(points: Floats, fractions: Floats) -> Floats:
    """(n, 2) places at shares of the girth from centre front round by the wearer's left."""
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    wanted = np.mod(fractions, 1.0) * along[-1]
    return np.column_stack([np.interp(wanted, along, points[:, axis]) for axis in (0, 1)])
