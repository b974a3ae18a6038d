"""The nodes of the hem: of the lowest hoop, or of the lowest of each basket where these stand beside her."""

from __future__ import annotations

import numpy as np

from cage3d.design.baskets import hem_hoops, hem_under
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Cage, Connectivity
from cage3d.steady import first_least

FRONT_FIRST = 1e-6  # more than the noise of `steady`, and far less than from node to node


def hem_nodes(cage: Cage) -> Ints:
    """(n,) hoop after hoop."""
    return np.concatenate([cage.connectivity.hoop_nodes[hoop] for hoop in hem_hoops(cage.design)])


def hem_quarters(cage: Cage, hoop: int, tape: int) -> list[int]:
    """The nodes at front, left, back and right of that hoop of the hem which hangs under a mark (both from 0)."""
    sides = [one.beside for one in cage.design.hoops]
    under = hem_under(sides, hoop, cage.connectivity.hoops_of(tape).tolist())
    return quarter_nodes(cage.connectivity, under, cage.design.hoops[under].beside is not None)


def quarter_nodes(joined: Connectivity, hoop: int = -1, front_first: bool = False) -> list[int]:
    """A hoop's nodes at front, left, back and right; front_first: of two as near to one side that farther to the front,
    as both ends of a bow beside her are to its open side.
    """
    nodes = joined.hoop_nodes[hoop]
    around = joined.node_fraction[nodes]
    forward = FRONT_FIRST * np.abs(short_way(around)) if front_first else 0.0
    return [
        int(nodes[first_least(np.abs(short_way(around - place)) + forward)])
        for place in (0.0, 0.25, 0.5, 0.75)
    ]


def short_way(turn: Floats) -> Floats:
    """(n,) of a turn, from -1/2 to 1/2."""
    return np.asarray(np.mod(turn + 0.5, 1.0) - 0.5)
