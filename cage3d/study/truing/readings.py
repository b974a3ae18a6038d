"""What she measured and felt on the hung cage."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from cage3d.shape.arrays import Bools, Floats, Ints

# m, the finest step in which tape measures are read, from the coarsest.
INCH_STEPS = tuple(0.0254 / parts for parts in (1, 2, 4, 8, 16))
METRIC_STEPS = (0.01, 0.005, 0.002, 0.001)
ON_A_STEP = 2e-5  # m, as far off a reading may be written and still stand on a step


@dataclass(frozen=True)
class Readings:
    """R figures measured and F tapes felt."""

    places: Ints  # (R,) of the figures of `Hanging`
    values: Floats  # (R,) m
    step: float  # m, to which they were read
    felt: Ints  # (F,) segments
    loose: Bools  # (F,) whether they hang loose

    def __len__(self) -> int:
        return len(self.places) + len(self.felt)

    @property
    def sigma(self) -> float:
        """m, of what rounding to the step leaves: uniform within half a step either way."""
        return self.step / math.sqrt(12.0)

    def at(self, places: Ints, values: Floats) -> Readings:
        return replace(self, places=places, values=values)


def step_of(values: Floats, inches: bool) -> float:
    """m: the coarsest step on which all readings lie; an eighth of an inch or 1 mm where they are few."""
    steps = INCH_STEPS if inches else METRIC_STEPS
    usual = steps[3]
    for step in steps:
        if np.all(np.abs(values / step - np.round(values / step)) * step < ON_A_STEP):
            return step if len(values) >= 8 else min(step, usual)
    return steps[-1]
