"""The design's silhouette aimed anew for another wearer: its widths, and its heights between her band and the hem."""

from __future__ import annotations

from cage3d.design.models import Design
from cage3d.settle import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.lines import default_resolution
from cage3d.shape.waist import tape_zeros
from cage3d.study.aiming.aim import WITHIN, aim
from cage3d.study.aiming.freedom import freedom_of
from cage3d.study.aiming.rounding import rounded
from cage3d.study.aiming.wishes import Wish
from cage3d.study.budget import Budget
from cage3d.study.figures import KINDS, Figure, figures_of
from cage3d.study.grading.drops import hem_of


def refitted(base: SettledCage, start: Design, wanted: Floats, step: float, budget: Budget) -> Design:
    """All lengths and drops sought by the way back (`study.aim`) and rounded to `step` (m); the hem at `wanted` (4,) m.

    base: how the design hangs on its own wearer; start: the design with the new wearer, its hoops as long as her hip
    asks; budget: of settling. Where there is no rest to begin from it stays as it is.
    """
    wishes, freedom, nodes = wishes_for(base, start, wanted), freedom_of(start), default_resolution(start)
    try:
        exact = aim(start, wishes, freedom, nodes, budget=budget)
    except ValueError:
        return start
    return rounded(exact, start, freedom, nodes, step, WITHIN).design


def wishes_for(base: SettledCage, design: Design, wanted: Floats) -> tuple[Wish, ...]:
    """Every hoop's heights and widths as they hang, between her waistband and her hem; longer hoops so much wider."""
    own = base.cage.design
    figures = [Figure(hoop, kind) for hoop in range(len(own.hoops)) for kind in KINDS]
    values = figures_of(base, figures)
    low = hem_of(base).mean()
    stretch = (tape_zeros(design)[:, 2].mean() - wanted.mean()) / (tape_zeros(own)[:, 2].mean() - low)
    wishes = []
    for figure, value in zip(figures, values, strict=True):
        if figure.kind.startswith("height"):
            value = wanted.mean() + (value - low) * stretch
        else:
            value *= design.hoops[figure.hoop].length / own.hoops[figure.hoop].length
        wishes.append(Wish(figure, float(value)))
    return tuple(wishes)
