"""Rest: Newton's method, the constraints' forces brought up to date, and the question whether that is all.

The forces are brought up to date once the posture rests under those known so far, until the constraints hold. A small
unbalanced force can still mean a long way to go where a cage is soft, so the last question is how long one more step
of Newton's would be.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.factor import factorise
from cage3d.settle.model import Forces, Model, Trial, trial_at
from cage3d.settle.newton import Kept, bounded, minimise, unbalanced
from cage3d.settle.posture import Posture
from cage3d.settle.standing import RIGID
from cage3d.shape.arrays import Floats
from cage3d.steady import first_largest

FORCE_TOLERANCE = 1e-7  # N, largest unbalanced force at rest
LENGTH_TOLERANCE = 1e-8  # m, largest broken constraint at rest
STILL = 1e-5  # m, longest way of a node that one more step may find at rest
# m, the same two where a factor is kept: its steps cost little, and leave more behind than Newton's own.
CHEAPLY = (1e-9, 1e-9)
MOST_LAST_STEPS = 10  # towards a rest that is further off than its unbalanced force tells
HELPED = (
    0.25  # share of the worst constraint's excess, more than which after an update of the forces is too much
)
STIFFER, MOST_SPRING = 10.0, 1e6  # by so much and up to so many N a unit strain
IN_VAIN = (
    0.9  # share of that excess, more than which after an update under the stiffest springs is no help at all
)
TRIED = 3  # updates that may be no help at all
ASUNDER = 1e-4  # m, an excess that counts as one
NEARING = (1e-2, 1e-3, 1e-4, 1e-5, 1e-6)  # N left unbalanced, in turn


@dataclass(frozen=True)
class Rest:
    """Where Newton's method stopped, and why."""

    posture: Posture
    forces: Forces
    residual: float  # N
    broken: float  # m
    distance: float  # m, how far one more step of Newton's would move a node; nan where nobody asked
    worst_node: int
    steps: int
    reason: str  # "at rest", or what stopped it

    @property
    def settled(self) -> bool:
        return self.reason == "at rest"


def come_to_rest(
    model: Model,
    posture: Posture,
    forces: Forces,
    most_steps: int = 200,
    loose: float | None = None,
    kept: Kept | None = None,
) -> Rest:
    """Rest under the model's weights, every constraint held.

    loose: N; stop at this residual, with the constraints only as good as the springs hold them.
    kept: a factor that serves for several steps, where little is to be found.
    """
    trial = trial_at(model, posture, forces)
    steps, last_steps, distance, reason = 0, 0, float("nan"), "steps ran out"
    fine, last_broken, in_vain = force_tolerance(model), float("inf"), 0
    lengths, still = (LENGTH_TOLERANCE, STILL) if kept is None else CHEAPLY
    while True:
        trial, used = minimise(trial, loose or fine, most_steps - steps, kept)
        steps += used
        residual, broken = unbalanced(trial), trial.broken
        if loose is not None:
            reason = "at rest"
            break
        if residual <= fine and broken <= lengths:
            step = step_to_rest(trial, kept)
            distance = longest_way(model, step)
            if distance <= still or last_steps == MOST_LAST_STEPS:
                reason = "at rest" if distance <= STILL else "rest is further off than the forces tell"
                break
            trial, steps, last_steps = trial.moved(bounded(model, step)), steps + 1, last_steps + 1
            continue
        if residual > fine or steps >= most_steps:
            break
        # What cannot all be at once stays apart however hard it is pulled together.
        stiffest = trial.model.spring >= MOST_SPRING
        in_vain = in_vain + 1 if stiffest and broken > max(IN_VAIN * last_broken, ASUNDER) else 0
        if in_vain == TRIED:
            reason = "cannot be held"
            break
        # Forces that are brought up to date in vain go round in a circle; stiffer springs lead them in.
        stiffer_now = broken > HELPED * last_broken and not stiffest
        if kept is not None and stiffer_now:
            kept.factor = None
        last_broken = broken
        trial = trial.held_by(trial.acting, STIFFER if stiffer_now else 1.0)
    return Rest(trial.posture, trial.acting, residual, broken, distance, worst_node(trial), steps, reason)


def come_near_rest(
    model: Model, posture: Posture, forces: Forces, near: float, most_steps: int = 200
) -> Rest:
    """As `come_to_rest`, where it is enough that one more step would move no node by more than `near` m.

    Many times as quick, for answers that are told to a millimetre or its tenth; a saddle is no rest.
    """
    trial = trial_at(model, posture, forces)
    steps, distance, reason = 0, float("nan"), "steps ran out"
    for number, tolerance in enumerate(NEARING):
        trial, used = minimise(trial, tolerance, most_steps - steps)
        steps += used
        if steps >= most_steps:
            break
        rigid = trial.with_springs(RIGID)
        factor = factorise(rigid.hessian)
        if factor is None or factor.negative:
            reason = "on a saddle"
            break
        distance = longest_way(model, -factor.solve(rigid.gradient))
        held = trial.broken <= near / 10.0
        if distance <= near and held and unbalanced(trial) <= NEARING[0]:
            reason = "at rest"
            break
        # At first among the same springs: stiffer ones would snatch at every tape that is all but slack.
        stiffer_now = number > 0 and trial.model.spring < MOST_SPRING
        trial = trial.held_by(trial.acting, STIFFER if stiffer_now else 1.0)
    return Rest(
        trial.posture, trial.acting, unbalanced(trial), 0.0, distance, worst_node(trial), steps, reason
    )


def step_to_rest(trial: Trial, kept: Kept | None = None) -> Floats:
    """(size,) Newton's step; nothing on a saddle or a flat, where it leads nowhere and stability has its say."""
    factor = kept.factor if kept is not None and kept.factor is not None else factorise(trial.hessian)
    if factor is None or factor.negative:
        return np.zeros(trial.model.unknowns.size)
    return -factor.solve(trial.gradient)


def longest_way(model: Model, step: Floats) -> float:
    """m, by which a step moves the node that it moves most."""
    return float(np.linalg.norm(model.unknowns.split(step)[0], axis=1).max())


def force_tolerance(model: Model) -> float:
    """N, FORCE_TOLERANCE, or what rounding of positions leaves in the stiffest bend where nodes lie very close."""
    numbers = model.cage.parameters
    stiffest = float((numbers.stiff / numbers.bend_length**3).max(initial=0.0))
    return max(
        FORCE_TOLERANCE, 20.0 * np.finfo(np.float64).eps * stiffest
    )  # positions are of the order of 1 m


def worst_node(trial: Trial) -> int:
    """The node (or the first node of the edge) where the unbalanced force is largest."""
    model = trial.model
    worst = first_largest(np.abs(trial.gradient / np.sqrt(model.metric)))
    nodes = 3 * model.free_nodes
    return worst // 3 if worst < nodes else int(model.cage.connectivity.edges[worst - nodes, 0])
