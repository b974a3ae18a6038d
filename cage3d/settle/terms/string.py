"""Strings about the wearer: their pieces, and how deep their nodes are in her."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np

from cage3d.settle.contact import FormGap
from cage3d.shape.arrays import Bools, Floats, Ints

PIECE = 0.008  # m, about how long a string's pieces are; the length is short by (piece / radius)^2 / 24 of what touches
FEWEST, MOST = 8, 96  # pieces
FAR_OUT = 1.5  # m, surely outside of her
CLEAR = 1.0  # m, gap of a node beside which there is nobody


class Division(NamedTuple):
    """How strings are divided."""

    counts: Ints  # (S,) inner nodes
    of_node: Ints  # (n,) string of every node
    first: Ints  # (S,) first node of every string
    last: Ints  # (S,)
    shares: Floats  # (n,) place of every node along its string, 0 to 1
    pieces: Floats  # (n,) of its string


@lru_cache(maxsize=64)
def divided(pieces: bytes) -> Division:
    """Of strings of so many pieces (S,), written as bytes; kept, since the same ones are looked for at every trial."""
    each = np.frombuffer(pieces, dtype=np.intp)
    counts = each - 1
    of_node = np.repeat(np.arange(len(each)), counts)
    first = np.concatenate([[0], np.cumsum(counts)])[:-1].astype(np.intp)
    place = np.arange(counts.sum()) - np.repeat(first, counts) + 1
    of_its_string = each[of_node].astype(np.float64)
    return Division(counts, of_node, first, np.cumsum(counts) - 1, place / of_its_string, of_its_string)


@dataclass(frozen=True)
class Strings:
    """S strings side by side: their inner nodes, n in all, one string after the other."""

    pieces: Ints  # (S,)
    ends: Floats  # (S, 2, 3) m
    level: Floats  # (S,) gap that the nodes must keep; under nothing where the string's end lies inside
    off: float  # m, half a string's thickness

    @cached_property
    def division(self) -> Division:
        return divided(self.pieces.tobytes())

    @property
    def counts(self) -> Ints:
        """(S,) inner nodes."""
        return self.division.counts

    @property
    def of_node(self) -> Ints:
        """(n,) string of every node."""
        return self.division.of_node

    @property
    def first(self) -> Ints:
        """(S,) first node of every string."""
        return self.division.first

    @property
    def last(self) -> Ints:
        return self.division.last

    @property
    def shares(self) -> Floats:
        """(n,) place of every node along its string, 0 to 1."""
        return self.division.shares

    def straight(self) -> Floats:
        """(n, 3) m, every node on the straight line."""
        start, end = self.ends[:, 0], self.ends[:, 1]
        return np.asarray(start[self.of_node] + self.shares[:, None] * (end - start)[self.of_node])

    def are(self, other: Strings) -> bool:
        """Whether they are as long as others, between the same ends."""
        return np.array_equal(self.pieces, other.pieces) and np.array_equal(self.ends, other.ends)

    def chosen(self, some: Bools) -> Strings:
        """Some of the strings (S,)."""
        return Strings(self.pieces[some], self.ends[some], self.level[some], self.off)


def pieces_of(lengths: Floats) -> Ints:
    """(S,) pieces for strings of these lengths (m)."""
    return np.clip(np.ceil(lengths / PIECE), FEWEST, MOST).astype(np.intp)


def depths(gap: FormGap, strings: Strings, nodes: Floats) -> Floats:
    """(n,) about metres by which nodes are inside; large and negative where they are far from her."""
    found = np.full(len(nodes), -CLEAR)
    near = gap.near(nodes)
    found[near] = strings.level[strings.of_node[near]] - gap.gaps(nodes[near], strings.off)
    return found


def meeting(gap: FormGap, strings: Strings) -> Bools:
    """(S,) whether the straight line of each string meets her."""
    met = np.zeros(len(strings.pieces), dtype=bool)
    met[strings.of_node[depths(gap, strings, strings.straight()) > 0.0]] = True
    return met


def pushed_out(gap: FormGap, strings: Strings, sides: Floats) -> Floats:
    """(n, 3) m, a first shape: straight, nodes inside her moved out along their string's side (S, 3)."""
    return moved_out(gap, strings, strings.straight(), sides[strings.of_node])


def round_the_side(gap: FormGap, strings: Strings, sides: Floats) -> Floats:
    """(n, 3) m, a first shape that passes her on the sides (S, 2) unit: turning evenly, clear of her all along."""
    flat = strings.ends[:, :, :2]
    start, end, side = (np.arctan2(each[:, 1], each[:, 0]) for each in (flat[:, 0], flat[:, 1], sides))
    onward = np.mod(end - start, 2.0 * np.pi)
    turns = np.where(np.mod(side - start, 2.0 * np.pi) <= onward, onward, onward - 2.0 * np.pi)
    nodes, of_node = strings.straight(), strings.of_node
    away = np.linalg.norm(flat, axis=2)
    away = away[of_node, 0] + strings.shares * (away[:, 1] - away[:, 0])[of_node]
    turned = start[of_node] + strings.shares * turns[of_node]
    out = np.column_stack([np.cos(turned), np.sin(turned), np.zeros(len(turned))])
    nodes[:, :2] = away[:, None] * out[:, :2]
    return moved_out(gap, strings, nodes, out)


def moved_out(gap: FormGap, strings: Strings, nodes: Floats, out: Floats) -> Floats:
    """(n, 3) m, nodes inside her moved along their own way out (n, 3)."""
    inside = np.flatnonzero(depths(gap, strings, nodes) > 0.0)
    along, level = out[inside], strings.level[strings.of_node[inside]]
    low, high = np.zeros(len(inside)), np.full(len(inside), FAR_OUT)
    for _ in range(24):  # 0.1 micrometre; where she ends above or below, her end's section is as good a start
        middle = (low + high) / 2.0
        still = gap.gaps(nodes[inside] + middle[:, None] * along, strings.off) < level
        low, high = np.where(still, middle, low), np.where(still, high, middle)
    nodes[inside] += high[:, None] * along
    return nodes
