"""Newton's method with a shift and a line search: from a posture to the nearest resting place.

Where the Hessian has negative directions it is shifted by a multiple of the metric until it has none, so every step
goes down in energy (Nocedal and Wright, Numerical Optimization, section 3.4). Where more than one falls, or that one by
much, a shift would have to outdo the worst and all others would creep: what makes the Hessian fall is then left out of
every term (as Gauss and Newton's method does with squares; section 10.3). Near a saddle that in turn would creep.
The constraints' forces are brought up to date once the posture rests under the forces known so
far, until the constraints hold. A small unbalanced force can still mean a long way to go where a
cage is soft, so the last question is how long one more step of Newton's would be.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.factor import Factor, factorise
from cage3d.settle.model import Forces, Model, Trial, trial_at
from cage3d.settle.posture import Posture
from cage3d.settle.stability import RIGID
from cage3d.shape.arrays import Floats
from cage3d.steady import first_largest

FORCE_TOLERANCE = 1e-7  # N, largest unbalanced force at rest
LENGTH_TOLERANCE = 1e-8  # m, largest broken constraint at rest
STILL = 1e-5  # m, longest way of a node that one more step may find at rest
MOST_LAST_STEPS = 10  # towards a rest that is further off than its unbalanced force tells
FOUND_ANEW = 1e3  # times what rounding does to the energy: what finding strings anew does
UPHILL = 0.5  # of the slope before a step, that may be left with the other sign after it
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
LONGEST_STEP = 0.03  # m, so that no step turns a hoop over, nor leaps from one way of hanging into another
LARGEST_TURN = 0.8  # rad
FIRST_SHIFT = 1e-3  # N/m, below the pendulum stiffness of a light hoop
MOST_SHIFT = 1e9
SLIGHTLY = (
    0.003  # N/m; directions that all fall by less are near a saddle of theirs, where what is tamed creeps
)
MOST_UNTAMED = 1.0  # N/m; where one direction falls as little as that, a shift costs less than taming all
TAMED_SHIFT = 0.1  # N/m, with the tamed Hessian: little beside a hoop's pendulum stiffness of some N/m
SHORTENINGS = 12  # of a step, after which it is refused
LEAST_SHARE = 0.3  # of a step that is shortened; where tapes come taut a parabola asks for too little


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


class OutOfStepsError(Exception):
    """Settling has used up the steps that it may take; `trial` is as far as it came."""

    def __init__(self, trial: Trial) -> None:
        super().__init__("out of steps")
        self.trial = trial


@dataclass
class Shift:
    """The multiple of the metric added to the Hessian, grown and shrunk as steps fail and succeed."""

    value: float = 0.0

    def grow(self) -> None:
        self.value = max(4.0 * self.value, FIRST_SHIFT)

    def shrink(self) -> None:
        self.value = self.value / 8.0 if self.value > FIRST_SHIFT else 0.0


def unbalanced(trial: Trial) -> float:
    """N, the largest unbalanced force; moments count as a force at the strip's width."""
    return float(np.abs(trial.gradient / np.sqrt(trial.model.metric)).max())


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


def positive_factor(trial: Trial, shift: Shift) -> Factor | None:
    """The factor of the least shifted Hessian without negative directions; of the tamed one where that takes much."""
    metric = trial.model.metric
    while shift.value <= MOST_UNTAMED:
        factor = factorise(trial.hessian.shifted(shift.value, metric))
        if factor is not None and factor.negative == 0:
            return factor
        if factor is not None and factor.negative > 1 and shift.value > SLIGHTLY:
            break
        shift.grow()
    more = max(shift.value, TAMED_SHIFT)
    while more < MOST_SHIFT:
        factor = factorise(trial.tamed.shifted(more, metric))
        if factor is not None and factor.negative == 0:
            return factor
        more *= 4.0
    return None


def bounded(model: Model, step: Floats) -> Floats:
    """The step, shortened so that no node moves and no strip rolls too far at once."""
    moves, turns = model.unknowns.split(step)
    reach = max(np.abs(moves).max() / LONGEST_STEP, np.abs(turns).max(initial=0.0) / LARGEST_TURN, 1.0)
    return np.asarray(step / reach)


