"""The numbers of a first design, sought so that its hoops hang at their levels under the skirt and not only near them.

A first design is laid out as level hoops; the skirt, the wearer and the tapes' own slant let it hang otherwise. What
may change is what its kind says: one list of drops for all tapes, waves of them round her, ties. Every tape that hangs
loose is taken up.
"""

from __future__ import annotations

import numpy as np

from cage3d.design import trade
from cage3d.design.first.cage import FirstCage
from cage3d.design.models import Design
from cage3d.study.aiming.first_fractions import in_fractions
from cage3d.study.aiming.first_seeking import Hung, Seeking, seeking_for
from cage3d.study.aiming.first_slack import let_down, loosened, taken_up
from cage3d.study.aiming.rounding import ALIKE
from cage3d.study.down import rows_down
from cage3d.study.numbers import numbers_of

SETTLINGS = 4  # at most; its start is a third of an inch off, or two inches with a flat top
REACH = 0.05  # m by which a number may change in one go


def as_it_hangs(design: Design, cage: FirstCage) -> FirstCage:
    """The first cage with numbers with which it settles as it should, rounded as they are written.

    design: as the cage reads when it is written. Where nothing brings it nearer its own numbers are kept.
    """
    seeking = seeking_for(design, cage)
    first = seeking.hung(design)
    if not first.settled.trusted:
        return cage
    best = nearest(seeking, first)
    if len(cage.drops) > 1 and (loose := loosened(best, ALIKE)).any():
        best = nearest(seeking, seeking.changed(best, -loose))
    last = in_fractions(seeking, best, cage)
    last = last if seeking.closer(last, first) else first
    if len(cage.drops) > 1:
        last = let_down(seeking, taken_up(seeking, last, cage), cage)
    return cage.with_numbers([float(number) for number in numbers_of(last.design)], len(rows_down(design)))


def nearest(seeking: Seeking, first: Hung) -> Hung:
    """What Gauss's and Newton's steps come to, each settled from the one before."""
    best = first
    for _ in range(SETTLINGS):
        off = seeking.off(best.settled)
        if np.abs(off).max() < trade.HEM_TOLERANCE / 2:
            break
        slopes = seeking.slopes(best, seeking.columns)
        change = np.linalg.lstsq(slopes, -off, rcond=1e-3)[0]
        nearer = seeking.changed(best, seeking.columns @ np.clip(change, -REACH, REACH))
        if not seeking.closer(nearer, best):
            break
        best = nearer
    return best
