"""A cage on its own cloth changed at no more hoops than must be.

A level moves its own hoop alone, so most wishes are met by the hoops that they name. Were all set free at once, each
would change a little, and the maker would mark every casing anew for one hem.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from cage3d.design.models import Design
from cage3d.study.aiming.aim import Aimed, aim
from cage3d.study.aiming.freedom import Freedom
from cage3d.study.aiming.wishes import Wish
from cage3d.study.budget import Budget
from cage3d.study.numbers import numbers_of

LITTLE = 0.1  # of a number: where one hoop would have to change by more, the others help


def aimed(
    design: Design,
    wishes: Sequence[Wish],
    freedom: Freedom,
    nodes: int,
    within: float,
    told: Callable[[str], object],
    budget: Budget,
) -> tuple[Aimed, Freedom]:
    """What `aim` finds, and within which freedom: of cloth first that of the hoops of which something is wanted.

    budget: of both searches together. Raises ValueError as `aim` does.
    """
    own = freedom.of_hoops({wish.figure.hoop + 1 for wish in wishes})
    if design.cloth is None or not 0 < len(own) < len(freedom):
        return aim(design, wishes, freedom, nodes, within, told, budget), freedom
    first = aim(design, wishes, own, nodes, within, told, budget)
    if meets(first, within) and little_changed(design, first.design):
        return first, own
    if budget.left == 0:
        return first, own
    every = aim(design, wishes, freedom, nodes, within, told, budget)
    found, free = (first, own) if meets(first, within) and not meets(every, within) else (every, freedom)
    return replace(found, settlings=first.settlings + every.settlings), free


def meets(found: Aimed, within: float) -> bool:
    """Whether every figure is near enough to be rounded."""
    return found.settled.trusted and float(np.abs(found.off).max()) <= within / 2.0


def little_changed(before: Design, after: Design) -> bool:
    was = numbers_of(before)
    return bool(np.all(np.abs(numbers_of(after) - was) <= LITTLE * was))