def minimise(trial: Trial, tolerance: float, most_steps: int) -> tuple[Trial, int]:
    """(the trial of least energy under the forces known so far, steps taken).

    Raises OutOfStepsError and CancelledError, as the model's watch says.
    """
    shift = Shift()
    for step_number in range(most_steps + 1):
        if unbalanced(trial) <= tolerance or step_number == most_steps:
            break
        if not trial.model.watch.may_step():
            raise OutOfStepsError(trial)
        factor = positive_factor(trial, shift)
        if factor is None:
            break
        taken, trial = search_along(trial, bounded(trial.model, -factor.solve(trial.gradient)))
        if taken == 0.0:
            if shift.value > MOST_SHIFT / 16.0:
                break
            shift.grow()
            shift.grow()
        elif taken == 1.0:
            shift.shrink()
    return trial, step_number


def search_along(trial: Trial, step: Floats) -> tuple[float, Trial]:
    """The first shortening of the step that lowers the energy enough (Armijo); 0 and the old trial if none.

    Shortened to where the parabola through slope and rise is lowest, to a half at most and to LEAST_SHARE at least.
    Where energies tell too little, the slope at the step's end says as much (Hager and Zhang 2005, approximate Wolfe
    conditions): strings found anew over the wearer come out as long as before to some 1e-12 m only.
    """
    slope, heights = float(trial.gradient @ step), trial.posture.positions[:, 2]
    noise = 1e-13 * (abs(trial.energy) + float(np.abs(trial.model.weight @ heights)) + 1.0)
    share = 1.0
    for _ in range(SHORTENINGS):
        further = trial.moved(share * step)
        # Near rest the gain drowns in rounding; there the slope must not have turned up again by much, or a place that
        # touches only just would be stepped over to and fro.
        rise = further.energy - trial.energy
        enough = -slope > noise and rise <= 1e-4 * share * slope + noise
        if not enough and (-slope <= noise or rise <= FOUND_ANEW * noise):
            enough = float(further.gradient @ step) <= -UPHILL * slope
        if enough:
            return share, further
        curve = rise - share * slope
        share *= min(max(-slope * share / (2.0 * curve), LEAST_SHARE), 0.5) if curve > 0.0 else 0.5
    return 0.0, trial


def come_to_rest(
    model: Model, posture: Posture, forces: Forces, most_steps: int = 200, loose: float | None = None
) -> Rest:
    """Rest under the model's weights, every constraint held.

    loose: N; stop at this residual, with the constraints only as good as the springs hold them.
    """
    trial = trial_at(model, posture, forces)
    steps, last_steps, distance, reason = 0, 0, float("nan"), "steps ran out"
    fine, last_broken, in_vain = force_tolerance(model), float("inf"), 0
    while True:
        trial, used = minimise(trial, loose or fine, most_steps - steps)
        steps += used
        residual, broken = unbalanced(trial), trial.broken
        if loose is not None:
            reason = "at rest"
            break
        if residual <= fine and broken <= LENGTH_TOLERANCE:
            step = step_to_rest(trial)
            distance = longest_way(model, step)
            if distance <= STILL or last_steps == MOST_LAST_STEPS:
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
    for tolerance in NEARING:
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
        trial = trial.held_by(trial.acting, STIFFER if trial.model.spring < MOST_SPRING else 1.0)
    return Rest(
        trial.posture, trial.acting, unbalanced(trial), 0.0, distance, worst_node(trial), steps, reason
    )


def step_to_rest(trial: Trial) -> Floats:
    """(size,) Newton's step; nothing on a saddle or a flat, where it leads nowhere and stability has its say."""
    factor = factorise(trial.hessian)
    if factor is None or factor.negative:
        return np.zeros(trial.model.unknowns.size)
    return -factor.solve(trial.gradient)


def longest_way(model: Model, step: Floats) -> float:
    """m, by which a step moves the node that it moves most."""
    return float(np.linalg.norm(model.unknowns.split(step)[0], axis=1).max())
