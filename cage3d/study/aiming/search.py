"""The settled cages of a search for wanted figures: what is off at each way, how that goes, and when it is over."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from cage3d.design.models import Design
from cage3d.design.rules.reach import can_be_reached
from cage3d.settle import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.lay_out import lay_out
from cage3d.study.aiming.freedom import Freedom
from cage3d.study.aiming.wishes import Wish
from cage3d.study.budget import Budget
from cage3d.study.figures import Figure, figures_of, slopes_of
from cage3d.study.numbers import in_bounds, numbers_of, with_numbers
from cage3d.units import show_mm

MET = 1e-5  # m: figures this near are met, and seeking ends
MOST_SETTLINGS = 40
GAIN, PATIENCE = 0.05, 5  # a search that gained less than this share in so many settlings is over
ASTRAY = 1.0  # m, what every figure counts as off where the cage finds no rest
# Why it ended.
NO_BETTER = "no change makes it better"
SPENT = "the search was given up here, as it takes very long"

Best = tuple[float, Floats, SettledCage]  # sum of squares, way, the cage there


class Over(Exception):
    """No further step is worth a settling; why, in words."""


@dataclass
class Search:
    """The settled cages of a search: each number is settled from the nearest one before it."""

    start: Design
    freedom: Freedom
    wishes: Sequence[Wish]
    nodes: int
    within: float
    told: Callable[[str], object]
    budget: Budget
    shy: float = 0.0  # m of figures off that count as much as a metre of change
    enough: float = MET
    most_settlings: int = MOST_SETTLINGS  # by which this part of the search is over
    most_spent: int | None = None  # steps of the budget, the same; None: all of it
    settlings: int = 0
    best: Best | None = None
    gained: list[int] = field(default_factory=list)  # settlings at which it became clearly better
    kept: dict[bytes, SettledCage] = field(default_factory=dict)

    @property
    def figures(self) -> list[Figure]:
        return [wish.figure for wish in self.wishes]

    @property
    def wanted(self) -> Floats:
        return np.array([wish.value for wish in self.wishes])

    def design_at(self, way: Floats) -> Design:
        """The design after `way` (P,) m along the free directions."""
        return with_numbers(self.start, numbers_of(self.start) + self.freedom.directions @ way)

    def in_bounds(self, way: Floats) -> bool:
        """Whether the design there is still the same one (see `numbers.in_bounds`), and its tapes span their steps."""
        numbers = numbers_of(self.start) + self.freedom.directions @ way
        return in_bounds(self.start, numbers) and can_be_reached(with_numbers(self.start, numbers))

    def settled_at(self, way: Floats) -> SettledCage:
        key = way.tobytes()
        if key not in self.kept:
            near = self.best[2] if self.best else None
            self.kept = {key: self.budget.settle(lay_out(self.design_at(way), self.nodes), near)}
            self.settlings += 1
            self.told(self.so_far)
        return self.kept[key]

    @property
    def so_far(self) -> str:
        """How far it has come, in words."""
        nearest = f", the farthest figure {show_mm(self.off_of(self.best))} mm off" if self.best else ""
        return f"settling {self.settlings + 1}{nearest}"

    @property
    def why_over(self) -> str | None:
        """Why no settling more is tried in this part of the search; None where one may be."""
        if self.budget.left == 0:
            return SPENT
        if self.most_spent is not None and self.budget.spent >= self.most_spent:
            return NO_BETTER
        return NO_BETTER if self.settlings >= self.most_settlings else None

    def residuals(self, way: Floats) -> Floats:
        """(F + P,) m: what is off, and the change itself as far as the search is shy."""
        return np.concatenate([self.off(way), self.shy * way])

    def off(self, way: Floats) -> Floats:
        """(F,) m, settled less wanted. Raises Over: it is near enough, nothing has helped for long, all is spent."""
        if not self.in_bounds(way) or not (settled := self.settled_at(way)).trusted:
            if self.best is not None and (why := self.why_over):
                raise Over(why)
            return np.full(len(self.wishes), ASTRAY)
        off = figures_of(settled, self.figures) - self.wanted
        squares = float(np.sum(off**2) + np.sum((self.shy * way) ** 2))
        if self.best is None or squares < self.best[0]:
            self.gained += [] if self.best and squares > (1.0 - GAIN) * self.best[0] else [self.settlings]
            self.best = (squares, way.copy(), settled)
        if np.abs(off).max() < self.enough:
            raise Over("every figure is met")
        why = self.why_over or (NO_BETTER if self.settlings - self.gained[-1] >= PATIENCE else None)
        if why:
            raise Over(why)
        return off

    def slopes(self, way: Floats) -> Floats:
        """(F + P, P): how the residuals go with the way."""
        directions, own = self.freedom.directions, self.shy * np.eye(len(way))
        if not self.in_bounds(way) or not (settled := self.settled_at(way)).trusted:
            return np.vstack([np.zeros((len(self.wishes), len(way))), own])
        return np.vstack([slopes_of(settled, self.design_at(way), self.nodes, directions, self.figures), own])

    def off_of(self, best: Best) -> float:
        """m, the most that a figure is off there."""
        return float(np.abs(figures_of(best[2], self.figures) - self.wanted).max())
