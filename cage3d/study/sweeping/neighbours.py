"""Neighbouring variants settled one from the next, and each as if it had been settled alone.

A cage from its neighbour takes a few steps where one from level circles takes dozens, but it may then lie in another
shape than the one that the skirt, put on, ends in, and that one is the answer. So the ends and the middle of a stretch
are settled alone. What was settled on the way from one of these to the next counts where it arrives at the very rest
that the next one has alone; where it does not, or where anything on the way snapped, fell or found no rest, the
stretch is halved and asked again, down to the single variant.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from cage3d.settle import SettledCage, settle
from cage3d.shape.cage import Cage
from cage3d.shape.places import node_in_words
from cage3d.steady import first_largest, fixed

SAME = 2e-5  # m: two rests no farther apart are one, each being sure to half of it
ALONE = 3  # settled alone in a stretch: its ends and its middle


class Neighbours:
    """Laid out variants in turn. `settled` is how each hangs, `words` what is said of some."""

    def __init__(self, cages: Sequence[Cage]) -> None:
        self.cages = cages
        self.settled: dict[int, SettledCage] = {}
        self.words: dict[int, str] = {}
        ends = sorted({round(place) for place in np.linspace(0, len(cages) - 1, ALONE)}) if cages else []
        for place in ends:
            self.alone(place)
        for first, last in pairwise(ends):
            self.between(first, last)

    def alone(self, place: int) -> SettledCage:
        """The variant from level circles; what a step from a neighbour gave gives way to it."""
        self.settled[place] = settle(self.cages[place])
        return self.settled[place]

    def between(self, first: int, last: int) -> None:
        """All variants between two that were settled alone."""
        on_the_way = self.way(first, last)
        arrived = on_the_way.get(last)
        if arrived is not None and apart(arrived, self.settled[last]) <= SAME:
            del on_the_way[last]
            self.settled.update(on_the_way)
        elif last - first > 1:
            middle = (first + last) // 2
            self.alone(middle)
            self.between(first, middle)
            self.between(middle, last)
        elif arrived is not None and self.settled[last].trusted:
            self.words[last] = other_way(arrived, self.settled[last])

    def way(self, first: int, last: int) -> dict[int, SettledCage]:
        """Settled in turn as far as `last`; without it where one of them is no plain rest."""
        found: dict[int, SettledCage] = {}
        before = self.settled[first]
        if not (is_plain(before) and is_plain(self.settled[last])):
            return found
        for place in range(first + 1, last + 1):
            if not alike(before.cage, self.cages[place]):
                break
            before = settle(self.cages[place], before)
            if not is_plain(before):
                break
            found[place] = before
        return found


def is_plain(settled: SettledCage) -> bool:
    """Whether it is an answer, and nothing happened on the way to it."""
    return settled.trusted and not settled.snaps and not settled.notes


def alike(one: Cage, other: Cage) -> bool:
    """Whether one's rest can be the other's start: the same tapes, hoops, ties and nodes."""
    arrays = zip(
        (one.connectivity.edges, one.connectivity.pulls, one.connectivity.crossing),
        (other.connectivity.edges, other.connectivity.pulls, other.connectivity.crossing),
        strict=True,
    )
    return len(one.cloths) == len(other.cloths) and all(np.array_equal(a, b) for a, b in arrays)


def apart(one: SettledCage, other: SettledCage) -> float:
    """m, how far the farthest node lies from where it lies in the other."""
    return float(np.linalg.norm(one.positions - other.positions, axis=1).max())


def other_way(arrived: SettledCage, alone: SettledCage) -> str:
    """What a maker should know of a cage that comes to rest otherwise when it is changed while it hangs."""
    travel = np.linalg.norm(arrived.positions - alone.positions, axis=1)
    place = node_in_words(alone.cage.connectivity, first_largest(travel))
    return (
        f"The cage can hang in two ways: changed while it hangs, {place} comes to rest"
        f" {fixed(1000 * float(travel.max()), 0)} mm from where it is told. Shake it out and check which one you have."
    )
