"""A strip, a string or a ring by itself, in place of a cage: what a closed form can say of it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from rigs import LEVEL, STRIP_6, ring_on_tapes

from cage3d.shape.cage import Cage, Connectivity, Parameters
from cage3d.shape.lay_out import lay_out

# A cage whose nodes, numbers and places the lines below put their own in for.
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
