"""The lengths and drops with which the cage, settled under its skirt, has the figures that are wanted.

Least squares over what may change (Levenberg's and Marquardt's method in a trust region, Branch, Coleman and Li 1999,
as scipy has it), with the slopes of the settled cage exact: three to eight settlings.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import least_squares

from cage3d.design.models import Design
from cage3d.design.rules.reach import can_be_reached
from cage3d.settle import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.lay_out import lay_out
from cage3d.shape.lines import default_resolution
from cage3d.study.aiming.freedom import Freedom
from cage3d.study.aiming.wishes import Wish
from cage3d.study.budget import Budget
from cage3d.study.figures import Figure, figures_of, slopes_of
from cage3d.study.numbers import BARELY, bounds_of, in_bounds, numbers_of, slides_of, with_numbers
from cage3d.units import INCH, show_mm

WITHIN = INCH / 8  # m: near enough for a cage that is sewn
MET = 1e-5  # m: figures this near are met, and seeking ends
MOST_SETTLINGS = 40
A_FEW, A_LITTLE = (
    8,
    600,
)  # settlings, and steps of Newton's, that may take near figures from near enough to met
GAIN, PATIENCE = 0.05, 5  # a search that gained less than this share in so many settlings is over
REACH = 0.05  # m, how far the first step may go
SHY = 0.03  # m of figures off that count as much as a metre of change
NO_BETTER, SPENT = (
    "no change makes it better",
    "the search was given up here, as it takes very long",
)  # why it ended
ASTRAY = 1.0  # m, what every figure counts as off where the cage finds no rest


Best = tuple[float, Floats, SettledCage]  # sum of squares, way, the cage there


@dataclass(frozen=True)
class Aimed:
    """The best that was found: ask `settled.trusted`, and `off`."""

    design: Design
    settled: SettledCage
    wishes: tuple[Wish, ...]
    off: Floats  # (F,) m, settled less wanted
    slopes: Floats  # (F, P) m a metre of each direction
    settlings: int
    why: str  # the search ended, in words


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


def aim(
    design: Design,
    wishes: Sequence[Wish],
    freedom: Freedom,
    nodes: int | None = None,
    within: float = WITHIN,
    told: Callable[[str], object] = lambda _so_far: None,
    budget: Budget | None = None,
) -> Aimed:
    """The design changed within its freedom so that its figures are as wished, or as near as can be.

    nodes: a hoop; None: `default_resolution`. within: m, near enough where more would take a larger change. told:
    called with how far the search has come, in words. budget: of settling, None: a new one; once it is spent the best
    so far is the answer. Raises ValueError where the design itself finds no rest, or nothing is wished or free.
    """
    if not wishes or not len(freedom):
        raise ValueError("nothing is wished" if not wishes else "nothing is free")
    nodes, budget = nodes or default_resolution(design), budget or Budget()
    search = Search(design, freedom, tuple(wishes), nodes, within, told, budget)
    why = sought(search)
    if search.best is None:
        raise ValueError("the design finds no rest to begin from")
    _, way, settled = search.best
    return Aimed(
        search.design_at(way),
        settled,
        tuple(wishes),
        figures_of(settled, search.figures) - search.wanted,
        slopes_of(settled, search.design_at(way), search.nodes, freedom.directions, search.figures),
        search.settlings,
        why,
    )


def sought(search: Search) -> str:
    """Why the search ended.

    Shy first: figures can often be had by a little, and then nobody wants a cage that leans for their last millimetre.
    From there every figure is met if that takes no more than a few settlings.
    """
    search.shy, search.enough = SHY, search.within / 2.0
    why = sought_so(search, np.zeros(len(search.freedom)))
    if search.best is None:
        return why
    modest, search.shy, search.enough = search.best, 0.0, MET
    near = search.off_of(modest) <= search.within
    if near:
        search.most_settlings = min(search.settlings + A_FEW, MOST_SETTLINGS)
        search.most_spent = search.budget.spent + A_LITTLE
    search.best = (float(np.sum((figures_of(modest[2], search.figures) - search.wanted) ** 2)), *modest[1:])
    bold = sought_so(search, modest[1])
    if near and search.off_of(search.best) > MET:
        search.best = modest
        return "every figure is near enough, and more would take a larger change"
    return bold


def sought_so(search: Search, start: Floats) -> str:
    """One search from a way."""

    def residuals(way: Floats) -> Floats:
        return search.residuals(REACH * way)

    def slopes(way: Floats) -> Floats:
        return REACH * search.slopes(REACH * way)

    least, most = ways_within(search.start, search.freedom)
    search.gained = [search.settlings]
    try:
        found = least_squares(
            residuals,
            start / REACH,  # its first step has a length of one at most
            jac=slopes,
            bounds=(least / REACH, most / REACH),
            xtol=1e-5,
            ftol=1e-4,
            gtol=1e-10,
        )
    except Over as over:
        return str(over)
    return NO_BETTER if found.status > 0 else f"{search.settlings} settlings were tried"


def ways_within(design: Design, freedom: Freedom) -> tuple[Floats, Floats]:
    """(least, most) (P,) m along each direction alone, by which no number leaves its bounds.

    As far one way as the other, but along the length of a hoop that slides: it may be worn at either end.
    """
    numbers = numbers_of(design)
    below, above = (np.abs(bound - numbers)[:, None] for bound in bounds_of(design))
    steepness = np.maximum(np.abs(freedom.directions), 1e-12)
    reach = np.where(np.abs(freedom.directions) > 1e-9, np.minimum(below, above) / steepness, np.inf).min(
        axis=0
    )
    least, most = -reach, reach
    for place, ends in slides_of(design).items():
        along = np.abs(freedom.directions[place]) > 1e-9
        # A hair more, as scipy moves a start that lies on a bound, and takes that move for the size of its first step.
        least[along] = ends.least - numbers[place] - BARELY / 2.0
        most[along] = ends.most - numbers[place] + BARELY / 2.0
    return least, most
