"""Newton's method with a shift and a line search: from a posture to the nearest valley under the forces known so far.

Where the Hessian has negative directions it is shifted by a multiple of the metric until it has none, so every step
goes down in energy (Nocedal and Wright, Numerical Optimization, section 3.4). Where more than one falls, or that one by
much, a shift would have to outdo the worst and all others would creep: what makes the Hessian fall is then left out of
every term (as Gauss and Newton's method does with squares; section 10.3). Near a saddle that in turn would creep.
Where a cage is settled again and next to nothing is left to find, one factor serves for several steps (Nocedal and
Wright, section 11.1, the chord method) for as long as each leaves a tenth of what the one before left.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.factor import Factor, factorise
from cage3d.settle.model import Model, Trial
from cage3d.shape.arrays import Floats

FOUND_ANEW = 1e3  # times what rounding does to the energy: what finding strings anew does
UPHILL = 0.5  # of the slope before a step, that may be left with the other sign after it
LONGEST_STEP = 0.03  # m, so that no step turns a hoop over, nor leaps from one way of hanging into another
LARGEST_TURN = 0.8  # rad
FIRST_SHIFT = 1e-3  # N/m, below the pendulum stiffness of a light hoop
MOST_SHIFT = 1e9
SLIGHTLY = (
    0.003  # N/m; directions that all fall by less are near a saddle of theirs, where what is tamed creeps
)
MOST_UNTAMED = 1.0  # N/m; where one direction falls as little as that, a shift costs less than taming all
TAMED_SHIFT = 0.1  # N/m, with the tamed Hessian: little beside a hoop's pendulum stiffness of some N/m
SERVED = 0.1  # of the unbalanced force before a step, left after it: its factor may serve again
SHORTENINGS = 12  # of a step, after which it is refused
LEAST_SHARE = 0.3  # of a step that is shortened; where tapes come taut a parabola asks for too little


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


@dataclass
class Kept:
    """The factor of the last step's Hessian, for as long as its steps are as good as Newton's own."""

    factor: Factor | None = None

    def judge(self, factor: Factor, served: bool) -> None:
        self.factor = factor if served else None


def unbalanced(trial: Trial) -> float:
    """N, the largest unbalanced force; moments count as a force at the strip's width."""
    return float(np.abs(trial.gradient / np.sqrt(trial.model.metric)).max())


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


def minimise(trial: Trial, tolerance: float, most_steps: int, kept: Kept | None = None) -> tuple[Trial, int]:
    """(the trial of least energy under the forces known so far, steps taken).

    kept: where one factor may serve for several steps. Raises OutOfStepsError and CancelledError, as the model's watch
    says.
    """
    shift = Shift()
    for step_number in range(most_steps + 1):
        if unbalanced(trial) <= tolerance or step_number == most_steps:
            break
        if not trial.model.watch.may_step():
            raise OutOfStepsError(trial)
        again = kept.factor if kept is not None else None
        factor = again or positive_factor(trial, shift)
        if factor is None:
            break
        before = unbalanced(trial)
        taken, trial = search_along(trial, bounded(trial.model, -factor.solve(trial.gradient)))
        if kept is not None:
            whole = taken == 1.0 and shift.value == 0.0
            kept.judge(factor, whole and unbalanced(trial) <= SERVED * before)
        if again is not None:
            continue
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
