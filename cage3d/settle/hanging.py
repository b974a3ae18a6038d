"""How a cage hangs from level circles: the bare cage first, then the skirt put on in steps.

A loaded cage can rest in more than one way; the one that a maker gets is the one reached by
hanging the skirt on the bare cage, so that is the way taken here.
"""

from __future__ import annotations

from dataclasses import dataclass

from cage3d.settle.model import Model, loaded, no_forces, stiffer
from cage3d.settle.posture import first_posture
from cage3d.settle.rest import FORCE_TOLERANCE, Rest, come_to_rest
from cage3d.settle.snaps import followed, strays, travel_of
from cage3d.settle.stability import load_response
from cage3d.settle.state import Snap
from cage3d.shape.places import node_in_words
from cage3d.steady import fixed, percent

# N per unit strain, in turn: soft tapes let a far start find which tapes are taut; from there stiffer ones
# converge in a few steps each (19, 5 and 5 on the bench's hard case; 300 and then 10,000 and 300,000 took 41).
SPRINGS = (300.0, 3000.0, 30000.0)
LOOSE = 2e-3  # share of the whole weight, good enough a rest before the springs are stiffened
LOAD_STEP = 0.25  # of the skirt's weight, at first and after a smaller one
FINEST_STEP = 0.02
MOST_STRAYS = 7  # steps that end elsewhere; where loose rests do so time and again, exact ones are quicker
PLAY = 0.02  # m, by which a loose rest may lie off an exact one


@dataclass
class Progress:
    """What happened on the way."""

    steps: int
    notes: list[str]
    snaps: tuple[Snap, ...] = ()


def hang(model: Model, progress: Progress) -> Rest:
    """From level circles: the bare cage, then the skirt in steps, then every constraint held exactly."""
    bare = loaded(model, 0.0)
    posture, forces = first_posture(model.cage), no_forces(model)
    for spring in SPRINGS[:-1]:
        rest = come_to_rest(stiffer(bare, spring), posture, forces, loose=loose_force(bare))
        progress.steps += rest.steps
        posture, forces = rest.posture, rest.forces
    if not model.cage.parameters.skirt_hangs:
        return counted(come_to_rest(model, posture, forces), progress)
    loose, doubtful = put_skirt_on(stiffer(model, SPRINGS[-2]), rest, progress)
    last = counted(come_to_rest(model, loose.posture, loose.forces), progress)
    moves = last.posture.positions - loose.posture.positions
    # A loose rest on the edge of a snap can look like one; the exact rest then goes over the edge.
    if doubtful or travel_of(moves).max() > PLAY:
        last = step_by_step(model, bare, rest, last, progress)
    return last


def counted(rest: Rest, progress: Progress) -> Rest:
    progress.steps += rest.steps
    return rest


def step_by_step(model: Model, bare: Model, start: Rest, last: Rest, progress: Progress) -> Rest:
    """The rest to which exact steps lead, with every snap on the way; `last` where they lead nowhere.

    Rests that are only nearly at rest can lag behind and then catch up, which looks like a snap and is none.
    """
    hung = counted(come_to_rest(bare, start.posture, start.forces), progress)
    way = followed(model, hung) if hung.settled else None
    if way is None:
        progress.notes.append("the skirt could not be put on step by step: trust the shape less than usual")
        return last
    rest, progress.snaps = way
    progress.steps += rest.steps
    progress.notes += [snap_in_words(model, snap) for snap in progress.snaps]
    return rest


def loose_force(model: Model) -> float:
    """N, the residual at which a rest on the way is good enough."""
    return max(LOOSE * float(model.weight.sum()), FORCE_TOLERANCE)


def put_skirt_on(model: Model, rest: Rest, progress: Progress) -> tuple[Rest, bool]:
    """(the rest, whether it is in doubt): the skirt's weight in steps, each only nearly at rest.

    A step that ends elsewhere than foreseen is taken again in smaller steps; what still does so in the
    smallest may be a snap; after many such the rest is put on as it comes, and is in doubt. Other steps double.
    """
    share, step, doubtful, strayed = 0.0, LOAD_STEP, False, 0
    while share < 1.0:
        step = min(step, 1.0 - share)
        more = loaded(model, share + step)
        foreseen = load_response(more, rest.posture, rest.forces, step)
        trial = counted(come_to_rest(more, rest.posture, rest.forces, loose=loose_force(model)), progress)
        elsewhere = strays(trial.posture.positions - rest.posture.positions, foreseen)
        strayed += elsewhere
        if elsewhere and step > FINEST_STEP and strayed <= MOST_STRAYS:
            step /= 2.0
            continue
        share, rest, doubtful = share + step, trial, doubtful or elsewhere
        step = max(2.0 * step, LOAD_STEP)
    return rest, doubtful


def snap_in_words(model: Model, snap: Snap) -> str:
    """What a maker should know of a snap."""
    return (
        f"{node_in_words(model.cage.connectivity, snap.node)} moved {fixed(1000 * snap.travel, 0)} mm at once when"
        f" the skirt's load passed {percent(snap.held)}: it snapped to another shape, and may hang in either"
    )
