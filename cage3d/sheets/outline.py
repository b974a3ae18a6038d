"""The settled cage as lines seen from the front, from her left and from above, for the first page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from cage3d.report.curves import POINTS_PER_EDGE, hoop_curve
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Bools, Floats
from cage3d.shape.waist import waist_ring

EVERY = POINTS_PER_EDGE // 2  # of a hoop's points; finer than a printer's dot


@dataclass(frozen=True)
class Outline:
    """What is drawn of a cage, m; x to her left, y to her back, z up."""

    band: Floats  # (n, 3) the waistband's lower edge
    hoops: tuple[Floats, ...]  # H x (n, 3) lines along the steel
    tapes: tuple[Floats, ...]  # T x (k, 3) from where each begins down
    ties: tuple[Floats, ...]  # (k, 3) ties and laces, over the wearer where she is in between
    at_her_right: frozenset[int] = frozenset()  # hoops (from 0) that stand there
    # Tapes (from 0) of baskets, each with its basket's middle (3,) m.
    in_baskets: Mapping[int, Floats] = field(default_factory=dict)


def outline_of(settled: SettledCage) -> Outline:
    """The lines of a settled cage."""
    joined, places = settled.cage.connectivity, settled.positions
    design = settled.cage.design
    ring = waist_ring(design, np.linspace(0.0, 1.0, 97) % 1.0, design.waistband.depth / 2.0)
    return Outline(
        band=ring,
        hoops=tuple(hoop_curve(settled, hoop).points[::EVERY] for hoop in range(joined.hoop_count)),
        tapes=tuple(places[joined.nodes_of(tape)] for tape in range(joined.tape_count)),
        ties=tuple(settled.pull_way(row) for row in joined.tie_rows),
        at_her_right=frozenset(number for number, hoop in enumerate(design.hoops) if hoop.beside == "right"),
        in_baskets={
            tape: middle
            for tape in range(joined.tape_count)
            if (middle := middle_of_basket(settled, tape)) is not None
        },
    )


def middle_of_basket(settled: SettledCage, tape: int) -> Floats | None:
    """(3,) m, the middle of the basket on a tape (from 0); None where that passes a hoop that goes round her."""
    design = settled.cage.design
    sides = {design.hoops[hoop].beside for hoop in settled.cage.connectivity.hoops_of(tape)}
    if len(sides) != 1 or None in sides:
        return None
    own = [hoop for hoop, written in enumerate(design.hoops) if written.beside in sides]
    return np.asarray(np.mean([hoop_curve(settled, hoop).points.mean(axis=0) for hoop in own], axis=0))


@dataclass(frozen=True)
class View:
    """Two of the three axes as they lie on the paper."""

    title: str
    across: int  # axis to the right
    up: int  # axis upwards, turned where `sign` is -1
    ahead: int  # axis along which she is looked at
    sign: float  # what lies at sign * ahead > 0 is hidden behind

    def flat(self, line: Floats) -> Floats:
        """(n, 2) m on the paper."""
        return line[:, [self.across, self.up]]

    def behind(self, line: Floats) -> Bools:
        """(n - 1,) whether a stretch between two points lies on the far side of the waist's axis."""
        middle = (line[1:, self.ahead] + line[:-1, self.ahead]) / 2.0
        return np.asarray(self.sign * middle > 1e-6)


FRONT = View("From the front", 0, 2, 1, 1.0)
LEFT = View("From her left", 1, 2, 0, -1.0)
PLAN = View("Above, front below", 0, 1, 2, 0.0)
