"""What moving one casing mark does to the hem."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.foresee.hem import hem_quarters
from cage3d.settle.state import SettledCage
from cage3d.settle.tangent import Tangent
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity
from cage3d.shape.changes import ParameterChanges
from cage3d.steady import falling

ALIKE = 1e-5  # of an effect; of a hoop that lies on her the last bits of its rest tell effects apart by 1e-6


@dataclass(frozen=True)
class MarkEffect:
    """What moving one casing mark down its tape does to the hem; m of the hem a metre of the mark."""

    tape: int  # from 0
    hoop: int  # from 0
    front: float
    left: float
    back: float
    right: float

    @property
    def most(self) -> float:
        """The largest of the four, without sign."""
        return max(abs(self.front), abs(self.left), abs(self.back), abs(self.right))


def marks_of(joined: Connectivity) -> Ints:
    """(C, 2) hoop and tape of every mark that can be off, hoop after hoop: hoops that meet have one."""
    meet = joined.segments[joined.meeting].tolist()
    return np.array([casing for casing in joined.casings.tolist() if casing not in meet], dtype=np.intp)


def marks_moved(joined: Connectivity) -> Floats:
    """(S, C): moving one of `marks_of` alone lengthens the drop above it and shortens the one below."""
    marks = marks_of(joined)
    changes = np.zeros((joined.segment_count, len(marks)))
    for column, (hoop, tape) in enumerate(marks):
        above = joined.segment_row[hoop, tape]
        if above >= 0:
            changes[above, column] = 1.0
        below = np.setdiff1d(
            joined.rows_of(tape)[joined.segments[joined.rows_of(tape), 0] > hoop], joined.meeting
        )
        if len(below):
            changes[below[0], column] = -1.0
    return changes


def mark_changes(joined: Connectivity) -> Floats:
    """(P, C) of all pulls, as each of `marks_of` moves alone.

    Of cloth the mark lies on a seam, and the casing goes with it evenly to the seams beside.
    """
    return joined.with_segments(marks_moved(joined))


def mark_moves(tangent: Tangent) -> Floats:
    """(N, 3, C) m a metre that each mark alone sits too low."""
    return tangent.moves(ParameterChanges(pull_length=mark_changes(tangent.settled.cage.connectivity)))


def mark_effects(settled: SettledCage, moved: Floats | None = None) -> tuple[MarkEffect, ...]:
    """Every mark's effect on the height at front, left, back and right of the hem under it.

    The strongest first, equal ones by tape and hoop. moved: `mark_moves`, where they are known already.
    """
    joined = settled.cage.connectivity
    marks = marks_of(joined)
    moved = mark_moves(Tangent(settled)) if moved is None else moved
    effects = [
        MarkEffect(
            tape, hoop, *(float(moved[node, 2, place]) for node in hem_quarters(settled.cage, hoop, tape))
        )
        for place, (hoop, tape) in sorted(enumerate(marks.tolist()), key=lambda mark: mark[1][::-1])
    ]
    return tuple(effects[place] for place in falling([effect.most for effect in effects], ALIKE))
