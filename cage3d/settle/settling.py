"""A laid out cage settled: hung, or taken up from the rest of one alike; off every saddle; with the proof of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from cage3d.settle.again import settle_again
from cage3d.settle.hanging import SPRINGS, Progress, counted, hang
from cage3d.settle.model import Model, Trial, model_of, trial_at
from cage3d.settle.newton import OutOfStepsError, unbalanced
from cage3d.settle.posture import Posture, squared
from cage3d.settle.rest import Rest, come_to_rest, worst_node
from cage3d.settle.stability import LEAST_STABLE, Lowest, lowest_mode
from cage3d.settle.standing import keep
from cage3d.settle.state import SettledCage
from cage3d.settle.taking_up import begin_at_state, state_of
from cage3d.settle.terms import Pulls
from cage3d.settle.watch import Watch
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage
from cage3d.shape.places import node_in_words
from cage3d.steady import fixed

PUSH = 0.005  # m, how far the lowest mode is followed by hand before Newton takes over
MOST_FALLS = 8
USUAL_STEPS = (20, 60)  # from level circles
MOST_STEPS = 3000  # in all; the longest way to a rest in a hundred designs by lot took 400
GIVEN_UP = "steps ran out"
MOST_LAYINGS = 4  # of cloth that slides, over hoops that it turns out to touch or not


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


def fall_to_stable(model: Model, rest: Rest, progress: Progress) -> tuple[Rest, Lowest]:
    """Where the rest is a saddle, follow its lowest mode down until a valley is reached."""
    rest = taken_up(model, rest)
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
        rest = taken_up(model, lower)
        lowest = lowest_mode(model, rest.posture, rest.forces)
    return rest, lowest


def taken_up(model: Model, rest: Rest) -> Rest:
    """The rest as whoever is given its state finds it, to the last bit."""
    posture = squared(model.cage.connectivity, rest.posture)
    begin_at_state(model, state_of(model, posture, rest.forces))
    for term in model.terms:
        if isinstance(term, Pulls):
            posture.said.pop(id(term), None)
    return replace(rest, posture=posture)


def along_mode(model: Model, rest: Rest, mode: Floats) -> Posture:
    """The posture pushed along a mode so that its farthest node moves by PUSH."""
    reach = float(np.abs(mode[: 3 * model.free_nodes]).max())
    return trial_at(model, rest.posture, rest.forces).moved(mode * (PUSH / max(reach, 1e-12))).posture


def finished(model: Model, rest: Rest, lowest: Lowest, progress: Progress) -> SettledCage:
    """The answer with its proof."""
    cage, state = model.cage, state_of(model, rest.posture, rest.forces)
    if lowest.standing is not None:
        keep(state, lowest.standing)
    return SettledCage(
        cage=cage,
        state=state,
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
