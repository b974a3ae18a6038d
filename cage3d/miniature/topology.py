"""How many openings a miniature must have: counted on what is joined to what, not on the mesh.

A bar that branches and closes is, for a topologist, a graph; the surface of its thickened
body has as many handles (its genus) as the graph has independent loops: edges - nodes + bodies.
The Euler number of the surface is then 2 - 2 genus for each body.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field

BarEnd = tuple[str, int, int]  # kind and two numbers; ("hoop", h, t) is a crossing


@dataclass
class Plan:
    """Which bars are to be printed, each between the nodes where it is joined to others."""

    edges: list[tuple[BarEnd, BarEnd, str]] = field(default_factory=list)  # both ends, and the bar's name

    def add(self, name: str, places: Sequence[BarEnd], closed: bool = False) -> None:
        """A bar through these nodes; closed: back to the first."""
        onward = [*places[1:], places[0]] if closed else list(places[1:])
        for start, end in zip(places, onward, strict=False):
            self.edges.append((start, end, name))

    def bodies(self) -> list[Body]:
        """The separate bodies these bars make, in the order in which their bars were added."""
        parent: dict[BarEnd, BarEnd] = {}

        def root(node: BarEnd) -> BarEnd:
            parent.setdefault(node, node)
            while parent[node] != node:
                node = parent[node]
            return node

        for start, end, _ in self.edges:
            parent[root(end)] = root(start)
        members: dict[BarEnd, list[tuple[BarEnd, BarEnd, str]]] = defaultdict(list)
        for edge in self.edges:
            members[root(edge[0])].append(edge)
        return [body(edges) for edges in members.values()]


@dataclass(frozen=True)
class Body:
    """One body: its bars, and the openings it must have."""

    bars: tuple[str, ...]
    genus: int


def body(edges: list[tuple[BarEnd, BarEnd, str]]) -> Body:
    nodes = {node for start, end, _ in edges for node in (start, end)}
    return Body(tuple(dict.fromkeys(name for _, _, name in edges)), len(edges) - len(nodes) + 1)
