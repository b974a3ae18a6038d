"""Skirts that slide: each as lines of cloth from the waistband down, ropes that run over the hoops.

It lies outside of all hoops, so one that hangs inside of the straight way past it is not touched.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from scipy.interpolate import PPoly

from cage3d.shape.arrays import Bools, Floats, Ints
from cage3d.shape.in_short import InShort

INSIDE = 0.003  # m, by which a hoop may hang inside of the straight way past it and still be touched


@dataclass(frozen=True, repr=False)
class Cloth(InShort):
    """One skirt that slides: R lines of cloth over K hoops."""

    rows: slice  # of its lines among the cage's `cloth_weight` and `cloth_length`
    tops: Floats  # (R, 3) m, on the waistband
    nodes: Ints  # (R, K, 2) nodes on both sides of where each line crosses each hoop
    shares: Floats  # (R, K, 2) of them
    over: Bools  # (R, K) whether the line touches the hoop
    heaviness: PPoly  # weight a length from the band (0) to the cloth's edge (1), of mean 1
    friction: float  # of cloth on a hoop

    @cached_property
    def touched(self) -> tuple[Ints, Floats]:
        """Nodes and shares (R, K, 2) of the hoops that each line touches, in turn; the last one fills the row up."""
        order = np.argsort(~self.over, axis=1, kind="stable")
        last = self.over.sum(axis=1)[:, None] - 1
        order = np.take_along_axis(order, np.minimum(np.arange(order.shape[1])[None, :], last), axis=1)
        return (
            np.take_along_axis(self.nodes, order[:, :, None], axis=1),
            np.take_along_axis(self.shares, order[:, :, None], axis=1),
        )

    def laid_over(self, positions: Floats) -> Cloth:
        """The same cloth, over those hoops that it touches where the nodes are (N, 3) m."""
        points = np.einsum("rke,rkex->rkx", self.shares, positions[self.nodes])
        line = np.concatenate([self.tops[:, None, :], points], axis=1)
        out = np.hypot(line[:, :, 0], line[:, :, 1])
        over = np.array([outermost(*one) for one in zip(out, line[:, :, 2], strict=True)])
        return replace(self, over=over)


def outermost(out: Floats, heights: Floats) -> Bools:
    """(K,) which of K places a line touches that hangs outside of all, from one above (k + 1 places in all)."""
    kept = [0]
    for place in range(1, len(out)):
        while len(kept) > 1 and hangs_inside(out, heights, kept[-2], kept[-1], place):
            kept.pop()
        kept.append(place)
    while len(kept) > 2 and out[kept[-1]] < out[kept[-2]] - INSIDE:
        kept.pop()
    over = np.zeros(len(out), dtype=bool)
    over[kept] = True
    return over[1:]


def hangs_inside(out: Floats, heights: Floats, above: int, place: int, below: int) -> bool:
    """Whether a place lies inside of the straight line between two others by more than can be overlooked."""
    along, down = out[below] - out[above], heights[above] - heights[below]
    beside = (out[place] - out[above]) * down - (heights[above] - heights[place]) * along
    return bool(beside < -INSIDE * np.hypot(along, down))
