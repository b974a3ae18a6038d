"""What the pictures show: a settled cage with its measures, and its hoops as smooth curves."""

from __future__ import annotations

from dataclasses import dataclass

from cage3d.draw.overlay import Place
from cage3d.report.curves import hoop_curve
from cage3d.report.record import Report
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.steady import first_largest
from cage3d.units import show_length


@dataclass(frozen=True)
class Hung:
    """One cage to draw."""

    settled: SettledCage
    report: Report
    curves: tuple[Floats, ...]  # one (n, 3) m a hoop
    ties_named: bool = True  # in slanting views

    @staticmethod
    def of(settled: SettledCage, report: Report) -> Hung:
        count = settled.cage.connectivity.hoop_count
        return Hung(settled, report, tuple(hoop_curve(settled, hoop).points for hoop in range(count)))

    def show(self, metres: float) -> str:
        return show_length(metres, self.report.units)

    def bare(self, metres: float) -> str:
        return show_length(metres, self.report.units, unit=False)


def extreme(flat: Floats, side: int) -> Place:
    """The place furthest to the right (1) or left (-1) of points (n, 2) px."""
    x, y = flat[first_largest(side * flat[:, 0])]
    return float(x), float(y)
