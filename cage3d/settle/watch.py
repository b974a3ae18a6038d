"""How long settling may go on: steps of Newton's counted, and a question asked before each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from cage3d.errors import CancelledError


@dataclass
class Watch:
    """Of one settling."""

    most_steps: int | None = None  # None: as many as it takes
    cancel: Callable[[], bool] | None = None  # whether who asked wants no answer any more
    steps: int = 0  # taken so far

    def may_step(self) -> bool:
        """Whether one step more may be taken, which then counts. Raises CancelledError where none is wanted."""
        if self.cancel is not None and self.cancel():
            raise CancelledError
        if self.most_steps is not None and self.steps >= self.most_steps:
            return False
        self.steps += 1
        return True
