"""From the written design to the laid out cage: level circles at their marks, connected and weighed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.design.models import Design
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Cage, Connectivity, Parameters
from cage3d.shape.form import build_form
from cage3d.shape.lines import HoopLine, hoop_line
from cage3d.shape.marks import drops_of
from cage3d.shape.pulls import pull_pairs, tie_lengths
from cage3d.shape.strip import bend_stiffness
from cage3d.shape.waist import station_fractions, tape_zeros
from cage3d.shape.weights import GRAVITY, hoop_weights, shares_at_nodes, skirt_masses, tape_mass_per_length

NODES_PER_HOOP = 112
# Cages of few hoops settle so fast that they may be finer: about this many nodes in all, up to MOST a hoop.
NODES_IN_ALL = 448
MOST_NODES_PER_HOOP = 192


@dataclass(frozen=True)
class Placed:
    """The hoop lines with their first index in the whole cage."""

    lines: tuple[HoopLine, ...]
    first_node: Ints  # (H + 1,)
    first_edge: Ints  # (H + 1,)


def default_resolution(design: Design) -> int:
    """Nodes round a hoop where nobody asks for another number."""
    return max(NODES_PER_HOOP, min(MOST_NODES_PER_HOOP, NODES_IN_ALL // len(design.hoops)))


def lay_out(design: Design, nodes_per_hoop: int | None = None) -> Cage:
    """The cage of a design as level circles; `settle` finds how it hangs.

    nodes_per_hoop: about how many round a hoop, else `default_resolution`; every stretch between two tapes gets the
    same number or more. Error falls with its square.
    """
    stations = station_fractions(design)
    nodes = nodes_per_hoop or default_resolution(design)
    lines = tuple(hoop_line(hoop, stations, nodes) for hoop in design.hoops)
    placed = Placed(
        lines,
        np.concatenate([[0], np.cumsum([len(line.fractions) for line in lines])]),
        np.concatenate([[0], np.cumsum([len(line.arcs) for line in lines])]),
    )
    drops = drops_of(design)
    zeros = tape_zeros(design)
    connectivity = connect(design, placed)
    levels = first_levels(placed, drops, zeros)
    positions = np.vstack(
        [*(on_circle(line, level) for line, level in zip(lines, levels, strict=True)), zeros]
    )
    return Cage(
        design=design,
        connectivity=connectivity,
        parameters=parameters_of(design, placed, connectivity, positions),
        positions=positions,
        normals=np.vstack([edge_normals(line) for line in lines]),
        form=build_form(design.wearer),
    )


def on_circle(line: HoopLine, level: float) -> Floats:
    """(n, 3) m, the line's nodes on its first circle at one height."""
    turn, radius = 2.0 * np.pi * line.fractions, line.girth / (2.0 * np.pi)
    return np.column_stack([radius * np.sin(turn), -radius * np.cos(turn), np.full(len(turn), level)])


def edge_normals(line: HoopLine) -> Floats:
    """(edges, 3) unit, outward at the middle of each edge of the first circle."""
    ends = np.append(line.fractions, line.fractions[0] + 1.0) if line.closed else line.fractions
    turn = np.pi * (ends[:-1] + ends[1:])
    return np.column_stack([np.sin(turn), -np.cos(turn), np.zeros(len(turn))])


def first_levels(placed: Placed, drops: Floats, zeros: Floats) -> Floats:
    """(H,) m above the floor: as if circles hung level on tapes of the mean drop."""
    radius = float(np.hypot(zeros[:, 0], zeros[:, 1]).mean())
    level = float(zeros[:, 2].mean())
    levels = []
    for line, drop in zip(placed.lines, drops.mean(axis=0), strict=True):
        wider = line.girth / (2.0 * np.pi)
        level -= max(drop**2 - (wider - radius) ** 2, (0.1 * drop) ** 2) ** 0.5
        radius = wider
        levels.append(level)
    return np.array(levels)


