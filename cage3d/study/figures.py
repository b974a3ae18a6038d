"""Figures of a settled cage by the names a maker would say, and how they go as its numbers change."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from cage3d.design.models import Design
from cage3d.report.curves import HoopCurve, curve_through, height_towards
from cage3d.settle.state import SettledCage
from cage3d.settle.tangent import Tangent
from cage3d.shape.arrays import Floats
from cage3d.shape.changes import difference, side_by_side
from cage3d.shape.parameters import parameters_of
from cage3d.study.numbers import numbers_of, with_numbers

CHANGE = 1e-6  # m, by which a number is changed to see how the mechanics' own numbers go with it
SMALL = 1e-5  # m or part of one, by which the nodes follow their moves to see how a figure goes

KINDS: dict[str, Callable[[HoopCurve], float]] = {
    "height front": lambda curve: height_towards(curve, "front")[0],
    "height left": lambda curve: height_towards(curve, "left")[0],
    "height back": lambda curve: height_towards(curve, "back")[0],
    "height right": lambda curve: height_towards(curve, "right")[0],
    "side to side": lambda curve: float(np.ptp(curve.points[:, 0])),
    "front to back": lambda curve: float(np.ptp(curve.points[:, 1])),
    "out in front": lambda curve: float(-curve.points[:, 1].min()),
    "out at the left": lambda curve: float(curve.points[:, 0].max()),
    "out at the right": lambda curve: float(-curve.points[:, 0].min()),
    "out at the back": lambda curve: float(curve.points[:, 1].max()),
}


@dataclass(frozen=True, order=True)
class Figure:
    """One figure of one hoop."""

    hoop: int  # from 0
    kind: str  # of KINDS; out: how far from the waist's axis

    @property
    def name(self) -> str:
        """'hoop 4 height front'"""
        return f"hoop {self.hoop + 1} {self.kind}"


def figures_at(settled: SettledCage, positions: Floats, figures: Sequence[Figure]) -> Floats:
    """(F,) m: the figures with the nodes of a settled cage at these positions (N, 3) m."""
    curves = {hoop: curve_through(settled.cage, positions, hoop) for hoop in {one.hoop for one in figures}}
    return np.array([KINDS[one.kind](curves[one.hoop]) for one in figures])


def figures_of(settled: SettledCage, figures: Sequence[Figure]) -> Floats:
    """(F,) m: the figures as the cage hangs."""
    return figures_at(settled, settled.positions, figures)


def slopes_of(
    settled: SettledCage, design: Design, nodes: int, directions: Floats, figures: Sequence[Figure]
) -> Floats:
    """(F, P) m a metre: how the figures go with each direction (D, P) of the design's numbers.

    nodes: a hoop, as the cage was laid out. Good while no tape goes slack or taut and nothing comes into touch.
    Raises ValueError where the cage is not settled and stable.
    """
    numbers, before = numbers_of(design), settled.cage.parameters
    changes = [
        difference(parameters_of(with_numbers(design, numbers + CHANGE * column), nodes), before, CHANGE)
        for column in directions.T
    ]
    moves = Tangent(settled).moves(side_by_side(changes))
    at = settled.positions
    steps = SMALL / np.maximum(1.0, np.abs(moves).max(axis=(0, 1)))
    pairs = [
        (figures_at(settled, at + step * move, figures), figures_at(settled, at - step * move, figures), step)
        for move, step in zip(np.moveaxis(moves, 2, 0), steps, strict=True)
    ]
    return np.stack([(up - down) / (2.0 * step) for up, down, step in pairs], axis=1)
