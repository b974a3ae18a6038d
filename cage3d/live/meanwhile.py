"""A settling that takes long: the page is told how far it has come until it ends, with a rest or without one."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field

from cage3d.live.line import Line
from cage3d.live.words import still_settling

EVERY = 2.0  # s; a cage that comes to rest has done so by then, but for the largest on a slow machine


@dataclass
class Meanwhile:
    """Asked before every step of settling whether an answer is still wanted; counts them, and tells the page."""

    line: Line
    seq: int  # of the move that is settled
    overtaken: Callable[[], bool]  # whether something newer waits
    steps: int = 0
    next_told: float = field(default_factory=lambda: time.monotonic() + EVERY)

    def __call__(self) -> bool:
        if time.monotonic() >= self.next_told:
            self.line.say(still_settling(self.seq, self.steps))
            self.next_told = time.monotonic() + EVERY
        self.steps += 1
        return self.overtaken()
