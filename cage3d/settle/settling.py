"""How a laid out cage hangs: the bare cage first, then the skirt put on in steps.

A loaded cage can rest in more than one way; the one that a maker gets is the one reached by
hanging the skirt on the bare cage, so that is the way taken here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from cage3d.settle.factor import factorise
from cage3d.settle.model import (
    Forces,
    Model,
    Trial,
    begin_at,
    loaded,
    model_of,
    no_forces,
    posture_of,
    state_of,
    stiffer,
    trial_at,
)
from cage3d.settle.newton import (
    FORCE_TOLERANCE,
    OutOfStepsError,
    Rest,
    bounded,
    come_to_rest,
    unbalanced,
    worst_node,
)
from cage3d.settle.posture import Posture, first_posture
from cage3d.settle.snaps import followed, strays, travel_of
from cage3d.settle.stability import LEAST_STABLE, Lowest, load_response, lowest_mode
from cage3d.settle.state import SettledCage, Snap
from cage3d.settle.watch import Watch
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage
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
PUSH = 0.005  # m, how far the lowest mode is followed by hand before Newton takes over
MOST_FALLS = 8
MOST_STEPS = (
    3000  # in all; 20 to 60 are usual, and the longest way to a rest in a hundred designs by lot took 400
)
GIVEN_UP = "steps ran out"
MOST_LAYINGS = 4  # of cloth that slides, over hoops that it turns out to touch or not


@dataclass
class Progress:
    """What happened on the way."""

    steps: int
    notes: list[str]
    snaps: tuple[Snap, ...] = ()


def settle(
    cage: Cage,
    start: SettledCage | None = None,
    *,
    most_steps: int = MOST_STEPS,
    cancel: Callable[[], bool] | None = None,
) -> SettledCage:
    """The cage at rest, with the proof of it; never raises for a cage that will not settle.

    start: a settled cage of the same connectivity, from which a changed one settles in a few
    steps. Ask `trusted` of the answer before showing it.
    most_steps: of Newton's in all, after which it is given up; cancel: asked before each of them, and where it
    says yes CancelledError is raised.
    """
    progress, watch = Progress(0, []), Watch(most_steps, cancel)
    model = model_of(cage, SPRINGS[-1], watch=watch)
    try:
        rest = hang(model, progress) if start is None else settle_again(model, start, progress)
        if start is not None and not rest.settled:
            rest = hang(model, progress)
        model, rest = cloth_laid(model, rest, progress)
        rest, lowest = fall_to_stable(model, rest, progress)
    except OutOfStepsError as out:
        return given_up(out.trial, progress)
    return finished(model, rest, lowest, progress)


def given_up(trial: Trial, progress: Progress) -> SettledCage:
    """As far as it came; no answer."""
    model = trial.model
    progress.steps = model.watch.steps
    rest = Rest(
        trial.posture,
        trial.acting,
        unbalanced(trial),
        trial.broken,
        float("nan"),
        worst_node(trial),
        0,
        GIVEN_UP,
    )
    unknown = Lowest(float("nan"), np.zeros(model.unknowns.size), 0)
    return replace(finished(model, rest, unknown, progress), given_up=True)


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


def settle_again(model: Model, start: SettledCage, progress: Progress) -> Rest:
    """From a settled cage of the same connectivity, in two or three steps where little has changed."""
    posture, forces = predicted(model, start)
    softer = stiffer(model, SPRINGS[-2])
    rest = come_to_rest(softer, posture, forces, loose=loose_force(model))
    last = come_to_rest(model, rest.posture, rest.forces)
    progress.steps += rest.steps + last.steps
    return last


def predicted(model: Model, start: SettledCage) -> tuple[Posture, Forces]:
    """Where the change of numbers moves the settled cage, to first order.

    A hoop made longer by some millimetres would start as if pressed together by many newtons, and
    Newton's method would have to find its way out of the buckling. So the first step takes the
    stiffness of the cage as it hung.
    """
    before = model_of(start.cage, model.spring)
    hung = trial_at(before, *posture_of(before, start.state))
    factor = factorise(hung.hessian) if start.settled else None
    begin_at(model, before)
    posture, forces = posture_of(model, start.state)
    if factor is None or factor.negative:
        return posture, forces
    changed = trial_at(model, posture, forces)
    return changed.moved(bounded(model, -factor.solve(changed.gradient))).posture, forces


def cloth_laid(model: Model, rest: Rest, progress: Progress) -> tuple[Model, Rest]:
    """The cage with every skirt that slides over those hoops that it touches as the cage hangs."""
    for _ in range(MOST_LAYINGS):
        before = model.cage.cloths
        cloths = tuple(cloth.laid_over(rest.posture.positions) for cloth in before)
        pairs = zip(before, cloths, strict=True)
        if not rest.settled or all(np.array_equal(one.over, other.over) for one, other in pairs):
            break
        model = model_of(replace(model.cage, cloths=cloths), model.spring, watch=model.watch)
        rest = counted(come_to_rest(model, rest.posture, rest.forces), progress)
    return model, rest


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


def fall_to_stable(model: Model, rest: Rest, progress: Progress) -> tuple[Rest, Lowest]:
    """Where the rest is a saddle, follow its lowest mode down until a valley is reached."""
    lowest = lowest_mode(model, rest.posture, rest.forces)
    for _ in range(MOST_FALLS):
        # A mode that neither rises nor falls (a ring free to turn on its string) is no reason to fall.
        if not rest.settled or lowest.negative == 0 or lowest.eigenvalue > -LEAST_STABLE:
            break
        pushed = along_mode(model, rest, lowest.mode)
        lower = come_to_rest(model, pushed, rest.forces)
        progress.steps += lower.steps
        moved_by = float(np.linalg.norm(lower.posture.positions - rest.posture.positions, axis=1).max())
        progress.notes.append(
            "the level way of hanging is not stable: the cage falls to one side of it"
            f" (by {fixed(1000 * moved_by, 0)} mm), and the mirror image is as likely"
        )
        rest = lower
        lowest = lowest_mode(model, rest.posture, rest.forces)
    return rest, lowest


def along_mode(model: Model, rest: Rest, mode: Floats) -> Posture:
    """The posture pushed along a mode so that its farthest node moves by PUSH."""
    reach = float(np.abs(mode[: 3 * model.free_nodes]).max())
    return trial_at(model, rest.posture, rest.forces).moved(mode * (PUSH / max(reach, 1e-12))).posture


def finished(model: Model, rest: Rest, lowest: Lowest, progress: Progress) -> SettledCage:
    """The answer with its proof."""
    cage = model.cage
    return SettledCage(
        cage=cage,
        state=state_of(model, rest.posture, rest.forces),
        residual=rest.residual,
        distance=rest.distance,
        lowest_eigenvalue=lowest.eigenvalue,
        settled=rest.settled,
        stable=lowest.stable,
        steps=progress.steps,
        notes=tuple(dict.fromkeys(progress.notes)),
        snaps=progress.snaps,
        worst_node=node_in_words(cage.connectivity, rest.worst_node),
    )
