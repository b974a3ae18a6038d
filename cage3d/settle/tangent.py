"""What small changes of a cage's numbers do to it as it hangs, without settling again.

Rest means g(q, p) = 0 with every active constraint c(q, p) = 0, so that (implicit function theorem)

    H dq + C^T df = -dg/dp dp        C dq = -dc/dp dp

with C the active constraints' gradients and df the change of their forces. Solved with the factor
of H + C^T k C (k stiff springs) at hand and the forces corrected until the constraints hold, as
settling itself does; forces that hold nothing, friction's, follow in the same way. Good for as long
as no tape goes slack or taut and nothing comes into touch.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np

from cage3d.settle.factor import Factor
from cage3d.settle.model import Trial
from cage3d.settle.standing import Standing, standing_of
from cage3d.settle.state import SettledCage
from cage3d.settle.terms import Blocks
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.changes import ParameterChanges

HELD = 1e-9  # of what a change asks of the constraints, left over
MOST_CORRECTIONS = 8
FOLLOWED = 1e-7  # of the steps, that friction still changes
MOST_FOLLOWED = 40


class Tangent:
    """The settled cage's stiffness, factorised once and kept for any number of changes.

    Raises ValueError where the cage is not settled and stable, or its stiffness cannot be factorised.
    """

    def __init__(self, settled: SettledCage) -> None:
        if not settled.trusted:
            raise ValueError("only a settled and stable cage has sensitivities")
        self.settled = settled

    @cached_property
    def standing(self) -> Standing:
        return standing_of(self.settled)

    @property
    def trial(self) -> Trial:
        """The cage at rest with its constraints as good as rigid."""
        return self.standing.trial

    @property
    def factor(self) -> Factor:
        if self.standing.factor is None:
            raise ValueError("the settled cage's Hessian could not be factorised")
        return self.standing.factor

    def moves(self, changes: ParameterChanges) -> Floats:
        """(N, 3, K) m a unit: how every node moves with each of K changes of the numbers."""
        return self.on_nodes(self.steps(changes))

    def moves_under(self, forces: Floats) -> Floats:
        """(N, 3, K) m a unit: how every node moves under each of K small sets of forces (N, 3, K) N on the nodes."""
        free, count = self.trial.model.free_nodes, forces.shape[2]
        falls = np.zeros((self.trial.model.unknowns.size, count))
        falls[: 3 * free] = -forces[:free].reshape(3 * free, count)
        return self.on_nodes(self.answer(falls, [None] * len(self.trial.readings)))

    def on_nodes(self, steps: Floats) -> Floats:
        """(N, 3, K) m of steps (size, K); what is fixed stays."""
        free, count = self.trial.model.free_nodes, steps.shape[1]
        out = np.zeros((self.settled.cage.connectivity.node_count, 3, count))
        out[:free] = steps[: 3 * free].reshape(free, 3, count)
        return out

    def steps(self, changes: ParameterChanges) -> Floats:
        """(size, K) m or rad a unit: how all unknowns go with each change."""
        trial = self.trial
        told = list(zip(trial.readings, trial.acting, strict=True))
        asked = [reading.excess_change(force, changes) for reading, force in told]
        grown = [reading.gradient_change(force, changes) for reading, force in told]
        return self.answer(trial.model.pattern.vectors(grown, changes.count), asked)

    def answer(self, falls: Floats, asked: list[Floats | None]) -> Floats:
        """(size, K) how all unknowns go where the gradient grows by falls (size, K) and the excesses by `asked`.

        Friction follows: its forces are brought up to date as settling does, until the steps stay.
        """
        steps, _ = self.held_answer(falls, asked)
        for _ in range(MOST_FOLLOWED):
            followed = self.following(steps)
            if followed is None:
                break
            before = steps
            steps, _ = self.held_answer(falls + followed, asked)
            if np.abs(steps - before).max(initial=0.0) <= FOLLOWED * np.abs(steps).max(initial=0.0):
                break
        return steps

    def following(self, steps: Floats) -> Floats | None:
        """(size, K) N, how the gradient grows as friction follows steps (size, K); None where there is none."""
        padded, pattern = np.vstack([steps, np.zeros(steps.shape[1])]), self.trial.model.pattern
        grown = [
            reading.gradient_following(padded[unknowns])
            for reading, unknowns in zip(self.trial.readings, pattern.unknowns, strict=True)
        ]
        return None if all(one is None for one in grown) else pattern.vectors(grown, steps.shape[1])

    def held_answer(
        self, falls: Floats, asked: list[Floats | None], held: float = HELD
    ) -> tuple[Floats, list[Floats]]:
        """The same with forces that hold nothing as they are; and (n, K) N a term, how those of constraints grow.

        held: of what is asked, that may be left over.
        """
        count = falls.shape[1]
        steps = -self.factor.solve(falls + self.held_back(asked, count))
        left = self.left_over(asked, steps)
        broken = left
        for _ in range(MOST_CORRECTIONS):
            if largest(left) <= held * largest(asked):
                break
            steps -= self.factor.solve(self.held_back(left, count))
            left = self.left_over(asked, steps)
            broken = [
                one if one is None or more is None else one + more
                for one, more in zip(broken, left, strict=True)
            ]
        return steps, self.pulls_of(broken, count)

    def left_over(self, asked: list[Floats | None], steps: Floats) -> list[Floats | None]:
        """(n, K) m a term, by how much active constraints are still broken after steps (size, K)."""
        return [self.growth(place, growth, steps) for place, growth in enumerate(asked)]

    def pulls_of(self, broken: list[Floats | None], count: int) -> list[Floats]:
        """(n, K) N a term, the springs' pulls where each is so much longer."""
        spring = self.trial.model.spring
        return [
            np.zeros((len(reading.stiffness(spring)), count))
            if over is None
            else reading.stiffness(spring)[:, None] * over
            for reading, over in zip(self.trial.readings, broken, strict=True)
        ]

    def held_back(self, excess: list[Floats | None], count: int) -> Floats:
        """(size, count) N, what the springs of active constraints answer to an excess (n, count) m of each."""
        spring, blocks = self.trial.model.spring, list[Blocks | None]()
        for reading, acting, over in zip(self.trial.readings, self.trial.acting, excess, strict=True):
            slope = None if over is None else reading.slope(acting)
            if over is None or slope is None:
                blocks.append(None)
                continue
            pull = (reading.stiffness(spring)[:, None] * over)[rows_of(slope)]
            blocks.append(Blocks(slope.values[:, :, None] * pull[:, None, :], slope.rows))
        return self.trial.model.pattern.vectors(blocks, count)

    def growth(self, place: int, asked: Floats | None, steps: Floats) -> Floats | None:
        """(n, K) m, how much the active constraints of one term are broken by steps (size, K) and changed numbers."""
        slope = self.trial.readings[place].slope(self.trial.acting[place])
        if slope is None:
            return None
        unknowns = self.trial.model.pattern.unknowns[place][rows_of(slope)]
        moves = np.vstack([steps, np.zeros(steps.shape[1])])[unknowns]
        broken = np.zeros((len(self.trial.acting[place]), steps.shape[1])) if asked is None else asked.copy()
        broken[rows_of(slope)] += np.einsum("mk,mkc->mc", slope.values, moves)
        return broken * self.trial.readings[place].held_only(np.ones(len(broken)))[:, None]


def rows_of(blocks: Blocks) -> Ints | slice:
    return slice(None) if blocks.rows is None else blocks.rows


def largest(excess: list[Floats | None]) -> float:
    """m, the largest of all of them."""
    return max((float(np.abs(part).max(initial=0.0)) for part in excess if part is not None), default=0.0)
