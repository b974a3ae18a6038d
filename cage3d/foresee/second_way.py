"""Does the cage hang in more than one way? Settle it again from quite another start and compare."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from cage3d.settle.settling import settle
from cage3d.settle.state import SettledCage
from cage3d.shape.places import node_in_words
from cage3d.steady import first_largest, fixed

# The other start: hoops pressed flat from front and back, spread sideways, and lifted askew, as a
# cage is when it is pulled out of a hamper.
SQUEEZE = np.array([1.20, 0.80, 1.0])
LIFT = 0.05  # m at the front, nothing at the back
SAME = 1e-3  # m, closer than this is the same way of hanging


def second_way(settled: SettledCage) -> str:
    """What another start ends in, in words; empty where it is the same rest.

    A second way does not make the first one wrong: the first is reached by hanging the skirt on
    the level cage, and a maker can get the second by handling it.
    """
    cage = settled.cage
    start = cage.positions.copy()
    hoops = np.arange(len(start)) < cage.connectivity.free_nodes
    start[hoops] *= SQUEEZE
    start[hoops, 2] += LIFT * (0.5 - 0.5 * start[hoops, 1] / np.abs(start[hoops, 1]).max())
    other = settle(replace(cage, positions=start))
    if not other.trusted:
        return "from a squeezed start no rest was found to compare with; trust the shape less than usual"
    apart = np.linalg.norm(other.positions - settled.positions, axis=1)
    if apart.max() <= SAME:
        return ""
    place = node_in_words(cage.connectivity, first_largest(apart))
    return (
        f"the cage can hang in two ways: from a squeezed start {place} comes to rest"
        f" {fixed(1000 * apart.max(), 0)} mm away; shake it out and check which one you have"
    )
