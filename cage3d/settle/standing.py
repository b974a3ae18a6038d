"""How a settled cage stands: its stiffness with every constraint as good as rigid, factorised once for all who ask.

Stability, sensitivities and the first step towards a changed cage ask for the same factor. The last few that were
worked out are kept, so that a cage that is changed again and again is factorised once at every rest. What is kept is
to the last bit what a state that was stored would give.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from functools import cached_property

from cage3d.settle.factor import Factor, factorise
from cage3d.settle.model import Forces, Model, Trial, acting_at, model_of, stiffer
from cage3d.settle.posture import Posture
from cage3d.settle.state import SettledCage, State
from cage3d.settle.taking_up import posture_of

# N per unit strain: so stiff that constraints count as rigid beside bending, soft enough to leave digits.
RIGID = 1e6
KEPT = 4  # some MB each


@dataclass(frozen=True)
class Standing:
    """A posture and the forces that act in it."""

    trial: Trial

    @cached_property
    def factor(self) -> Factor | None:
        """None where a pivot vanishes."""
        return factorise(self.trial.hessian)


kept: deque[tuple[State, Standing]] = deque(maxlen=KEPT)


def standing_at(model: Model, posture: Posture, forces: Forces) -> Standing:
    """forces: N, that act there."""
    return Standing(acting_at(stiffer(model, RIGID), posture, forces))


def keep(state: State, standing: Standing) -> None:
    """For whoever asks about a cage in this very state."""
    kept.append((state, standing))


def standing_of(settled: SettledCage) -> Standing:
    """That of a settled cage, worked out where it is not known any more."""
    for state, standing in tuple(kept):
        if state is settled.state:
            return standing
    model = model_of(settled.cage, RIGID)
    standing = standing_at(model, *posture_of(model, settled.state))
    keep(settled.state, standing)
    return standing
