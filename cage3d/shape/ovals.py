"""Ovals of the body and the waistband: places round them by share of the girth.

A section is |x/a|^p + |y/b|^p = 1: half breadth a (side to side), half depth b
(front to back). p = 2 is an ellipse; bodies are fuller (p above 2).
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from cage3d.shape.arrays import Floats

SAMPLES = 4096


def oval_points(half_breadth: float, half_depth: float, power: float = 2.0) -> Floats:
    """(SAMPLES + 1, 2) x, y round the oval from centre front by the wearer's left, closed.

    Sampled evenly in the angle of the ellipse's parameter, so that the flat ends of a
    full oval keep enough points.
    """
    return np.asarray(unit_oval(float(power)) * np.array([half_breadth, half_depth]))


@lru_cache(maxsize=64)
def unit_oval(power: float) -> Floats:
    """The oval of half breadth and half depth 1, kept (66 kB each): most ovals of a wearer are of a few powers."""
    turn = np.linspace(0.0, 2.0 * np.pi, SAMPLES + 1)
    ways = np.column_stack([np.sin(turn), -np.cos(turn)])
    oval = np.sign(ways) * np.abs(ways) ** (2.0 / power)
    oval.setflags(write=False)
    return np.asarray(oval)


def girth_of(points: Floats) -> float:
    """m, length round a closed line of points (n, 2)."""
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


@lru_cache(maxsize=256)
def scaled_to_girth(breadth: float, depth: float, girth: float, power: float = 2.0) -> tuple[float, float]:
    """(half breadth, half depth) in m of the oval of this proportion whose girth is `girth`."""
    share = girth / girth_of(oval_points(breadth / 2.0, depth / 2.0, power))
    return breadth / 2.0 * share, depth / 2.0 * share


def at_fractions(points: Floats, fractions: Floats) -> Floats:
    """(n, 2) places at shares of the girth from centre front round by the wearer's left."""
    return at_shares(points, girth_along(points), fractions)


def at_shares(points: Floats, along: Floats, fractions: Floats) -> Floats:
    """As `at_fractions`, where it is known how far along the line (m) its points lie."""
    wanted = np.mod(fractions, 1.0) * along[-1]
    return np.column_stack([np.interp(wanted, along, points[:, axis]) for axis in (0, 1)])


def girth_along(points: Floats) -> Floats:
    """(n,) m along a line of points (n, 2)."""
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    return np.concatenate([[0.0], np.cumsum(steps)])


@lru_cache(maxsize=16)
def measured_oval(half_breadth: float, half_depth: float) -> tuple[Floats, Floats]:
    """The points of an ellipse and how far along it they lie (m), kept (100 kB each) and not to be written to."""
    points = oval_points(half_breadth, half_depth)
    along = girth_along(points)
    points.setflags(write=False)
    along.setflags(write=False)
    return points, along
