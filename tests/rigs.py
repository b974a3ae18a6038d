"""Cages built in code for the tests: SI values, nothing read from a file."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from scipy.interpolate import CubicSpline

from cage3d.design.models import Design
from cage3d.shape.cage import Cage

STRIP_10 = {"width": 0.010, "thickness": 0.0006, "modulus": 200e9, "poisson": 0.3}
STRIP_6 = {"width": 0.006, "thickness": 0.0005, "modulus": 200e9, "poisson": 0.3}
BAND = 0.002  # m deep; a waistband as thin as may be, so that tapes start at `zero`
LEVEL = 3.0  # m, well above the floor


def design_of(
    *,
    waist: float,
    zero: float,
    drops: list[list[float]],
    lengths: list[float],
    steel: dict[str, Any],
    **more: Any,
) -> Design:
    """A bare design on a round waist: weightless tapes, closed hoops without joins unless said otherwise.

    zero: m above the floor where the tapes start; drops: one row a tape.
    """
    hoops = more.pop("hoops", [{"length": length, "join": "none"} for length in lengths])
    tapes = {"count": len(drops), "weight": 0.0, "drops": drops, **more.pop("tapes", {})}
    return Design.model_validate(
        {
            "name": "rig",
            "wearer": {
                "waist": waist, "waist_height": zero + BAND / 2, "waist_breadth": 0.3, "waist_depth": 0.3
            },
            "waistband": {"depth": BAND},
            "steel": steel,
            "tapes": tapes,
            "hoops": hoops,
            **more,
        }
    )  # fmt: skip


def whole_cage(**more: Any) -> Design:
    """The eightfold symmetric cage of four hoops whose answer is published in tests/published/test_whole_cage.py."""
    return design_of(
        waist=0.70,
        zero=1.05,
        drops=[[0.15, 0.18, 0.20, 0.22]] * 8,
        lengths=[1.5, 1.9, 2.3, 2.7],
        steel=STRIP_10,
        **more,
    )


def hard_cage() -> Design:
    """The same with its three front tapes 4 % short and a tie that pulls one hoop in."""
    drops = [[0.15, 0.18, 0.20, 0.22] for _ in range(8)]
    for tape in (7, 0, 1):
        drops[tape] = [0.96 * drop for drop in drops[tape]]
    return design_of(
        waist=0.70,
        zero=1.05,
        drops=drops,
        lengths=[1.5, 1.9, 2.3, 2.7],
        steel=STRIP_10,
        tapes={"stations": "on"},
        ties=[{"from": "hoop 3 tape 4", "to": "hoop 3 tape 6", "length": 0.35}],
    )


def ring_on_tapes(length: float, count: int, steel: dict[str, Any], **more: Any) -> Design:
    """A ring of `length` m on vertical tapes: the waist ring is the same circle."""
    return design_of(waist=length, zero=1.5, drops=[[0.5]] * count, lengths=[length], steel=steel, **more)


def without_weight(cage: Cage, share: float = 1e-4) -> Cage:
    """The cage with next to no weight: enough to tell which way it hangs, too little to bend anything."""
    return cage.with_parameters(
        own_weight=share * cage.parameters.own_weight, skirt_weight=0.0 * cage.parameters.skirt_weight
    )


def only_ties(cage: Cage) -> Cage:
    """The cage cut from its tapes and without any weight: hoops and ties alone, floating."""
    segments = cage.connectivity.segment_count
    joined = replace(
        cage.connectivity,
        pulls=cage.connectivity.pulls[segments:],
        pull_names=cage.connectivity.pull_names[segments:],
    )
    none = np.zeros(joined.node_count)
    free = cage.with_parameters(
        pull_length=cage.parameters.pull_length[segments:],
        pull_give=cage.parameters.pull_give[segments:],
        own_weight=none,
        skirt_weight=none,
    )
    return replace(free, connectivity=joined)


def crossing_points(cage: Cage, positions: np.ndarray, hoop: int) -> np.ndarray:
    """(T, 3) where the tapes cross a hoop."""
    return positions[cage.connectivity.crossing[hoop]]


def out_of_plane(points: np.ndarray) -> float:
    """m, how thick a slab the points (n, 3) need, in the direction in which they need least."""
    offset = points - points.mean(axis=0)
    return float(np.ptp(offset @ np.linalg.svd(offset)[2][2]))


def smooth_ring(values: np.ndarray) -> np.ndarray:
    """Values at a ring's nodes, interpolated between them by a periodic cubic, so that a peak is found."""
    count = len(values)
    curve = CubicSpline(np.arange(count + 1), np.append(values, values[0]), bc_type="periodic")
    return curve(np.linspace(0, count, 50 * count))
