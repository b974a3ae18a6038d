"""Times of a call, told two ways: what one waits, and what the processor works."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

HEAD = f"{'':44}{'wall':>9}{'best':>9}{'CPU':>9}{'goal':>10}   runs"


@dataclass(frozen=True)
class Times:
    """Of several runs of the same call (s)."""

    wall: np.ndarray
    cpu: np.ndarray

    @property
    def median(self) -> float:
        return float(np.median(self.wall))

    @property
    def median_cpu(self) -> float:
        return float(np.median(self.cpu))

    def line(self, what: str, goal: str = "") -> str:
        """One row under HEAD: medians of wall and CPU time, and the best wall time."""
        figures = "".join(f"{value:9.3f}" for value in (self.median, self.wall.min(), self.median_cpu))
        return f"{what:44}{figures}{goal:>10}   {len(self.wall)}"


def times_of(call: Callable[[], object], runs: int) -> Times:
    """The call timed so many times; run once before that wherever a first run costs more."""
    wall, cpu = np.empty(runs), np.empty(runs)
    for run in range(runs):
        began, worked = time.perf_counter(), time.process_time()
        call()
        wall[run], cpu[run] = time.perf_counter() - began, time.process_time() - worked
    return Times(wall, cpu)


def exponent(nodes: list[int], seconds: list[float]) -> float:
    """By which power of the nodes the time grows: slope of the straight line through the logarithms."""
    return float(np.polyfit(np.log(nodes), np.log(seconds), 1)[0])
