"""Cages that are alike to her left and right: what one side's error does, the other side's does mirrored."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cage3d.design.models.wearer import WaistHeights
from cage3d.design.routes import is_plain
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Cage
from cage3d.shape.cloth_pulls import fixed_places

SAME = 1e-9  # shares of a girth, m and N
Pull = tuple[
    frozenset[int], float, tuple[float, ...]
]  # its ends, its length, the side on which it passes her


@dataclass(frozen=True)
class Mirror:
    """To which each is mirrored."""

    tapes: Ints  # (T,)
    pulls: Ints  # (P,) of tapes, ties and laces; not of cloth between seams

    def figures(self, hoops: int) -> Ints:
        """(Q,) of the figures of `Hanging`: widths stay."""
        return np.concatenate([self.segments(hoops), np.arange(2 * hoops) + hoops * len(self.tapes)])

    def segments(self, hoops: int) -> Ints:
        """(S,) of the tape segments, hoop after hoop."""
        return np.concatenate([hoop * len(self.tapes) + self.tapes for hoop in range(hoops)])

    def causes(self, hoops: int) -> Ints:
        """(K,) of `causes_of`."""
        marks, first_tie = self.segments(hoops), hoops * len(self.tapes)
        drops = first_tie + marks[: first_tie - len(self.tapes)]
        rings = 2 * first_tie - len(self.tapes) + np.arange(hoops)
        ties = rings[-1] + 1 + self.pulls[first_tie:] - first_tie
        return np.concatenate([marks, drops, rings, ties])


def mirror_of(cage: Cage) -> Mirror | None:
    """None where the cage is not alike to her left and right, or not every tape passes every hoop."""
    design = cage.design
    heights = design.wearer.waist_height
    if not is_plain(design) or len(cage.connectivity.meeting):
        return None
    lopsided = isinstance(heights, WaistHeights) and heights.left != heights.right
    if lopsided or cage.cloths or any(pad.place in ("left", "right") for pad in design.padding):
        return None
    nodes = mirrored_nodes(cage)
    if nodes is None or not weighs_alike(cage, nodes):
        return None
    pulls = mirrored_pulls(cage, nodes)
    if pulls is None:
        return None
    first = cage.connectivity.crossing[0]
    tapes = [int(np.flatnonzero(first == nodes[node])[0]) for node in first]
    return Mirror(np.array(tapes, dtype=np.intp), pulls[: cage.connectivity.tie_rows.stop])


def mirrored_nodes(cage: Cage) -> Ints | None:
    """(N,) the node that each is mirrored to, the waistband's included; None where one has no other."""
    joined = cage.connectivity
    nodes = np.full(joined.node_count, -1, dtype=np.intp)
    for own in joined.hoop_nodes:
        apart = off_the_other(np.mod(joined.node_fraction[own], 1.0))
        nearest = apart.argmin(axis=1)
        if apart[np.arange(len(own)), nearest].max() > SAME:
            return None
        nodes[own] = own[nearest]
    tapes = nodes[joined.crossing]
    if not all(set(row) == set(own) for row, own in zip(tapes, joined.crossing, strict=True)):
        return None
    order = [int(np.flatnonzero(joined.crossing[0] == node)[0]) for node in tapes[0]]
    if not np.array_equal(joined.crossing[:, order], tapes):
        return None
    nodes[joined.anchors] = joined.anchors[order]
    between = np.arange(joined.anchors[-1] + 1, joined.node_count)  # cloth between seams
    if len(between):
        apart = off_the_other(fixed_places(cage.design)[len(joined.anchors) :])
        nearest = apart.argmin(axis=1)
        if apart[np.arange(len(apart)), nearest].max() > SAME:
            return None
        nodes[between] = between[nearest]
    return nodes


def off_the_other(places: Floats) -> Floats:
    """(n, n) by which share of the girth each place, mirrored, is off each."""
    return np.asarray(np.abs(np.mod(-places[:, None] - places[None, :] + 0.5, 1.0) - 0.5))


def weighs_alike(cage: Cage, nodes: Ints) -> bool:
    numbers = cage.parameters
    return all(
        np.allclose(own[nodes], own, rtol=0.0, atol=SAME)
        for own in (numbers.own_weight, numbers.skirt_weight)
    )


def mirrored_pulls(cage: Cage, nodes: Ints) -> Ints | None:
    """(P,) the pull that each is mirrored to; None where one has no other."""
    joined, lengths = cage.connectivity, cage.parameters.pull_length
    here = told(joined.pulls, lengths, joined.pull_sides)
    there = told(nodes[joined.pulls], lengths, joined.pull_sides * np.array([-1.0, 1.0]))
    rows = {pull: row for row, pull in enumerate(here)}
    if len(rows) < len(here) or any(pull not in rows for pull in there):
        return None
    return np.array([rows[pull] for pull in there], dtype=np.intp)


def told(pairs: Ints, lengths: Floats, sides: Floats) -> Sequence[Pull]:
    clear = np.nan_to_num(sides, nan=9.0) + 0.0
    return [
        (frozenset(pair), round(length, 9), tuple(side))
        for pair, length, side in zip(pairs.tolist(), lengths.tolist(), clear.tolist(), strict=True)
    ]
