"""Each hoop as a line of nodes: where the nodes lie along the steel, and on which first circle.

Every tape crossing is a node. The steel between two crossings is divided evenly.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from cage3d.design.models import Design, Hoop
from cage3d.design.points import OPENS_AT
from cage3d.design.routes import stations_on
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.beside import centre_beside
from cage3d.shape.gores import circle_girth, gap_of, has_steel, line_places, seam_lines

NODES_PER_HOOP = 112
# Cages of few hoops settle so fast that they may be finer: about this many nodes in all, up to MOST a hoop.
NODES_IN_ALL = 448
MOST_NODES_PER_HOOP = 192


@dataclass(frozen=True)
class HoopLine:
    """One hoop before it is placed; n nodes, closed hoops have n edges, open ones n - 1."""

    closed: bool
    fractions: Floats  # (n,) share of the girth from centre front of each node, rising, may pass 1
    arcs: Floats  # (edges,) m of steel along each edge
    girth: float  # m, of the first circle
    crossing: Ints  # (T,) index in this line of the node at each tape; -1 where it does not pass
    at_lines: Ints  # (L,) the same at each line of cloth, -1 where it runs past an opening; else as crossing
    centre: float = 0.0  # m to her left of her axis, of the first circle: of a hoop that stands beside her

    def on_circle(self, level: float) -> Floats:
        """(n, 3) m, the nodes on the first circle at one height."""
        turn, radius = 2.0 * np.pi * self.fractions, self.girth / (2.0 * np.pi)
        across, along = self.centre + radius * np.sin(turn), -radius * np.cos(turn)
        return np.column_stack([across, along, np.full(len(turn), level)])

    def edge_normals(self) -> Floats:
        """(edges, 3) unit, outward at the middle of each edge of the first circle."""
        ends = np.append(self.fractions, self.fractions[0] + 1.0) if self.closed else self.fractions
        turn = np.pi * (ends[:-1] + ends[1:])
        return np.column_stack([np.sin(turn), -np.cos(turn), np.zeros(len(turn))])


def default_resolution(design: Design) -> int:
    """Nodes round a hoop where nobody asks for another number."""
    return max(NODES_PER_HOOP, min(MOST_NODES_PER_HOOP, NODES_IN_ALL // len(design.hoops)))


def hoop_lines(design: Design, nodes_per_hoop: int | None = None) -> tuple[HoopLine, ...]:
    """(H,) the line of nodes of every hoop, from the top; about `nodes_per_hoop` round each."""
    nodes = nodes_per_hoop or default_resolution(design)
    if design.cloth is not None:
        return tuple(line_in_cloth(design, hoop, nodes) for hoop in range(len(design.hoops)))
    lines = [
        hoop_line(hoop, stations, nodes)
        for hoop, stations in zip(design.hoops, stations_on(design), strict=True)
    ]
    return tuple(
        replace(line, centre=centre_beside(design, hoop, line.fractions, line.girth))
        for hoop, line in zip(design.hoops, lines, strict=True)
    )


def hoop_line(hoop: Hoop, stations: Floats, nodes_per_hoop: int) -> HoopLine:
    """The line of nodes of one hoop, closed or open. stations: (T,) on it, nan where a tape does not pass."""
    if hoop.opening == "none":
        return closed_line(hoop.length, stations, nodes_per_hoop)
    return open_line(hoop, stations, nodes_per_hoop)


def in_order(stations: Floats) -> Ints:
    """(n,) the tapes that pass, round from centre front."""
    order = np.argsort(stations, kind="stable")
    return np.asarray(order[: int((~np.isnan(stations)).sum())], dtype=np.intp)


def crossings(tapes: Ints, places: Ints, count: int) -> Ints:
    """(count,) place of each tape along a line, -1 where it does not pass."""
    crossing = np.full(count, -1, dtype=np.intp)
    crossing[tapes] = places
    return crossing


def closed_line(length: float, stations: Floats, nodes_per_hoop: int) -> HoopLine:
    """Nodes round a ring, from its first tape."""
    tapes = in_order(stations)
    around = stations[tapes]
    spans = np.diff(np.append(around, around[0] + 1.0))
    counts = edge_counts(spans, nodes_per_hoop)
    starts = np.concatenate([[0], np.cumsum(counts)])
    fractions = np.concatenate(
        [start + span * np.arange(n) / n for start, span, n in zip(around, spans, counts, strict=True)]
    )
    arcs = np.repeat(spans / counts, counts) * length
    crossing = crossings(tapes, starts[:-1], len(stations))
    return HoopLine(True, fractions, arcs, length, crossing, crossing)


def line_in_cloth(design: Design, hoop: int, nodes_per_hoop: int) -> HoopLine:
    """The line of nodes of one hoop in a petticoat of gores: a node where every line of cloth meets its steel."""
    places, girth = line_places(design), circle_girth(design, hoop)
    if design.hoops[hoop].opening == "none":
        ring = closed_line(girth, places, nodes_per_hoop)
        return replace(ring, crossing=ring.crossing[seam_lines(design)])
    centre = 0.0 if design.hoops[hoop].opening == "front" else 0.5
    ahead = np.mod(places - centre, 1.0)  # from the middle of the opening
    met = np.flatnonzero(has_steel(design, hoop, places))
    met = met[np.argsort(ahead[met])]
    half = gap_of(design, hoop) / girth / 2.0
    along = centre + np.concatenate([[half], ahead[met], [1.0 - half]])
    spans = np.diff(along)
    counts = edge_counts(spans, nodes_per_hoop)
    inner = [start + span * np.arange(n) / n for start, span, n in zip(along, spans, counts, strict=False)]
    arcs = np.repeat(spans / counts, counts) * girth
    at_lines = np.full(len(places), -1)
    at_lines[met] = np.cumsum(counts)[:-1]
    fractions = np.concatenate([*inner, along[-1:]])
    return HoopLine(False, fractions, arcs, girth, at_lines[seam_lines(design)], at_lines)


def open_line(hoop: Hoop, stations: Floats, nodes_per_hoop: int) -> HoopLine:
    """Nodes from one end to the other by the wearer's left; the ends pass their last casings by the overhang.

    The steel between the end casings is shared in the same proportions as the girth.
    """
    tapes = in_order(stations)
    first = int(np.searchsorted(stations[tapes], OPENS_AT[hoop.opening]))
    order = np.roll(tapes, -first)
    along = np.where(stations[order] < stations[order[0]], stations[order] + 1.0, stations[order])
    spans = np.diff(along)
    girth = (hoop.length - 2.0 * hoop.stands_out) / float(spans.sum())
    counts = edge_counts(spans, nodes_per_hoop)
    inner = [a + span * np.arange(n) / n for a, span, n in zip(along, spans, counts, strict=False)]
    fractions = np.concatenate([*inner, along[-1:]])
    arcs = np.repeat(spans / counts, counts) * girth
    starts = np.concatenate([[0], np.cumsum(counts)])
    if hoop.stands_out > 0.0:
        over = hoop.stands_out / girth
        fractions = np.concatenate([[along[0] - over], fractions, [along[-1] + over]])
        arcs = np.concatenate([[hoop.stands_out], arcs, [hoop.stands_out]])
        starts = starts + 1
    crossing = crossings(order, starts, len(stations))
    return HoopLine(False, fractions, arcs, girth, crossing, crossing)


def edge_counts(spans: Floats, nodes_per_hoop: int) -> Ints:
    """How many edges each free stretch of steel gets: at least two, about nodes_per_hoop round."""
    return np.maximum(np.ceil(spans * nodes_per_hoop - 1e-9), 2).astype(np.intp)
