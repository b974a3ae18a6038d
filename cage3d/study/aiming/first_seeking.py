"""What is sought for a first design as it hangs, and by which of its numbers."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.design.first.cage import FirstCage, Target
from cage3d.design.models import Design
from cage3d.settle import SettledCage, settle
from cage3d.shape.arrays import Floats
from cage3d.shape.lay_out import lay_out
from cage3d.shape.lines import default_resolution
from cage3d.study.aiming.freedom import freedom_of
from cage3d.study.figures import Figure, figures_of, slopes_of
from cage3d.study.numbers import number_names, numbers_of, with_numbers


@dataclass(frozen=True)
class Hung:
    """A first design with the cage as it hangs."""

    design: Design
    settled: SettledCage


@dataclass(frozen=True)
class Seeking:
    """What is sought for a first cage, and by which of its D numbers."""

    targets: tuple[Target, ...]
    columns: Floats  # (D, P): what may change
    nodes: int
    figures: tuple[Figure, ...]
    sums: Floats  # (T, F): each target's figures by their factors, as much as it counts

    def off(self, settled: SettledCage) -> Floats:
        """(T,) m, settled less wanted, each as much as it counts."""
        wanted = np.array([target.counts * target.value for target in self.targets])
        return np.asarray(self.sums @ figures_of(settled, self.figures) - wanted)

    def slopes(self, hung: Hung, columns: Floats) -> Floats:
        """(T, C): how what is off goes with each column (D, C)."""
        each = slopes_of(hung.settled, hung.design, self.nodes, columns, self.figures)
        return np.asarray(self.sums @ each)

    def hung(self, design: Design, near: SettledCage | None = None) -> Hung:
        return Hung(design, settle(lay_out(design, self.nodes), near))

    def changed(self, hung: Hung, change: Floats) -> Hung:
        """With its numbers changed by (D,) m."""
        return self.hung(with_numbers(hung.design, numbers_of(hung.design) + change), hung.settled)

    def closer(self, one: Hung, before: Hung) -> bool:
        """Whether it is an answer, and nearer to what is sought."""
        if not one.settled.trusted:
            return False
        sums = [float(np.sum(self.off(hung.settled) ** 2)) for hung in (one, before)]
        return sums[0] < sums[1] or not before.settled.trusted


def seeking_for(design: Design, cage: FirstCage) -> Seeking:
    figures = sorted({Figure(target.hoop - 1, kind) for target in cage.targets for kind in target.figures})
    places = {figure: place for place, figure in enumerate(figures)}
    sums = np.zeros((len(cage.targets), len(figures)))
    for row, target in enumerate(cage.targets):
        for kind, factor in target.figures.items():
            sums[row, places[Figure(target.hoop - 1, kind)]] = target.counts * factor
    columns = columns_of(design, cage)
    return Seeking(cage.targets, columns, default_resolution(design), tuple(figures), sums)


def columns_of(design: Design, cage: FirstCage) -> Floats:
    """(D, P): what is free of waves of drops or levels, ties (all by as much where one alone would let go), lengths."""
    freedom = freedom_of(design)
    waves = [
        place
        for place, name in enumerate(freedom.names)
        if name.startswith(("drop ", "level ")) and (name in cage.free or name.split(" ", 2)[2] in cage.free)
    ]
    columns = [freedom.directions[:, waves]]
    names, hem = number_names(design), f"hoop {len(cage.hoops)} length"
    for what, told in (
        ("ties", [name.startswith("tie ") for name in names]),
        ("hem", [name == hem for name in names]),
    ):
        if what in cage.free:
            columns.append(np.array(told, float)[:, None])
    columns += [
        np.eye(len(names))[:, [name.startswith(what) for name in names]]
        for what in ("tie ", "hoop ")
        if f"each {what.strip()}" in cage.free
    ]
    return np.concatenate(columns, axis=1)
