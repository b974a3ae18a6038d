"""What moving one casing mark does to the hem."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.state import SettledCage
from cage3d.settle.tangent import Tangent
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Connectivity
from cage3d.shape.changes import ParameterChanges
from cage3d.steady import falling, first_least


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


def marks_moved(hoops: int, tapes: int) -> Floats:
    """(H*T, H*T): moving one mark alone lengthens the drop above it and shortens the one below."""
    changes = np.eye(hoops * tapes)
    for mark in range((hoops - 1) * tapes):
        changes[mark + tapes, mark] = -1.0
    return changes


def mark_changes(joined: Connectivity) -> Floats:
    """(P, H*T) of all pulls, as each mark moves alone.

    Of cloth the mark lies on a seam, and the casing goes with it evenly to the seams beside.
    """
    return joined.with_segments(marks_moved(joined.hoop_count, joined.tape_count))


def quarter_nodes(joined: Connectivity) -> list[int]:
    """The hem's nodes at front, left, back and right."""
    hem = joined.hoop_nodes[-1]
    away = [
        np.abs(np.mod(joined.node_fraction[hem] - place + 0.5, 1.0) - 0.5) for place in (0.0, 0.25, 0.5, 0.75)
    ]
    return [int(hem[first_least(distance)]) for distance in away]


def mark_moves(tangent: Tangent) -> Floats:
    """(N, 3, H*T) m a metre that each mark alone sits too low."""
    joined = tangent.settled.cage.connectivity
    changes = mark_changes(joined)
    return tangent.moves(ParameterChanges(pull_length=changes))


def mark_effects(settled: SettledCage, moved: Floats | None = None) -> tuple[MarkEffect, ...]:
    """Every mark's effect on the hem's height at front, left, back and right.

    The strongest first, equal ones by tape and hoop. moved: `mark_moves`, where they are known already.
    """
    joined = settled.cage.connectivity
    hoops, tapes = joined.hoop_count, joined.tape_count
    moved = mark_moves(Tangent(settled)) if moved is None else moved
    quarters = [moved[node, 2] for node in quarter_nodes(joined)]
    effects = [
        MarkEffect(tape, hoop, *(float(quarter[hoop * tapes + tape]) for quarter in quarters))
        for tape in range(tapes)
        for hoop in range(hoops)
    ]
    return tuple(effects[place] for place in falling([effect.most for effect in effects]))
