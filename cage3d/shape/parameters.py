"""The cage's numbers, each from the design's written ones."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cage3d.design import trade
from cage3d.design.baskets import has_baskets
from cage3d.design.models import Design
from cage3d.design.points import station_fractions
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Connectivity, Parameters
from cage3d.shape.cloth_lines import cloths_of
from cage3d.shape.cloth_pulls import cloth_lengths
from cage3d.shape.gores import mass_round
from cage3d.shape.joining import connect
from cage3d.shape.lines import HoopLine, hoop_lines
from cage3d.shape.marks import drops_of, mean_drops
from cage3d.shape.pulls import pull_gives, tie_lengths
from cage3d.shape.skirts import skirt_weights
from cage3d.shape.skirts_beside import weights_beside
from cage3d.shape.steels import HoopSteel, steels_of
from cage3d.shape.strip import bend_stiffness
from cage3d.shape.weights import GRAVITY, hoop_weights, shares_at_nodes, tape_mass_per_length


def parameters_of(design: Design, nodes_per_hoop: int | None = None) -> Parameters:
    """The numbers of a design without its first shape: what changes when a number of the design does.

    nodes_per_hoop: as in `lay_out`. A design that differs in numbers alone (no other tapes, hoops, ties,
    panels or openings) gives arrays that fit the same connectivity.
    """
    lines = hoop_lines(design, nodes_per_hoop)
    return numbers_of(design, lines, connect(design, lines), steels_of(design))


def numbers_of(
    design: Design, lines: Sequence[HoopLine], joined: Connectivity, steels: Sequence[HoopSteel]
) -> Parameters:
    """The numbers, from the laid out pieces."""
    arcs = np.concatenate([line.arcs for line in lines])
    radius = np.repeat([line.girth for line in lines], [len(line.arcs) for line in lines]) / (2.0 * np.pi)
    easy, stiff, torsion = bend_stiffness(steels, lines)
    own, skirt = node_weights(design, lines, joined, steels)
    cloths = cloths_of(design, lines, joined)
    circles = np.vstack([line.on_circle(0.0) for line in lines])
    segments = segment_lengths(design, joined)
    return Parameters(
        # The chord of the arc: nodes of a true circle then lie on it.
        edge_length=2.0 * radius * np.sin(arcs / (2.0 * radius)),
        arc_length=arcs,
        bend_length=arcs[joined.bend_edges].mean(axis=1),
        easy=easy,
        stiff=stiff,
        torsion=torsion,
        set_curvature=np.array([steel.section.set_curvature for steel in steels])[joined.bend_hoop],
        pull_length=np.concatenate(
            [
                segments,
                tie_lengths(design, joined.crossing, circles),
                cloth_lengths(design, joined.cloth_shares, segments),
            ]
        ),
        pull_give=pull_gives(design, joined),
        own_weight=own,
        skirt_weight=skirt,
        cloth_weight=np.concatenate([np.zeros(0), *(weights for _, weights, _ in cloths)]),
        cloth_length=np.concatenate([np.zeros(0), *(lengths for _, _, lengths in cloths)]),
        strip_width=np.repeat(
            [steel.section.width for steel in steels], [len(edges) for edges in joined.hoop_edges]
        ),
        stand_off=stand_offs(joined, steels),
    )


def segment_lengths(design: Design, joined: Connectivity) -> Floats:
    """(S,) m of tape at rest in every segment."""
    hoops, tapes = joined.segments.T
    return np.asarray(drops_of(design)[tapes, hoops])


def stand_offs(joined: Connectivity, steels: Sequence[HoopSteel]) -> Floats:
    """(N,) m: half the steel's thickness with its coating, and the tape that lies between it and her."""
    offs = np.zeros(joined.node_count)
    for nodes, steel in zip(joined.hoop_nodes, steels, strict=True):
        offs[nodes] = steel.section.covered[0] / 2.0 + trade.RIBBON_THICKNESS
    return offs


def node_weights(
    design: Design, lines: Sequence[HoopLine], joined: Connectivity, steels: Sequence[HoopSteel]
) -> tuple[Floats, Floats]:
    """(own, skirt), each (N,) N: what hangs on the bare cage, and the skirt."""
    own, skirt = np.zeros(joined.node_count), np.zeros(joined.node_count)
    drops = mean_drops(design)
    for hoop, line in enumerate(lines):
        own[joined.hoop_nodes[hoop]] = hoop_weights(steels[hoop], design.hoops[hoop].carries, line)
        if design.cloth is not None:
            own[joined.hoop_nodes[hoop]] += gore_weights(design, hoop, line)
    stations = station_fractions(design.tapes)
    for one in design.skirts:
        if one.slides:
            continue
        if has_baskets(design):
            on_hoops = weights_beside(design, one, lines, drops)
        else:
            on_hoops = skirt_weights(one, lines, drops, stations, design.wearer.waist)
        for nodes, weights in zip(joined.hoop_nodes, on_hoops, strict=True):
            skirt[nodes] += weights
    # A tape's weight hangs half at either end of each of its segments; the waistband bears its own half.
    segment_weight = segment_lengths(design, joined) * tape_mass_per_length(design) * GRAVITY
    for end in joined.pulls[: joined.segment_count].T:
        np.add.at(own, end, segment_weight / 2.0)
    own[joined.on_band] = 0.0
    return own, skirt


def gore_weights(design: Design, hoop: int, line: HoopLine) -> Floats:
    """(n,) N of a petticoat's cloth on the nodes of one hoop; that of an opening on all of its steel."""
    share = shares_at_nodes(line)
    return np.asarray(mass_round(design, hoop, line.fractions) * GRAVITY * share / share.sum())
