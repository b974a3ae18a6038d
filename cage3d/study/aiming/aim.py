"""The lengths and drops with which the cage, settled under its skirt, has the figures that are wanted.

Least squares over what may change (Levenberg's and Marquardt's method in a trust region, Branch, Coleman and Li 1999,
as scipy has it), with the slopes of the settled cage exact: three to eight settlings.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import least_squares

from cage3d.design.models import Design
from cage3d.settle import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.lines import default_resolution
from cage3d.study.aiming.freedom import Freedom
from cage3d.study.aiming.search import MET, MOST_SETTLINGS, NO_BETTER, Over, Search
from cage3d.study.aiming.wishes import Wish
from cage3d.study.budget import Budget
from cage3d.study.figures import figures_of, slopes_of
from cage3d.study.numbers import BARELY, bounds_of, numbers_of, slides_of
from cage3d.units import INCH

WITHIN = INCH / 8  # m: near enough for a cage that is sewn
# Settlings, and steps of Newton's, that may take near figures from near enough to met.
A_FEW, A_LITTLE = 8, 600
REACH = 0.05  # m, how far the first step may go
SHY = 0.03  # m of figures off that count as much as a metre of change


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
