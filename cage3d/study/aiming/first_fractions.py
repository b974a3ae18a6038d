"""The numbers of a first design as a tape measure has them, so that it hangs as it should all the same.

Each number to its nearest fraction would let the hem down by what all of them are off together. So the others follow
one that is rounded; what the slopes foretell of that is settled, since tapes that go loose follow no slope.
"""

from __future__ import annotations

import numpy as np

from cage3d.design.first.cage import FirstCage
from cage3d.design.models import Design
from cage3d.shape.arrays import Floats
from cage3d.study.aiming.first_seeking import Hung, Seeking
from cage3d.study.aiming.rounding import by_fractions, in_turn
from cage3d.study.numbers import numbers_of, row_places

ALIKE = 1e-4  # m: numbers that differ by less are one number to her, and so stay her left and right
HOOP, TIE = -2, -1  # in place of a row: a hoop as long as a tie is no number of it
AGAIN = 3  # times at most that numbers are moved by fractions from where the last ones settled


def in_fractions(seeking: Seeking, best: Hung, cage: FirstCage) -> Hung:
    """Every number that may change put to a multiple of the cage's step: of several ways that which settles nearest."""
    each = columns_alike(seeking, best)
    at, off = numbers_by(best, each), seeking.off(best.settled)
    slopes = seeking.slopes(best, each)
    steps = np.full(len(at), cage.step)
    turns = in_turn(at, slopes, off, steps)
    plain = np.round(at / steps) * steps
    found = nearest_of(
        seeking, best, each, [turns, *(by_fractions(way, at, slopes, off, steps) for way in (turns, plain))]
    )
    for _ in range(AGAIN):
        if not found.settled.trusted:
            break
        at = numbers_by(found, each)
        moved = by_fractions(at, at, seeking.slopes(found, each), seeking.off(found.settled), steps)
        tried = seeking.changed(found, each @ (moved - at))
        if np.array_equal(moved, at) or not seeking.closer(tried, found):
            break
        found = tried
    return found


def nearest_of(seeking: Seeking, best: Hung, each: Floats, ways: list[Floats]) -> Hung:
    """The nearest to what is sought of ways (G,) m to round the numbers of a cage."""
    at = numbers_by(best, each)
    tried = [
        seeking.changed(best, each @ (way - at)) for way in {way.tobytes(): way for way in ways}.values()
    ]
    nearest = tried[0]
    for one in tried[1:]:
        if seeking.closer(one, nearest):
            nearest = one
    return nearest


def columns_alike(seeking: Seeking, hung: Hung) -> Floats:
    """(D, G) one for each number of a group that is written alike."""
    groups = written_alike(hung.design, np.abs(seeking.columns).max(axis=1) > 0.0)
    each = np.zeros((len(seeking.columns), len(groups)))
    for place, group in enumerate(groups):
        each[group, place] = 1.0
    return each


def numbers_by(hung: Hung, each: Floats) -> Floats:
    """(G,) m: the number that each group shares."""
    numbers = numbers_of(hung.design)
    return np.asarray(numbers[np.argmax(each, axis=0)])


def written_alike(design: Design, free: Floats) -> list[list[int]]:
    """Places of free numbers that are written alike: a drop of a row on several tapes, hoops or ties of one length."""
    numbers = numbers_of(design)
    rows = dict.fromkeys(range(len(design.hoops)), HOOP)
    rows |= {place: number for own in row_places(design) for number, place in own.items()}
    groups: list[list[int]] = []
    for place in sorted(map(int, np.flatnonzero(free)), key=lambda one: (rows.get(one, TIE), numbers[one])):
        last = groups[-1][-1] if groups else place
        alike = rows.get(last, TIE) == rows.get(place, TIE) and numbers[place] - numbers[last] < ALIKE
        if groups and alike:
            groups[-1].append(place)
        else:
            groups.append([place])
    return groups
