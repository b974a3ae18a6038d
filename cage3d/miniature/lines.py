"""The settled cage as centre lines of a miniature, in mm at its scale, floor at z = 0.

The lines only: how thick they are printed is `sections`' affair.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree

from cage3d.design.baskets import hem_hoops, neighbours
from cage3d.mesh.frames import Frames, frames_from_edges, node_frames
from cage3d.mesh.hanging import ribbon_run
from cage3d.mesh.ties import in_parts
from cage3d.miniature.process import Scale
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity
from cage3d.shape.waist import waist_oval, waist_ring

SLACK_DRAWN = 0.1  # mm at scale: less is drawn straight
MOST_SLACK = 0.04  # of the span: a bulge of more folds a bar as thick as a print's back on itself
SLACK_STEPS = 12
WAIST_STEPS = 72


@dataclass(frozen=True)
class Line:
    """One bar to be: its centre line and how its section lies."""

    name: str
    points: Floats  # (n, 3) mm
    frames: Frames


@dataclass(frozen=True)
class TieLine:
    """A tie or a panel's lace between two nodes of the cage."""

    name: str
    nodes: tuple[int, int]  # of the cage's connectivity
    points: Floats  # (n, 3) mm
    hoop: int | None  # both ends lie on this hoop


@dataclass(frozen=True)
class CageLines:
    """A cage at scale; H hoops, T tapes."""

    hoops: tuple[Line, ...]
    tapes: tuple[Line, ...]  # from inside the waistband, or a hoop, to below the lowest hoop that each passes
    ties: tuple[TieLine, ...]
    crossings: Floats  # (H, T, 3) mm, where a tape crosses a hoop; nan where it does not
    anchors: Floats  # (T, 3) mm, on the waistband's lower edge; nan where a tape begins at a hoop
    meeting: Ints  # (M, 3) hoop, lower hoop and tape, where two hoops meet
    neighbours: tuple[tuple[int, int], ...]  # each hoop and the next below it
    hems: tuple[int, ...]  # the lowest hoop, or that of each basket
    waist_lower: Floats  # (WAIST_STEPS, 3) mm, the waistband's lower edge
    waist_depth: float  # mm, height of the waistband


def lines_of(settled: SettledCage, scale: Scale, tail: float) -> CageLines:
    """The centre lines of a settled cage.

    tail: mm a tape goes on below the lowest hoop's centre line.
    """
    cage, size = settled.cage, scale.per_metre
    joined, points = cage.connectivity, settled.positions * size
    crossings = np.where(joined.passed[:, :, None], points[joined.crossing], np.nan)
    anchors = np.where((joined.anchors >= 0)[:, None], points[joined.anchors], np.nan)
    fractions = np.arange(WAIST_STEPS) / WAIST_STEPS
    depth = cage.design.waistband.drawn_depth
    return CageLines(
        hoops=tuple(hoop_line(settled, points, hoop) for hoop in range(joined.hoop_count)),
        tapes=tuple(tape_line(settled, scale, tape, tail) for tape in range(joined.tape_count)),
        ties=tie_lines(settled, scale),
        crossings=crossings,
        anchors=anchors,
        meeting=meetings(joined),
        neighbours=neighbours(cage.design),
        hems=hem_hoops(cage.design),
        waist_lower=waist_ring(cage.design, fractions, depth / 2.0) * size,
        waist_depth=depth * size,
    )


def meetings(joined: Connectivity) -> Ints:
    """(M, 3) hoop, lower hoop and tape, where two hoops meet."""
    rows = [
        (int(np.argwhere(joined.crossing == joined.pulls[row, 0])[0, 0]), *joined.segments[row])
        for row in joined.meeting
        if joined.pulls[row, 0] not in joined.anchors
    ]
    return np.array(rows, dtype=np.intp).reshape(-1, 3)


def hoop_line(settled: SettledCage, points: Floats, hoop: int) -> Line:
    joined = settled.cage.connectivity
    line = points[joined.hoop_nodes[hoop]]
    normals = settled.strip_normals[joined.hoop_edges[hoop]]
    return Line(f"hoop {hoop + 1}", line, frames_from_edges(line, normals, bool(joined.closed[hoop])))


def tape_line(settled: SettledCage, scale: Scale, tape: int, tail: float) -> Line:
    """One tape from the waistband's middle height, or a hoop, down to its tail, slack stretches hanging outward."""
    joined, size = settled.cage.connectivity, scale.per_metre
    points, runs, nodes = settled.positions * size, runs_along(settled, tape), joined.nodes_of(tape)
    above = np.array([0.0, 0.0, settled.cage.design.waistband.drawn_depth * size / 2.0])
    stretches: list[Floats] = []
    along: list[Floats] = []
    if joined.anchors[tape] >= 0:
        stretches, along = [points[nodes[0]][None, :] + above], [runs[:1]]
    drawn = [
        place
        for place, segment in enumerate(joined.rows_of(tape))
        if segment not in joined.meeting  # there the two hoops are one place
    ]
    for place in drawn:
        segment = joined.rows_of(tape)[place]
        outward = np.cross(runs[place + 1], [0.0, 0.0, 1.0])
        spare = float(settled.slack[segment]) * size
        stretch = bulging_run(points[nodes[place]], points[nodes[place + 1]], spare, outward)[:-1]
        share = np.arange(len(stretch))[:, None] / len(stretch)
        stretches.append(stretch)
        along.append((1.0 - share) * runs[place] + share * runs[place + 1])
    last = points[nodes[-1]]
    onward = points[nodes[drawn[-1] + 1]] - points[nodes[drawn[-1]]]
    line = np.vstack([*stretches, last, last + tail * onward / np.linalg.norm(onward)])
    across = np.vstack([*along, runs[-1], runs[-1]])
    # Out of the cage on a tape that hangs, up on one that lies level: square to its run and to the hoop's.
    return Line(
        f"tape {tape + 1}", line, node_frames(line, np.cross(directions_of(line), across), closed=False)
    )


