"""Everything that pulls and never pushes: tape segments, ties, and the laces of panels."""

from __future__ import annotations

import numpy as np

from cage3d.design import stock
from cage3d.design.models import Design, Panel
from cage3d.design.points import SIDES, parse_point
from cage3d.design.routes import BAND, NOWHERE, above_table
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity
from cage3d.shape.marks import drops_of
from cage3d.shape.weights import GRAVITY


def tape_segments(design: Design, crossing: Ints, anchors: Ints) -> tuple[Ints, Ints]:
    """((S, 2) hoop and tape of every segment, at its lower end; (S, 2) its nodes, from above), hoop after hoop."""
    above = above_table(design)
    segments = [(hoop, tape) for hoop, row in enumerate(above.T) for tape in np.flatnonzero(row != NOWHERE)]
    nodes = [
        (
            anchors[tape] if above[tape, hoop] == BAND else crossing[above[tape, hoop], tape],
            crossing[hoop, tape],
        )
        for hoop, tape in segments
    ]
    return np.array(segments, dtype=np.intp), np.array(nodes, dtype=np.intp)


def meeting(design: Design, segments: Ints) -> Ints:
    """(M,) the segments of no length: there two hoops meet, or a hoop's end is sewn to the waistband."""
    hoops, tapes = segments.T
    return np.flatnonzero(drops_of(design)[tapes, hoops] == 0.0)


def pull_pairs(
    design: Design, tapes: Ints, segments: Ints, crossing: Ints, anchors: Ints
) -> tuple[Ints, tuple[str, ...]]:
    """(P, 2) node pairs and their names: tape segments (S, 2) as they are, then ties, then panel laces."""
    pairs = [tapes]
    names = [f"tape {tape + 1} to hoop {hoop + 1}" for hoop, tape in segments]
    for number, tie in enumerate(design.ties, start=1):
        ends = [node_at(text, crossing, anchors) for text in (tie.from_, tie.to)]
        pairs.append(np.array([ends]))
        names.append(tie.name or f"tie {number}")
    for number, panel in enumerate(design.panels, start=1):
        for hoop in panel.hoops:
            pairs.append(panel_ends(panel, hoop, crossing)[None, :])
            names.append(f"panel {number} hoop {hoop}")
    return np.vstack(pairs).astype(np.intp), tuple(names)


def pull_sides(design: Design, first_tie: int, count: int) -> Floats:
    """(count, 2) unit: out of her, to the side on which a tie is written to run; nan for every other line."""
    sides = np.full((count, 2), np.nan)
    for row, tie in enumerate(design.ties, start=first_tie):
        if tie.runs is not None:
            turn = 2.0 * np.pi * SIDES[tie.runs]
            sides[row] = np.round([np.sin(turn), -np.cos(turn)])
    return sides


def node_at(text: str, crossing: Ints, anchors: Ints) -> int:
    """The node a maker calls 'hoop 3 tape 6' or 'waistband tape 2'."""
    hoop, tape = parse_point(text)
    return int(anchors[tape - 1] if hoop is None else crossing[hoop - 1, tape - 1])


def panel_ends(panel: Panel, hoop: int, crossing: Ints) -> Ints:
    """(2,) nodes a panel's lace joins on one hoop (counted from 1)."""
    return np.array([crossing[hoop - 1, tape - 1] for tape in panel.tapes])


def tie_lengths(design: Design, crossing: Ints, circles: Floats) -> Floats:
    """(P - segments,) m: ties as written, panel laces as written or from the panel's tightness.

    circles: (N, 3) m, nodes on their first circles; a tightness is taken off the straight
    distance between the two tapes there.
    """
    lengths = [tie.length for tie in design.ties]
    for panel in design.panels:
        for place, hoop in enumerate(panel.hoops):
            if panel.widths is not None:
                lengths.append(panel.widths[place])
                continue
            first, second = circles[panel_ends(panel, hoop, crossing)]
            lengths.append(float(np.linalg.norm(second - first)) * (1.0 - (panel.tightness or 0.0)))
    return np.array(lengths, dtype=np.float64)


def pull_gives(design: Design, joined: Connectivity) -> Floats:
    """(P,) strain a newton: of the tapes as written, none of ties and laces."""
    give = np.zeros(len(joined.pulls))
    if design.tapes.stretch is not None:
        share, weight = stock.tape_stretch(design.tapes.stretch)
        give[: joined.segment_count] = share / (weight * GRAVITY)
    return give
