"""What is joined to what: hoop after hoop, the waistband's nodes last."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cage3d.design.models import Design
from cage3d.design.points import station_fractions
from cage3d.design.routes import ways
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity
from cage3d.shape.cloth_pulls import cloth_pulls
from cage3d.shape.gores import line_places
from cage3d.shape.lines import HoopLine
from cage3d.shape.marks import drops_of
from cage3d.shape.pulls import meeting, pull_pairs, pull_sides, tape_segments
from cage3d.shape.waist import along_the_band


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
    sewn, sewn_edges, sewn_ways, turns = sewn_ends(design, nodes, edges, crossing, anchors)
    bent = np.vstack(bends)[:, 1]
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
        sewn=sewn,
        sewn_edges=sewn_edges,
        sewn_bends=np.searchsorted(bent, sewn[:, 1]),
        sewn_ways=sewn_ways,
        sewn_turns=turns,
        pulls=pulls,
        pull_names=names,
        pull_sides=pull_sides(design, len(segments), len(pulls)),
        node_fraction=np.concatenate([*(line.fractions for line in lines), np.full(len(fixed), np.nan)]),
        cloth_shares=cloth.shares if len(cloth.shares) else np.zeros((0, len(segments))),
    )


def sewn_ends(
    design: Design, nodes: Sequence[Ints], edges: Sequence[Ints], crossing: Ints, anchors: Ints
) -> tuple[Ints, Ints, Floats, Floats]:
    """((K, 2) place on the band and node next to it, (K,) edge, (K, 3) unit way, (K,) 1 by her left, else -1).

    Of all ends that are sewn to the waistband.
    """
    drops, stations = drops_of(design), station_fractions(design.tapes)
    pairs, between, ways_out, turns = [], [], [], []
    for hoop, (own, steel) in enumerate(zip(nodes, edges, strict=True)):
        if design.hoops[hoop].ends != "sewn":
            continue
        for end, beside, edge, sign in ((own[0], own[1], steel[0], 1.0), (own[-1], own[-2], steel[-1], -1.0)):
            tape = int(np.flatnonzero(crossing[hoop] == end)[0])
            if anchors[tape] >= 0 and drops[tape, hoop] == 0.0:
                pairs.append((anchors[tape], beside))
                between.append(edge)
                ways_out.append(sign * along_the_band(design, float(stations[tape])))
                turns.append(sign)
    return (
        np.array(pairs, dtype=np.intp).reshape(-1, 2),
        np.array(between, dtype=np.intp),
        np.array(ways_out).reshape(-1, 3),
        np.array(turns),
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