def connect(design: Design, placed: Placed) -> Connectivity:
    """What is joined to what, hoop after hoop, the waistband's nodes last."""
    lines, hoops = placed.lines, range(len(placed.lines))
    nodes = tuple(np.arange(placed.first_node[h], placed.first_node[h + 1]) for h in hoops)
    edges = tuple(np.arange(placed.first_edge[h], placed.first_edge[h + 1]) for h in hoops)
    pairs = [edge_pairs(line.closed, own) for line, own in zip(lines, nodes, strict=True)]
    bends = [bend_triples(line.closed, own) for line, own in zip(lines, nodes, strict=True)]
    bend_edges = [bend_pairs(line.closed, own) for line, own in zip(lines, edges, strict=True)]
    crossing = np.array([nodes[h][lines[h].crossing] for h in hoops])
    anchors = placed.first_node[-1] + np.arange(design.tapes.count)
    pulls, names = pull_pairs(design, crossing, anchors)
    return Connectivity(
        node_count=int(anchors[-1]) + 1,
        closed=np.array([line.closed for line in lines]),
        hoop_nodes=nodes,
        hoop_edges=edges,
        edges=np.vstack(pairs),
        edge_hoop=np.repeat(hoops, [len(own) for own in edges]),
        bends=np.vstack(bends),
        bend_edges=np.vstack(bend_edges),
        bend_hoop=np.repeat(hoops, [len(own) for own in bends]),
        crossing=crossing,
        anchors=anchors,
        pulls=pulls,
        pull_names=names,
        node_fraction=np.concatenate([*(line.fractions for line in lines), np.full(len(anchors), np.nan)]),
    )


def edge_pairs(closed: bool, nodes: Ints) -> Ints:
    """(edges, 2) nodes at both ends of each edge of a hoop."""
    pairs = np.column_stack([nodes, np.roll(nodes, -1)])
    return pairs if closed else pairs[:-1]


def bend_triples(closed: bool, nodes: Ints) -> Ints:
    """(bends, 3) node before, at and after; every node of a ring bends, the ends of an open hoop do not."""
    triples = np.column_stack([np.roll(nodes, 1), nodes, np.roll(nodes, -1)])
    return triples if closed else triples[1:-1]


def bend_pairs(closed: bool, edges: Ints) -> Ints:
    """(bends, 2) edge before and after each bend."""
    pairs = np.column_stack([np.roll(edges, 1), edges])
    return pairs if closed else pairs[1:]


def parameters_of(design: Design, placed: Placed, joined: Connectivity, circles: Floats) -> Parameters:
    """The cage's numbers, each from the design's written ones."""
    arcs = np.concatenate([line.arcs for line in placed.lines])
    girths = np.array([line.girth for line in placed.lines])
    radius = np.repeat(girths, [len(line.arcs) for line in placed.lines]) / (2.0 * np.pi)
    easy, stiff, torsion = bend_stiffness(design, placed.lines)
    own, skirt = node_weights(design, placed, joined)
    drops = drops_of(design)
    return Parameters(
        # The chord of the arc: nodes of a true circle then lie on it.
        edge_length=2.0 * radius * np.sin(arcs / (2.0 * radius)),
        arc_length=arcs,
        bend_length=arcs[joined.bend_edges].mean(axis=1),
        easy=easy,
        stiff=stiff,
        torsion=torsion,
        pull_length=np.concatenate([drops.T.ravel(), tie_lengths(design, joined.crossing, circles)]),
        own_weight=own,
        skirt_weight=skirt,
        strip_width=np.repeat(
            [design.steel_of(hoop).width for hoop in range(joined.hoop_count)],
            [len(edges) for edges in joined.hoop_edges],
        ),
    )


def node_weights(design: Design, placed: Placed, joined: Connectivity) -> tuple[Floats, Floats]:
    """(own, skirt), each (N,) N: what hangs on the bare cage, and the skirt."""
    own, skirt = np.zeros(joined.node_count), np.zeros(joined.node_count)
    drops = drops_of(design)
    girths = np.array([line.girth for line in placed.lines])
    masses = skirt_masses(design, girths, drops.mean(axis=0), design.wearer.waist)
    for hoop, line in enumerate(placed.lines):
        nodes, share = joined.hoop_nodes[hoop], shares_at_nodes(line)
        own[nodes] = hoop_weights(design, hoop, line)
        skirt[nodes] = masses[hoop] * GRAVITY * share / share.sum()
    # A tape's weight hangs half at either end of each of its segments; the waistband bears its own half.
    segment_weight = drops.T.ravel() * tape_mass_per_length(design) * GRAVITY
    for end in joined.pulls[: joined.segment_count].T:
        np.add.at(own, end, segment_weight / 2.0)
    own[joined.anchors] = 0.0
    return own, skirt
