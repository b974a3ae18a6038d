"""What is joined to what: hoop after hoop, the waistband's nodes last."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cage3d.design.models import Design
from cage3d.design.routes import ways
from cage3d.shape.arrays import Ints
from cage3d.shape.cage import Connectivity
from cage3d.shape.cloth_pulls import cloth_pulls
from cage3d.shape.gores import line_places
from cage3d.shape.lines import HoopLine
from cage3d.shape.pulls import meeting, pull_pairs, pull_sides, tape_segments


def connect(design: Design, lines: Sequence[HoopLine]) -> Connectivity:
    """The connectivity of a design's hoops as lines of nodes."""
    nodes = numbered([len(line.fractions) for line in lines])
    edges = numbered([len(line.arcs) for line in lines])
    pairs = [edge_pairs(line.closed, own) for line, own in zip(lines, nodes, strict=True)]
    bends = [bend_triples(line.closed, own) for line, own in zip(lines, nodes, strict=True)]
    bend_edges = [bend_pairs(line.closed, own) for line, own in zip(lines, edges, strict=True)]
    crossing = np.array(
        [np.where(line.crossing < 0, -1, own[line.crossing]) for line, own in zip(lines, nodes, strict=True)]
    )
    on_band = np.array([way.from_band for way in ways(design)])
    between_seams = len(line_places(design)) - design.tapes.count
    fixed = nodes[-1][-1] + 1 + np.arange(int(on_band.sum()) + between_seams)
    anchors = np.where(on_band, nodes[-1][-1] + np.cumsum(on_band), -1)
    segments, tapes = tape_segments(design, crossing, anchors)
    pulls, names = pull_pairs(design, tapes, segments, crossing, anchors)
    cloth = cloth_pulls(design, lines, nodes, fixed)
    pulls, names = np.vstack([pulls, cloth.ends]), (*names, *cloth.names)
    return Connectivity(
        node_count=int(fixed[-1]) + 1,
        closed=np.array([line.closed for line in lines]),
        hoop_nodes=nodes,
        hoop_edges=edges,
        edges=np.vstack(pairs),
        edge_hoop=np.repeat(range(len(lines)), [len(own) for own in edges]),
        bends=np.vstack(bends),
        bend_edges=np.vstack(bend_edges),
        bend_hoop=np.repeat(range(len(lines)), [len(own) for own in bends]),
        crossing=crossing,
        anchors=anchors,
        segments=segments,
        meeting=meeting(design, segments),
        pulls=pulls,
        pull_names=names,
        pull_sides=pull_sides(design, len(segments), len(pulls)),
        node_fraction=np.concatenate([*(line.fractions for line in lines), np.full(len(fixed), np.nan)]),
        cloth_shares=cloth.shares if len(cloth.shares) else np.zeros((0, len(segments))),
    )


def numbered(counts: Sequence[int]) -> tuple[Ints, ...]:
    """Running numbers for groups of so many: (3, 2) gives 0 1 2 and 3 4."""
    ends = np.cumsum(counts)
    return tuple(np.arange(end - count, end) for count, end in zip(counts, ends, strict=True))


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
