"""The cage as data: what is joined to what, the numbers the maker can change, and a first shape.

Connectivity, parameters and state are kept apart, so that fitting, tolerances and
the live page change parameters and settle again with the solver untouched.

Axes: x to the wearer's left, y to her back, z up; origin on the floor under the
waist centre. Tapes are counted from centre front round by the wearer's left; hoops
from the top. Indices start at 0 here, and at 1 wherever a maker reads them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from cage3d.design.models import Design
from cage3d.shape.arrays import Bools, Floats, Ints
from cage3d.shape.cloth import Cloth
from cage3d.shape.form import Form
from cage3d.shape.in_short import InShort
from cage3d.shape.marks import CasingMarks
from cage3d.shape.steels import HoopSteel


@dataclass(frozen=True, repr=False)
class Connectivity(InShort):
    """What is joined to what; H hoops, T tapes, N nodes, E edges, B bends, P pulls."""

    node_count: int
    closed: Bools  # (H,) the hoop is a ring
    hoop_nodes: tuple[Ints, ...]  # H x (n,) node indices along each hoop, by the wearer's left, each once
    hoop_edges: tuple[Ints, ...]  # H x (n,) or (n-1,) edge indices along each hoop
    edges: Ints  # (E, 2) nodes at the start and end of an edge
    edge_hoop: Ints  # (E,)
    bends: Ints  # (B, 3) node before, at and after
    bend_edges: Ints  # (B, 2) edge before and after
    bend_hoop: Ints  # (B,)
    crossing: Ints  # (H, T) node where a tape crosses a hoop, -1 where it does not pass it
    anchors: Ints  # (T,) fixed node of each tape on the waistband's lower edge, -1 where it begins at a hoop; those of
    # cloth between seams follow
    segments: Ints  # (S, 2) hoop and tape of each tape segment, at its lower end, hoop after hoop
    meeting: Ints  # (M,) segments of no length: there two hoops meet, or a hoop's end is sewn to the band
    sewn: (
        Ints  # (K, 2) place on the waistband where a hoop's end is sewn, and the hoop's node next to that end
    )
    sewn_edges: Ints  # (K,) the edge between
    sewn_bends: Ints  # (K,) the bend at that node
    sewn_ways: Floats  # (K, 3) unit, from end to that node, along the band
    sewn_turns: Floats  # (K,) 1 where the way leads by her left, else -1
    pulls: (
        Ints  # (P, 2) node pairs that pull and never push: the tape segments, then ties and laces, then cloth
    )
    pull_names: tuple[str, ...]  # P: "tape 3 to hoop 2", "tie 1", "panel 1 hoop 2"
    pull_sides: (
        Floats  # (P, 2) unit, x and y: out of her, on the side on which a line must pass her; nan for any
    )
    node_fraction: (
        Floats  # (N,) a hoop node's place as a fraction of the girth from centre front; nan at anchors
    )
    cloth_shares: (
        Floats  # (C, S) how far each pull of cloth, the last of the rows, grows with each tape segment
    )

    @property
    def hoop_count(self) -> int:
        return len(self.hoop_nodes)

    @property
    def tape_count(self) -> int:
        return len(self.anchors)

    @property
    def segment_count(self) -> int:
        """Tape segments; pulls from here on are ties and panel laces."""
        return len(self.segments)

    @cached_property
    def on_band(self) -> Ints:
        """The fixed nodes of those tapes that begin at the waistband; they come last."""
        return self.anchors[self.anchors >= 0]

    @cached_property
    def passed(self) -> Bools:
        """(H, T) whether a tape passes a hoop."""
        return np.asarray(self.crossing >= 0)

    @cached_property
    def casings(self) -> Ints:
        """(C, 2) hoop and tape of every casing, hoop after hoop."""
        return np.argwhere(self.passed)

    @cached_property
    def segment_row(self) -> Ints:
        """(H, T) the tape segment above each casing, -1 where none comes to it."""
        rows = np.full(self.crossing.shape, -1, dtype=np.intp)
        rows[tuple(self.segments.T)] = np.arange(self.segment_count)
        return rows

    @cached_property
    def ends(self) -> Ints:
        """(T,) the node at which each tape ends, on its lowest hoop."""
        return np.array([self.crossing[self.hoops_of(tape)[-1], tape] for tape in range(self.tape_count)])

    def hoops_of(self, tape: int) -> Ints:
        """The hoops that a tape passes, from the top."""
        return np.flatnonzero(self.passed[:, tape])

    def tapes_of(self, hoop: int) -> Ints:
        """The tapes that pass a hoop, in their order."""
        return np.flatnonzero(self.passed[hoop])

    def rows_of(self, tape: int) -> Ints:
        """The segments of a tape, from the top."""
        return np.flatnonzero(self.segments[:, 1] == tape)

    def nodes_of(self, tape: int) -> Ints:
        """The nodes of a tape, from where it begins to its lowest hoop."""
        rows = self.rows_of(tape)
        return np.append(self.pulls[rows[0], 0], self.pulls[rows, 1])

    @property
    def tie_rows(self) -> range:
        """Rows of ties and panel laces among the pulls."""
        return range(self.segment_count, len(self.pulls) - len(self.cloth_shares))

    @property
    def free_nodes(self) -> int:
        """Nodes of hoops; those fixed to the waistband follow."""
        return int(self.anchors[self.anchors >= 0][0])

    def with_segments(self, changes: Floats) -> Floats:
        """(P, K) changes of all pulls, of those (S, K) of tape segments: the cloth between seams follows these."""
        ties = np.zeros((len(self.tie_rows), changes.shape[1]))
        return np.vstack([changes, ties, self.cloth_shares @ changes])


@dataclass(frozen=True, repr=False)
class Parameters(InShort):
    """The numbers a maker can change without changing what is joined to what."""

    edge_length: Floats  # (E,) m, straight length of an edge: the chord of its arc in the first circle
    arc_length: Floats  # (E,) m, steel along an edge
    bend_length: Floats  # (B,) m, steel that belongs to a bend
    easy: Floats  # (B,) N m2, bending about the strip's width (E b t^3/12)
    stiff: Floats  # (B,) N m2, bending about its thickness (E t b^3/12)
    torsion: Floats  # (B,) N m2
    set_curvature: (
        Floats  # (B,) 1/m the easy way, in which the steel lies free; positive with its curve round her
    )
    pull_length: Floats  # (P,) m, at rest
    pull_give: Floats  # (P,) strain a newton; 0 where it does not stretch
    own_weight: Floats  # (N,) N, steel, coating, joins, tapes, what a hoop carries
    skirt_weight: Floats  # (N,) N, the skirt at its full weight
    cloth_weight: Floats  # (R,) N, each line of cloth of the skirts that slide, at its full weight
    cloth_length: Floats  # (R,) m, each of these from the waistband to the cloth's edge
    strip_width: Floats  # (E,) m, by which turns of the strip are weighed against moves
    stand_off: (
        Floats  # (N,) m, how far the steel's middle keeps off the wearer: half its thickness, and a tape
    )

    @property
    def skirt_hangs(self) -> bool:
        """Whether there is any skirt on it, that lies or slides."""
        return bool(np.any(self.skirt_weight) or np.any(self.cloth_weight))


@dataclass(frozen=True, repr=False)
class Cage(InShort):
    """A laid out cage: level circles at their marks, not yet in equilibrium."""

    design: Design
    connectivity: Connectivity
    parameters: Parameters
    positions: Floats  # (N, 3) m, first shape
    normals: Floats  # (E, 3) unit, across the strip's thickness, outward
    form: Form | None  # the wearer below the waist, where measured
    stations: Floats  # (T,) each tape's place as a share of the girth from centre front by the wearer's left
    steels: tuple[HoopSteel, ...]  # H: section, cut and join of every hoop
    marks: CasingMarks  # where every casing is stitched
    nodes_per_hoop: int  # about how many round each, as it was laid out
    cloths: tuple[Cloth, ...] = ()  # of the skirts that slide

    def with_parameters(self, **changes: Floats) -> Cage:
        """The same cage with other numbers: same connectivity, same first shape."""
        return replace(self, parameters=replace(self.parameters, **changes))

    def without_skirt(self) -> Cage:
        """The same cage with every skirt of no weight."""
        numbers = self.parameters
        return self.with_parameters(
            skirt_weight=np.zeros_like(numbers.skirt_weight), cloth_weight=np.zeros_like(numbers.cloth_weight)
        )
