"""A changed cage settled again, from the rest of the one before it."""

from __future__ import annotations

import numpy as np

from cage3d.settle.hanging import SPRINGS, Progress, counted, loose_force
from cage3d.settle.model import Forces, Model, Trial, begin_at, stiffer, trial_at
from cage3d.settle.newton import Kept, bounded
from cage3d.settle.posture import Posture
from cage3d.settle.rest import Rest, come_to_rest
from cage3d.settle.state import SettledCage
from cage3d.settle.taking_up import forces_of, posture_of
from cage3d.settle.tangent import Tangent
from cage3d.settle.terms import Reading
from cage3d.settle.terms.held import HeldReading
from cage3d.shape.arrays import Floats

# times among soft springs, the forces brought up to date between: the springs then give so little that those ten times
# as stiff do not snatch at tapes that are all but slack (of sample A's drops 13 trials instead of 30)
LOOSELY = 2
NEARLY = 1e-4  # of what is asked of the constraints, left over by a first step that more will follow


def settle_again(model: Model, start: SettledCage, progress: Progress) -> Rest:
    """From a settled cage of the same connectivity, in two or three steps where little has changed."""
    posture, forces = predicted(model, start)
    softer, kept = stiffer(model, SPRINGS[-2]), Kept()
    for _ in range(LOOSELY):
        rest = counted(come_to_rest(softer, posture, forces, loose=loose_force(model), kept=kept), progress)
        posture, forces = rest.posture, rest.forces
    return counted(come_to_rest(model, posture, forces, kept=Kept()), progress)


def predicted(model: Model, start: SettledCage) -> tuple[Posture, Forces]:
    """Where the change of numbers moves the settled cage, and what then acts, to first order.

    A hoop made longer by some millimetres would start as if pressed together by many newtons, and Newton's method would
    have to find its way out of the buckling. So the first step takes the stiffness of the cage as it hung, with all
    held that held there: a tape that pulled pulls on, however far its new length would let it out.
    """
    forces = forces_of(model, start.state)
    tangent = Tangent(start) if start.trusted else None
    if tangent is None or tangent.standing.factor is None:
        return posture_of(model, start.state)[0], forces
    before = tangent.trial
    begin_at(model, before.model)
    hung = Posture(at_waist(model, before.posture.positions), before.posture.angles, before.posture.rod)
    changed = trial_at(model, hung, forces)
    drawn = [reading.drawn(force) for reading, force in zip(changed.readings, forces, strict=True)]
    asked = asked_of(before, changed)
    steps, grown = tangent.held_answer(model.pattern.vector(drawn)[:, None], asked, NEARLY)
    step = bounded(model, steps[:, 0])
    share = float(np.linalg.norm(step) / max(np.linalg.norm(steps), np.finfo(np.float64).tiny))
    return changed.moved(step).posture, pulled_on(before, changed, forces, [share * part for part in grown])


def at_waist(model: Model, positions: Floats) -> Floats:
    """(N, 3) m, the places with the fixed nodes where the changed cage has them."""
    moved = positions.copy()
    moved[model.free_nodes :] = model.cage.positions[model.free_nodes :]
    return moved


def asked_of(before: Trial, changed: Trial) -> list[Floats | None]:
    """(n, 1) m a term of the cage before, how the change of numbers alone breaks the constraints that act."""
    told = {term.name: reading for term, reading in zip(changed.model.terms, changed.readings, strict=True)}
    return [
        more_broken(reading, told.get(term.name), acting)
        for term, reading, acting in zip(before.model.terms, before.readings, before.acting, strict=True)
    ]


def more_broken(before: Reading, changed: Reading | None, acting: Floats) -> Floats | None:
    if not isinstance(before, HeldReading) or not isinstance(changed, HeldReading):
        return None
    if len(before.excess) != len(changed.excess):
        return None
    _, active = before.active(acting)
    asked = np.zeros((len(acting), 1))
    asked[active, 0] = (changed.excess - before.excess)[active]
    return asked


def pulled_on(before: Trial, changed: Trial, forces: Forces, grown: list[Floats]) -> Forces:
    """The forces with what they gain (n, 1) N a term of the cage before; what only pulls or pushes does no other."""
    gained = {term.name: more[:, 0] for term, more in zip(before.model.terms, grown, strict=True)}
    found = []
    for term, reading, force in zip(changed.model.terms, changed.readings, forces, strict=True):
        more = gained.get(term.name, np.zeros(0))
        if isinstance(reading, HeldReading) and len(more) == len(force):
            force = np.maximum(force + more, 0.0) if reading.one_way else force + more
        found.append(force)
    return tuple(found)
