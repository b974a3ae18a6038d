"""How much settling one question may cost, so that it is answered, or given up with the best so far, before long.

Counted in steps of Newton's and not in seconds: the same question ends at the same place on every machine.
"""

from __future__ import annotations

from dataclasses import dataclass

from cage3d.settle import SettledCage, settle
from cage3d.settle.settling import MOST_STEPS
from cage3d.shape.cage import Cage

IN_ALL = 5000  # steps: about half a minute of settling on tapes, a minute on cloth
FROM_NEAR = 1000  # steps of one cage that is settled from another; one that folds or turns over takes more


@dataclass
class Budget:
    """Of one question; `spent` grows with every cage that is settled for it."""

    most: int = IN_ALL  # steps
    spent: int = 0

    @property
    def left(self) -> int:
        return max(self.most - self.spent, 0)

    def settle(self, cage: Cage, near: SettledCage | None = None) -> SettledCage:
        """As `settle`; given up, and so not to be trusted, where that takes more steps than may be spent."""
        found = settle(cage, near, most_steps=min(self.left, MOST_STEPS if near is None else FROM_NEAR))
        self.spent += found.steps
        return found
