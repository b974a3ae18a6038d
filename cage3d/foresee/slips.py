"""What a mark that is off really does to the hem, and how level a hem sewn as people sew comes out.

Tapes fall slack and come taut within an eighth of an inch, so a slope at rest tells a single slip badly: each
is settled again, both ways. Over all the slips of a whole cage together the slopes serve
(`tests/foresee/test_slips.py` holds them to two hundred cages settled again).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.foresee.hem import hem_nodes, hem_quarters
from cage3d.foresee.sensitivity import mark_changes, marks_of
from cage3d.settle.model import model_of
from cage3d.settle.rest import come_near_rest
from cage3d.settle.settling import settle
from cage3d.settle.state import SettledCage
from cage3d.settle.taking_up import posture_of
from cage3d.settle.tangent import Tangent
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Cage
from cage3d.shape.changes import ParameterChanges, side_by_side
from cage3d.units import inches

# One sigma of what is sewn and cut with care [common practice].
MARK_SIGMA = inches(1 / 16)
HOOP_SIGMA = inches(1 / 8)
SHARE = 0.9  # of the cages sewn so
DRAWS = 4000
SPRING = 10000.0  # N a unit strain, while forces known so far hold the constraints
NEAR = 2e-5  # m, how near to rest: a tenth of a millimetre is told


@dataclass(frozen=True)
class Slip:
    """How far the hem goes up (m) at front, left, back and right."""

    front: float
    left: float
    back: float
    right: float


def slip(settled: SettledCage, tape: int, hoop: int, down: float) -> Slip | None:
    """What one casing mark (tape and hoop from 0) that sits `down` m too low does; None where no rest is found."""
    joined, numbers = settled.cage.connectivity, settled.cage.parameters
    mark = marks_of(joined).tolist().index([hoop, tape])
    lengths = numbers.pull_length + down * mark_changes(joined)[:, mark]
    places = places_of(settled, settled.cage.with_parameters(pull_length=lengths))
    if places is None:
        return None
    return Slip(
        *(
            float(places[node, 2] - settled.positions[node, 2])
            for node in hem_quarters(settled.cage, hoop, tape)
        )
    )


def places_of(settled: SettledCage, changed: Cage) -> Floats | None:
    """(N, 3) m, where a little changed cage comes to rest, to NEAR; None where it finds none."""
    model = model_of(changed, SPRING)
    rest = come_near_rest(model, *posture_of(model, settled.state), NEAR)
    if rest.settled:
        return rest.posture.positions
    other = settle(changed, settled)
    return other.positions if other.trusted else None


def sewing_changes(settled: SettledCage) -> tuple[ParameterChanges, Floats]:
    """(a metre of every mark and of every hoop's length, one sigma of each in m)."""
    joined, numbers = settled.cage.connectivity, settled.cage.parameters
    marks = ParameterChanges(pull_length=mark_changes(joined))
    hoops = ParameterChanges(
        edge_length=longer(numbers.edge_length, joined.edge_hoop, numbers.arc_length, joined.edge_hoop),
        arc_length=longer(numbers.arc_length, joined.edge_hoop, numbers.arc_length, joined.edge_hoop),
        bend_length=longer(numbers.bend_length, joined.bend_hoop, numbers.arc_length, joined.edge_hoop),
    )
    sigmas = [np.full(marks.count, MARK_SIGMA), np.full(hoops.count, HOOP_SIGMA)]
    return side_by_side([marks, hoops]), np.concatenate(sigmas)


def longer(parts: Floats, of_hoop: Ints, arcs: Floats, arc_hoop: Ints) -> Floats:
    """(n, H) a metre of each hoop: growth of its parts, all by the same share."""
    hoops = int(arc_hoop.max()) + 1
    return np.column_stack(
        [np.where(of_hoop == hoop, parts / arcs[arc_hoop == hoop].sum(), 0.0) for hoop in range(hoops)]
    )


def sewing_moves(settled: SettledCage) -> Floats:
    """(N, 3, K) m a metre of each of `sewing_changes`, marks first."""
    return Tangent(settled).moves(sewing_changes(settled)[0])


def level_within(settled: SettledCage, moves: Floats | None = None) -> float:
    """m, from the lowest to the highest departure of the hem from its planned line, kept by SHARE of cages sewn so.

    moves: `sewing_moves`, where they are known already.
    """
    sigmas = sewing_changes(settled)[1]
    moves = sewing_moves(settled) if moves is None else moves
    moved = moves[hem_nodes(settled.cage), 2]
    # Fixed draws, so that the same cage gives the same figure.
    draws = np.random.default_rng(1).normal(size=(len(sigmas), DRAWS)) * sigmas[:, None]
    return float(np.quantile(np.ptp(moved @ draws, axis=0), SHARE))
