"""Cages built in code for the tests: SI values, nothing read from a file."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from scipy.interpolate import CubicSpline

from cage3d.design.models import Design
from cage3d.shape.cage import Cage, Connectivity, Parameters
from cage3d.shape.lay_out import lay_out

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


# A cage whose nodes, numbers and places the rigs below put their own in for.
STAND_IN = lay_out(ring_on_tapes(1.0, 2, STRIP_6), 8)


def strip_held_at_one_end(length: float, edges: int, weight_per_length: float, bending: float) -> Cage:
    """A strip held level along +x at (0, 0, LEVEL), its flat up, hanging out over nothing; planar by symmetry.

    The clamp is an edge of two fixed nodes; the bend at the clamp has half a cell of steel.
    """
    step = length / edges
    free = np.column_stack([step * np.arange(1, edges + 1), np.zeros(edges), np.full(edges, LEVEL)])
    fixed = np.array([[-step, 0.0, LEVEL], [0.0, 0.0, LEVEL]])
    return replace(
        STAND_IN,
        connectivity=joined_to_a_clamp(edges),
        parameters=numbers_of_a_strip(step, edges, weight_per_length, bending),
        positions=np.vstack([free, fixed]),
        normals=np.tile([0.0, 0.0, 1.0], (edges + 1, 1)),
        form=None,
    )


def joined_to_a_clamp(edges: int) -> Connectivity:
    """A strip of free nodes after two that are held."""
    behind, clamp = edges, edges + 1
    path = np.array([behind, clamp, *range(edges)])
    return replace(
        STAND_IN.connectivity,
        node_count=edges + 2,
        closed=np.array([False]),
        hoop_nodes=(np.arange(edges),),
        hoop_edges=(np.arange(edges + 1),),
        edges=np.column_stack([path[:-1], path[1:]]),
        edge_hoop=np.zeros(edges + 1, dtype=np.intp),
        bends=np.column_stack([path[:-2], path[1:-1], path[2:]]),
        bend_edges=np.column_stack([np.arange(edges), np.arange(1, edges + 1)]),
        bend_hoop=np.zeros(edges, dtype=np.intp),
        crossing=np.zeros((1, 2), dtype=np.intp),
        anchors=np.array([behind, clamp]),
        pulls=np.zeros((0, 2), dtype=np.intp),
        pull_names=(),
        node_fraction=np.full(edges + 2, np.nan),
    )


def numbers_of_a_strip(step: float, edges: int, weight_per_length: float, bending: float) -> Parameters:
    """Lengths, stiffnesses and weights of it; the last node bears half a cell."""
    cells = np.full(edges, step)
    cells[0] = step / 2.0
    hangs = np.full(edges, weight_per_length * step)
    hangs[-1] /= 2.0
    return replace(
        STAND_IN.parameters,
        edge_length=np.full(edges + 1, step),
        arc_length=np.full(edges + 1, step),
        bend_length=cells,
        easy=np.full(edges, bending),
        stiff=np.full(edges, 100.0 * bending),
        torsion=np.full(edges, bending),
        set_curvature=np.zeros(edges),
        pull_length=np.zeros(0),
        pull_give=np.zeros(0),
        own_weight=np.append(hangs, [0.0, 0.0]),
        skirt_weight=np.zeros(edges + 2),
        strip_width=np.full(edges + 1, STRIP_6["width"]),
        stand_off=np.zeros(edges + 2),
    )


def weights_on_a_string(
    segments: list[float], weights: list[float], first: list[float], last: list[float]
) -> Cage:
    """Weights (N) on a string of pulling segments (m) between two points (x, z): no steel at all."""
    count = len(weights)
    ends = np.array([[first[0], 0.0, first[1]], [last[0], 0.0, last[1]]])
    shares = np.arange(1, count + 1)[:, None] / (count + 1)
    free = ends[0] + shares * (ends[1] - ends[0]) - [0.0, 0.0, 0.2]
    empty = np.zeros(0)
    numbers = replace(
        STAND_IN.parameters,
        edge_length=empty, arc_length=empty, bend_length=empty, easy=empty, stiff=empty, torsion=empty,
        set_curvature=empty,
        pull_length=np.array(segments),
        pull_give=np.zeros(len(segments)),
        own_weight=np.array([*weights, 0.0, 0.0]),
        skirt_weight=np.zeros(count + 2),
        strip_width=empty,
        stand_off=np.zeros(count + 2),
    )  # fmt: skip
    return replace(
        STAND_IN,
        connectivity=strung(count),
        parameters=numbers,
        positions=np.vstack([free, ends]),
        normals=np.zeros((0, 3)),
        form=None,
    )


def strung(count: int) -> Connectivity:
    """So many nodes on a string between two that are held."""
    path = np.array([count, *range(count), count + 1])
    none = np.zeros((0, 2), dtype=np.intp)
    return Connectivity(
        node_count=count + 2,
        closed=np.array([False]),
        hoop_nodes=(np.arange(count),),
        hoop_edges=(np.zeros(0, dtype=np.intp),),
        edges=none,
        edge_hoop=np.zeros(0, dtype=np.intp),
        bends=np.zeros((0, 3), dtype=np.intp),
        bend_edges=none,
        bend_hoop=np.zeros(0, dtype=np.intp),
        crossing=np.zeros((1, 2), dtype=np.intp),
        anchors=np.array([count, count + 1]),
        pulls=np.column_stack([path[:-1], path[1:]]),
        pull_names=tuple(f"segment {n + 1}" for n in range(count + 1)),
        pull_sides=np.full((count + 1, 2), np.nan),
        node_fraction=np.full(count + 2, np.nan),
        cloth_shares=np.zeros((0, 2)),
        segments=np.array([[0, 0], [0, 1]]),
        meeting=np.zeros(0, dtype=np.intp),
        sewn=none,
        sewn_edges=np.zeros(0, dtype=np.intp),
        sewn_bends=np.zeros(0, dtype=np.intp),
        sewn_ways=np.zeros((0, 3)),
        sewn_turns=np.zeros(0),
    )


def ring_hung_from_a_point(
    length: float, nodes: int, steel: dict[str, Any], weight_per_length: float
) -> Cage:
    """A ring standing in its own plane (x, z), hung from its top by one short tape."""
    level = lay_out(ring_on_tapes(length, 2, steel, tapes={"stations": "on"}), nodes)
    joined = level.connectivity
    turned = level.positions[:, [0, 2, 1]] * [1.0, 1.0, -1.0]
    turned[:, 1] = 0.0
    top = int(joined.crossing[0, 0])
    turned[:, 2] += 2.0
    turned[joined.anchors] = turned[top] + [[0.0, 0.0, 0.01], [0.5, 0.0, 0.0]]
    kept = replace(
        joined, pulls=joined.pulls[:1], pull_names=joined.pull_names[:1], pull_sides=joined.pull_sides[:1]
    )
    weight = np.zeros(joined.node_count)
    weight[joined.hoop_nodes[0]] = weight_per_length * length / len(joined.hoop_nodes[0])
    numbers = replace(
        level.parameters, pull_length=np.array([0.01]), pull_give=np.zeros(1), own_weight=weight
    )
    return replace(
        level,
        connectivity=kept,
        parameters=numbers,
        positions=turned,
        normals=level.normals[:, [0, 2, 1]] * [1.0, 1.0, -1.0],
        form=None,
    )


def out_of_plane(points: np.ndarray) -> float:
    """m, how thick a slab the points (n, 3) need, in the direction in which they need least."""
    offset = points - points.mean(axis=0)
    return float(np.ptp(offset @ np.linalg.svd(offset)[2][2]))


def smooth_ring(values: np.ndarray) -> np.ndarray:
    """Values at a ring's nodes, interpolated between them by a periodic cubic, so that a peak is found."""
    count = len(values)
    curve = CubicSpline(np.arange(count + 1), np.append(values, values[0]), bc_type="periodic")
    return curve(np.linspace(0, count, 50 * count))
