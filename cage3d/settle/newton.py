"""Newton's method with a shift and a line search: from a posture to the nearest resting place.

Where the Hessian has negative directions it is shifted by a multiple of the metric until it has
none, so every step goes down in energy (Nocedal and Wright, Numerical Optimization, section 3.4).
The constraints' forces are brought up to date once the posture rests under the forces known so
far, until the constraints hold.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import csc_array

from cage3d.settle.factor import Factor, factorise, shifted
from cage3d.settle.model import Excess, Forces, Model, Posture, derivatives, energy, forces_after, moved
from cage3d.shape.arrays import Floats
from cage3d.steady import first_largest

FORCE_TOLERANCE = 1e-7  # N, largest unbalanced force at rest
LENGTH_TOLERANCE = 1e-8  # m, largest broken constraint at rest
LONGEST_STEP = 0.10  # m, so that no step turns a hoop over
LARGEST_TURN = 0.8  # rad
FIRST_SHIFT = 1e-3  # N/m, below the pendulum stiffness of a light hoop
MOST_SHIFT = 1e9


@dataclass(frozen=True)
class Rest:
    """Where Newton's method stopped, and why."""

    posture: Posture
    forces: Forces
    residual: float  # N
    broken: float  # m
    worst_node: int
    steps: int
    reason: str  # "at rest", or what stopped it

    @property
    def settled(self) -> bool:
        return self.reason == "at rest"


@dataclass
class Shift:
    """The multiple of the metric added to the Hessian, grown and shrunk as steps fail and succeed."""

    value: float = 0.0

    def grow(self) -> None:
        self.value = max(4.0 * self.value, FIRST_SHIFT)

    def shrink(self) -> None:
        self.value = self.value / 8.0 if self.value > FIRST_SHIFT else 0.0


def unbalanced(model: Model, gradient: Floats) -> float:
    """N, the largest unbalanced force; moments count as a force at the strip's width."""
    return float(np.abs(gradient / np.sqrt(model.metric)).max())


def force_tolerance(model: Model) -> float:
    """N, FORCE_TOLERANCE, or what rounding of positions leaves in the stiffest bend where nodes lie very close."""
    numbers = model.cage.parameters
    stiffest = float((numbers.stiff / numbers.bend_length**3).max(initial=0.0))
    return max(
        FORCE_TOLERANCE, 20.0 * np.finfo(np.float64).eps * stiffest
    )  # positions are of the order of 1 m


def worst_node(model: Model, gradient: Floats) -> int:
    """The node (or the first node of the edge) where the unbalanced force is largest."""
    worst = first_largest(np.abs(gradient / np.sqrt(model.metric)))
    nodes = 3 * model.free_nodes
    return worst // 3 if worst < nodes else int(model.cage.connectivity.edges[worst - nodes, 0])


def broken_constraint(excess: Excess, forces: Forces) -> float:
    """m, by how much the worst constraint is broken: too long, or slack while its force acts."""

    def one_way(gap: Floats, force: Floats) -> float:
        held = np.where(force > 0.0, np.abs(gap), np.maximum(gap, 0.0))
        return float(held.max(initial=0.0))

    return max(
        float(np.abs(excess.edges).max(initial=0.0)),
        one_way(excess.pulls, forces.pulls),
        one_way(excess.floor, forces.floor),
        one_way(excess.body, forces.body),
    )


def positive_factor(model: Model, hessian: csc_array, shift: Shift) -> Factor | None:
    """The factor of the least shifted Hessian without negative directions."""
    while shift.value < MOST_SHIFT:
        factor = factorise(shifted(model.pattern, hessian, shift.value, model.metric))
        if factor is not None and factor.negative == 0:
            return factor
        shift.grow()
    return None


def bounded(model: Model, step: Floats) -> Floats:
    """The step, shortened so that no node moves and no strip rolls too far at once."""
    nodes = 3 * model.free_nodes
    reach = max(
        np.abs(step[:nodes]).max() / LONGEST_STEP, np.abs(step[nodes:]).max(initial=0.0) / LARGEST_TURN, 1.0
    )
    return np.asarray(step / reach)


def minimise(
    model: Model, posture: Posture, forces: Forces, tolerance: float, most_steps: int
) -> tuple[Posture, Floats, int, Excess]:
    """The posture of least energy under the forces known so far: (posture, gradient, steps, excess)."""
    shift = Shift()
    for step_number in range(most_steps + 1):
        gradient, hessian, excess = derivatives(model, posture, forces)
        residual = unbalanced(model, gradient)
        if residual <= tolerance or step_number == most_steps:
            break
        factor = positive_factor(model, hessian, shift)
        if factor is None:
            break
        step = bounded(model, -factor.solve(gradient))
        taken, posture = search_along(model, posture, forces, step, float(gradient @ step))
        if taken == 0.0:
            if shift.value > MOST_SHIFT / 16.0:
                break
            shift.grow()
            shift.grow()
        elif taken == 1.0:
            shift.shrink()
    return posture, gradient, step_number, excess


def search_along(
    model: Model, posture: Posture, forces: Forces, step: Floats, slope: float
) -> tuple[float, Posture]:
    """The first halving of the step that lowers the energy enough (Armijo); 0 and the old posture if none."""
    start = energy(model, posture, forces)
    # Near rest the gain drowns in rounding; a step that small is taken as it is.
    noise = 1e-13 * (abs(start) + float(np.abs(model.weight @ posture.positions[:, 2])) + 1.0)
    share = 1.0
    for _ in range(12):
        trial = moved(model, posture, share * step)
        if energy(model, trial, forces) <= start + 1e-4 * share * slope + noise:
            return share, trial
        share /= 2.0
    return 0.0, posture


def come_to_rest(
    model: Model, posture: Posture, forces: Forces, most_steps: int = 200, loose: float | None = None
) -> Rest:
    """Rest under the model's weights, every constraint held.

    loose: N; stop at this residual, with the constraints only as good as the springs hold them.
    """
    steps, reason = 0, "steps ran out"
    fine = force_tolerance(model)
    while True:
        posture, gradient, used, excess = minimise(model, posture, forces, loose or fine, most_steps - steps)
        steps += used
        residual = unbalanced(model, gradient)
        forces = forces_after(model, excess, forces)
        broken = broken_constraint(excess, forces)
        if loose is not None or (residual <= fine and broken <= LENGTH_TOLERANCE):
            reason = "at rest"
            break
        if residual > fine or steps >= most_steps:
            break
    return Rest(posture, forces, residual, broken, worst_node(model, gradient), steps, reason)
