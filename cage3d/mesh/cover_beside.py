"""The skirt over hoops that stand beside her: taut round both baskets at once, straight before and behind her."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest

import numpy as np
from scipy.spatial import ConvexHull

from cage3d.design.models import Design
from cage3d.mesh.strip_line import StripLine
from cage3d.mesh.wearer import drawn_form
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.ovals import girth_along
from cage3d.shape.waist import waist_ring

PLACES = 200  # on each hoop
HER_PLACES = 96  # round her, where one basket hangs alone


def hoops_at_one_level(design: Design) -> list[tuple[int, ...]]:
    """The hoops (from 0) that a cloth goes round together, from the top.

    The first of both baskets, the second of both, and so on; a hoop that goes round her is one by itself, below what
    is listed before it.
    """
    levels: list[tuple[int, ...]] = []
    waiting: dict[str, list[int]] = {"left": [], "right": []}

    def together() -> None:
        levels.extend(
            tuple(hoop for hoop in pair if hoop is not None) for pair in zip_longest(*waiting.values())
        )
        for side in waiting.values():
            side.clear()

    for number, hoop in enumerate(design.hoops):
        if hoop.beside is not None:
            waiting[hoop.beside].append(number)
            continue
        together()
        levels.append((number,))
    together()
    return levels


def taut_round(settled: SettledCage, lines: Sequence[StripLine], fractions: Floats) -> Floats:
    """(n, 3) m on a cloth drawn taut round hoops beside her, and round her, at shares of its girth."""
    places = [line.at(np.linspace(line.along[0], line.along[-1], PLACES)) for line in lines]
    level = float(np.mean([points[:, 2].mean() for points in places]))
    points = np.vstack([*places, her_ring(settled, level)])
    around = points[ConvexHull(points[:, :2]).vertices]  # counter-clockwise seen from above: by her left
    loop = from_centre_front(np.vstack([around, around[:1]]))
    wanted = fractions * (along := girth_along(loop[:, :2]))[-1]
    return np.column_stack([np.interp(wanted, along, column) for column in loop.T])


def her_ring(settled: SettledCage, level: float) -> Floats:
    """(n, 3) m round her at a height: her form, or her waist where no hip was measured."""
    form = drawn_form(settled)
    if form is not None:
        return form.ring(level, HER_PLACES)
    ring = waist_ring(settled.cage.design, np.arange(HER_PLACES) / HER_PLACES, 0.0)
    return np.column_stack([ring[:, :2], np.full(HER_PLACES, level)])


def from_centre_front(loop: Floats) -> Floats:
    """A closed loop (k + 1, 3) m about the waist's axis, by her left, that begins and ends at centre front."""
    x, y = loop[:, 0], loop[:, 1]
    meets = np.flatnonzero((x[:-1] <= 0.0) & (x[1:] > 0.0) & (y[:-1] < 0.0))
    first = int(meets[0])
    share = -x[first] / (x[first + 1] - x[first])
    start = loop[first] + share * (loop[first + 1] - loop[first])
    return np.vstack([start, loop[first + 1 : -1], loop[: first + 1], start])
