"""Snaps: moves under a growing load that do not go back when that load is taken off again.

Weights, steel, tapes and smooth contact keep no memory, so a cage that only gives way softly, however
far it goes, comes back once the load is as it was. What stays away has gone over an edge to another
shape. Every part of the tool that speaks of snaps asks here, so all name the same one.
"""

from __future__ import annotations

import numpy as np

from cage3d.settle.model import Model, loaded
from cage3d.settle.rest import Rest, come_to_rest
from cage3d.settle.stability import load_response
from cage3d.settle.state import Snap
from cage3d.shape.arrays import Floats
from cage3d.steady import first_largest

SEEN = 0.01  # m, a snap of less than this nobody notices
FINE = 0.01  # of the planned skirt, or of the load where that is more: how finely a snap's load is told
FIRST_STEP = 0.25  # of the planned skirt
MOST_STEPS = 120  # of Newton in one step of load; a cage that takes more is on its way to another shape
TO_ANOTHER_SHAPE = 400  # of Newton, that a snap may take


def finest(factor: float) -> float:
    """The step of load in which a snap is told."""
    return FINE * max(factor, 1.0)


def travel_of(moves: Floats) -> Floats:
    """(N,) m of moves (N, 3)."""
    return np.asarray(np.linalg.norm(moves, axis=1))


def strays(moves: Floats, foreseen: Floats | None) -> bool:
    """Whether nodes really moved (N, 3), and otherwise than foreseen by more than half their way.

    Halve a step of load and a smooth path comes out ever closer to what was foreseen; a snap does not. A large
    move foreseen by a stiffness that is next to none, and not made, is no travel.
    """
    travel = float(travel_of(moves).max())
    if travel <= SEEN:
        return False
    return foreseen is None or float(travel_of(moves - foreseen).max()) > 0.5 * travel


def step_on(
    model: Model, rest: Rest, factor: float, step: float, most_steps: int = MOST_STEPS
) -> tuple[Rest, bool]:
    """(the rest under a load larger by `step`, whether it lies elsewhere than foreseen)."""
    more = loaded(model, factor + step)
    foreseen = load_response(more, rest.posture, rest.forces, step)
    further = come_to_rest(more, rest.posture, rest.forces, most_steps)
    return further, strays(further.posture.positions - rest.posture.positions, foreseen)


def snap_between(model: Model, factor: float, before: Rest, after: Rest) -> Snap | None:
    """The snap between the rest at `factor` and one under a little more load; None where it goes back by itself."""
    back = come_to_rest(loaded(model, factor), after.posture, after.forces, TO_ANOTHER_SHAPE)
    stays_away = travel_of(back.posture.positions - before.posture.positions)
    if back.settled and float(stays_away.max()) <= SEEN:
        return None
    travel = travel_of(after.posture.positions - before.posture.positions)
    return Snap(factor, first_largest(travel), float(travel.max()))


def followed(model: Model, bare: Rest) -> tuple[Rest, tuple[Snap, ...]] | None:
    """(the rest under the planned skirt, the snaps on the way) with every step exactly at rest.

    bare: the cage without its skirt, exactly at rest. None where a step finds no rest however short it is.
    """
    rest, factor, step = bare, 0.0, FIRST_STEP
    snaps: list[Snap] = []
    while factor < 1.0:
        step = min(step, 1.0 - factor)
        at_finest = step <= finest(factor)
        further, elsewhere = step_on(model, rest, factor, step, TO_ANOTHER_SHAPE if at_finest else MOST_STEPS)
        if (elsewhere or not further.settled) and not at_finest:
            step = max(step / 3.0, finest(factor))
            continue
        if not further.settled:
            return None
        snap = snap_between(model, factor, rest, further) if elsewhere else None
        snaps += [] if snap is None else [snap]
        rest, factor, step = further, factor + step, min(2.0 * step, FIRST_STEP)
    return rest, tuple(snaps)
