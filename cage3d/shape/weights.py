"""What hangs where: steel, joins, tapes, what a hoop carries, and the skirt, as newtons on nodes."""

from __future__ import annotations

import numpy as np

from cage3d.design import stock
from cage3d.design.models import Design
from cage3d.shape.arrays import Floats
from cage3d.shape.lines import HoopLine
from cage3d.shape.steels import HoopSteel, SteelJoin

GRAVITY = 9.81  # m/s2


def shares_at_nodes(line: HoopLine) -> Floats:
    """(n,) m of steel that belongs to each node: half of the edges on both sides."""
    if line.closed:
        return np.asarray((line.arcs + np.roll(line.arcs, 1)) / 2.0)
    return (np.append(line.arcs, 0.0) + np.insert(line.arcs, 0, 0.0)) / 2.0


def join_shares(line: HoopLine, join: SteelJoin) -> Floats:
    """(n,) share of each node's steel that lies inside the join."""
    own = shares_at_nodes(line)
    # Places are measured from the join's middle, the short way round.
    offset = (np.mod(line.fractions - join.centre + 0.5, 1.0) - 0.5) * line.girth
    before = np.roll(line.arcs, 1) / 2.0
    low, high = offset - before, offset - before + own
    covered = np.minimum(high, join.length / 2.0) - np.maximum(low, -join.length / 2.0)
    return np.asarray(np.clip(covered, 0.0, None) / own)


def hoop_weights(steel: HoopSteel, carries: float, line: HoopLine) -> Floats:
    """(n,) N on the nodes of one hoop: strip, coating, join, and `carries` (kg) spread evenly."""
    own = shares_at_nodes(line)
    mass = own * steel.section.mass
    mass = mass + carries * own / own.sum()
    if steel.join is not None:
        covered = join_shares(line, steel.join) * own
        if covered.sum() > 0.0:
            mass = mass + steel.join.added * covered / covered.sum()
    return np.asarray(mass * GRAVITY)


def tape_mass_per_length(design: Design) -> float:
    """kg/m of a finished tape."""
    tapes = design.tapes
    return stock.tape_weight(tapes.width, tapes.doubled) if tapes.weight is None else tapes.weight