def directions_of(line: Floats) -> Floats:
    """(n, 3) direction of an open line at each of its nodes, the mean of the two edges there."""
    edges = np.diff(line, axis=0)
    edges = edges / np.linalg.norm(edges, axis=1)[:, None]
    return np.asarray(np.vstack([edges[:1], edges]) + np.vstack([edges, edges[-1:]]))


def runs_along(settled: SettledCage, tape: int) -> Floats:
    """(k, 3) unit, level, by the wearer's left: along the band or hoop where it begins, and each hoop it comes to."""
    joined, positions = settled.cage.connectivity, settled.positions
    rows = []
    if joined.anchors[tape] >= 0:
        half_breadth, half_depth = waist_oval(settled.cage.design)
        x, y, _ = positions[joined.anchors[tape]]
        rows.append([-y / half_depth**2, x / half_breadth**2, 0.0])
    for hoop in joined.hoops_of(tape):
        nodes = joined.hoop_nodes[hoop]
        place = int(np.flatnonzero(nodes == joined.crossing[hoop, tape])[0])
        if joined.closed[hoop]:
            before, after = nodes[place - 1], nodes[(place + 1) % len(nodes)]
        else:
            before, after = nodes[max(place - 1, 0)], nodes[min(place + 1, len(nodes) - 1)]
        run = positions[after] - positions[before]
        rows.append([run[0], run[1], 0.0])
    level = np.array(rows)
    return np.asarray(level / np.linalg.norm(level, axis=1)[:, None])


def slack_names(settled: SettledCage) -> tuple[str, ...]:
    """Tape segments and ties so slack that they are drawn with a flatter bulge than their length makes."""
    joined = settled.cage.connectivity
    loose = (settled.slack > MOST_SLACK * settled.pull_spans)[: joined.tie_rows.stop]
    return tuple(joined.pull_names[row] for row in np.flatnonzero(loose))


def bulging_run(upper: Floats, lower: Floats, spare: float, aside: Floats) -> Floats:
    """(n, 3) mm from place to place; `spare` mm longer than straight, bulging `aside`."""
    if spare < SLACK_DRAWN:
        return np.stack([upper, lower])
    span = float(np.linalg.norm(lower - upper))
    return ribbon_run(upper, lower, span + min(spare, MOST_SLACK * span), aside, SLACK_STEPS)


def tie_lines(settled: SettledCage, scale: Scale) -> tuple[TieLine, ...]:
    joined, size = settled.cage.connectivity, scale.per_metre
    points = settled.positions * size
    down = np.array([0.0, 0.0, -1.0])
    ties = []
    for row in joined.tie_rows:
        first, second = (int(node) for node in joined.pulls[row])
        way = settled.state.ways.get(row)
        if way is None:
            line = bulging_run(points[first], points[second], float(settled.slack[row]) * size, down)
        else:  # against her legs
            line = in_parts(way, SLACK_STEPS) * size
        hoops = {hoop_of(settled, node) for node in (first, second)}
        shared = hoops.pop() if len(hoops) == 1 else None
        ties.append(TieLine(joined.pull_names[row], (first, second), line, shared))
    return tuple(ties)


def hoop_of(settled: SettledCage, node: int) -> int | None:
    for hoop, nodes in enumerate(settled.cage.connectivity.hoop_nodes):
        if node in nodes:
            return hoop
    return None


def hoop_gap(lines: CageLines) -> float:
    """mm, least distance between the centre lines of two hoops; infinite for a single hoop."""
    gaps = [np.inf]
    meeting = {(int(upper), int(lower)) for upper, lower, _ in lines.meeting}
    for upper, lower in lines.neighbours:
        if (upper, lower) in meeting:
            gaps.append(gap_of_meeting(lines, upper, lower))
            continue
        distances, _ = cKDTree(lines.hoops[upper].points).query(lines.hoops[lower].points)
        gaps.append(float(np.min(distances)))
    return min(gaps)


def gap_of_meeting(lines: CageLines, upper: int, lower: int) -> float:
    """mm between a hoop and the next at those tapes where they do not meet."""
    met = [int(tape) for one, other, tape in lines.meeting if (one, other) == (upper, lower)]
    apart = np.delete(np.linalg.norm(lines.crossings[upper] - lines.crossings[lower], axis=1), met)
    return float(np.nanmin(apart))


def tape_gap(lines: CageLines) -> float:
    """mm, least distance between the centre lines of two tapes, at the waistband or a hoop."""
    rows = np.vstack([lines.anchors[None], lines.crossings])
    steps = np.linalg.norm(rows[:, :, None] - rows[:, None, :], axis=3)
    steps[:, np.eye(rows.shape[1], dtype=bool)] = np.nan
    return float(np.nanmin(steps))
