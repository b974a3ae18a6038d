"""The numbers of a first design, sought so that its hoops hang at their levels under the skirt and not only near them.

A first design is laid out as level hoops; the skirt, the wearer and the tapes' own slant let it hang otherwise. What
may change is what its kind says: one list of drops for all tapes, waves of them round her, ties. Every tape that hangs
loose is taken up.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.design import trade
from cage3d.design.first.cage import FirstCage, Target
from cage3d.design.models import Design
from cage3d.report import measure
from cage3d.settle import SettledCage, settle
from cage3d.shape.arrays import Floats
from cage3d.shape.lay_out import lay_out
from cage3d.shape.lines import default_resolution
from cage3d.steady import steady, without_noise
from cage3d.study.aiming.freedom import freedom_of
from cage3d.study.aiming.rounding import in_turn
from cage3d.study.figures import Figure, figures_of, slopes_of
from cage3d.study.numbers import number_names, numbers_of, with_numbers

SETTLINGS = 4  # at most; its start is a third of an inch off, or two inches with a flat top
REACH = 0.05  # m by which a number may change in one go
ALIKE = 1e-6  # m: numbers of a row that differ by less are one number to her
TAKEN_UP = 4  # times that loose tapes are taken up, at most
SEEN = 0.8  # of the slack that is told, from which a tape is taken up


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


def as_it_hangs(design: Design, cage: FirstCage) -> FirstCage:
    """The first cage with numbers with which it settles as it should, rounded as they are written.

    design: as the cage reads when it is written. Where nothing brings it nearer its own numbers are kept.
    """
    seeking = seeking_for(design, cage)
    first = seeking.hung(design)
    if not first.settled.trusted:
        return cage
    best = nearest(seeking, first)
    if len(cage.drops) > 1 and (loose := loosened(best, ALIKE)).any():
        best = nearest(seeking, seeking.changed(best, -loose))
    last = rounded(seeking, best, cage)
    last = last if seeking.closer(last, first) else first
    if len(cage.drops) > 1:
        last = let_down(seeking, taken_up(seeking, last, cage), cage)
    return cage.with_numbers([float(number) for number in numbers_of(last.design)], design.tapes.count)


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
    """(D, P): waves of drops; ties, all by as much, since alone one would let go; the hem's girth: what is free."""
    freedom = freedom_of(design)
    waves = [
        place
        for place, name in enumerate(freedom.names)
        if name.startswith("drop ") and name.split(" ", 2)[2] in cage.free
    ]
    columns = [freedom.directions[:, waves]]
    names, hem = number_names(design), f"hoop {len(cage.hoops)} length"
    for what, told in (
        ("ties", [name.startswith("tie ") for name in names]),
        ("hem", [name == hem for name in names]),
    ):
        if what in cage.free:
            columns.append(np.array(told, float)[:, None])
    return np.concatenate(columns, axis=1)


def nearest(seeking: Seeking, first: Hung) -> Hung:
    """What Gauss's and Newton's steps come to, each settled from the one before."""
    best = first
    for _ in range(SETTLINGS):
        off = seeking.off(best.settled)
        if np.abs(off).max() < trade.HEM_TOLERANCE / 2:
            break
        slopes = seeking.slopes(best, seeking.columns)
        change = np.linalg.lstsq(slopes, -off, rcond=1e-3)[0]
        nearer = seeking.changed(best, seeking.columns @ np.clip(change, -REACH, REACH))
        if not seeking.closer(nearer, best):
            break
        best = nearer
    return best


def rounded(seeking: Seeking, best: Hung, cage: FirstCage) -> Hung:
    """Every number that may change put to a multiple of the cage's step."""
    groups = groups_of(best.design, np.abs(seeking.columns).max(axis=1) > 0.0)
    numbers = numbers_of(best.design)
    at = np.array([numbers[group[0]] for group in groups])
    each = np.zeros((len(numbers), len(groups)))
    for place, group in enumerate(groups):
        each[group, place] = 1.0
    slopes = seeking.slopes(best, each)
    found = in_turn(at, slopes, seeking.off(best.settled), np.full(len(at), cage.step))
    return seeking.changed(best, each @ (found - at))


def groups_of(design: Design, free: Floats) -> list[list[int]]:
    """Places of free numbers that are written alike: a drop of a row on several tapes, ties of one length."""
    numbers, hoops = numbers_of(design), len(design.hoops)
    drops_end = hoops + hoops * design.tapes.count
    groups: dict[tuple[int, int], list[int]] = {}
    for place in map(int, np.flatnonzero(free)):
        row = (place - hoops) % hoops if place < drops_end else -1
        groups.setdefault((row, round(float(numbers[place]) / ALIKE)), []).append(place)
    return list(groups.values())


def taken_up(seeking: Seeking, hung: Hung, cage: FirstCage) -> Hung:
    """The cage with its loose tapes and ties shortened until none is: what is taken up here may loosen there."""
    best = at = hung
    for _ in range(TAKEN_UP):
        change = loosened(at, cage.step)
        if not change.any():
            break
        at = seeking.changed(at, -change)
        if not at.settled.trusted:
            break
        if told_slack(at) < told_slack(best):
            best = at
        if told_slack(best) == 0.0:
            break
    return best


def let_down(seeking: Seeking, hung: Hung, cage: FirstCage) -> Hung:
    """The lowest drops of all tapes longer by what taking up has raised the hem, to whole steps."""
    target = cage.hem_target
    off = seeking.off(hung.settled)[target] / seeking.targets[target].counts
    steps = round(steady(float(off) / cage.step, 3))
    if not steps:
        return hung
    change = np.zeros(len(numbers_of(hung.design)))
    hoops, tapes = len(hung.design.hoops), hung.design.tapes.count
    change[2 * hoops - 1 : hoops + hoops * tapes : hoops] = steps * cage.step
    tried = seeking.changed(hung, change)
    good = tried.settled.trusted and told_slack(tried) <= told_slack(hung)
    return tried if good else hung


def loosened(hung: Hung, step: float) -> Floats:
    """(D,) m by which drops and ties are too long: whole steps, on her left and right alike."""
    tapes, hoops = hung.design.tapes.count, len(hung.design.hoops)
    drops, ties = slack_of(hung)
    drops = np.maximum(drops, drops[::-1])
    change = np.zeros(len(numbers_of(hung.design)))
    first_tie = hoops + tapes * hoops
    change[hoops:first_tie] = taking_up(drops, step).ravel()
    # A tie that only lies straight bears nothing yet.
    change[first_tie : first_tie + len(ties)] = np.where(ties > 0.0, taking_up(ties, step) + step, 0.0)
    return change


def taking_up(slack: Floats, step: float) -> Floats:
    """m, to whole steps and one at least, where slack (m) can nearly be seen."""
    steps = np.maximum(np.round(without_noise(slack) / step), 1.0)
    return np.where(slack > SEEN * trade.SEEN_SLACK, step * steps, 0.0)


def slack_of(hung: Hung) -> tuple[Floats, Floats]:
    """((T, H) m of every drop, (S,) m of every tie)."""
    report = measure(hung.settled)
    drops = np.array([[part.slack_m for part in tape.segments] for tape in report.tapes])
    return drops, without_noise(np.array([tie.slack_m for tie in report.ties], float))


def told_slack(hung: Hung) -> float:
    """m, all that can be seen, together."""
    return sum(float(np.maximum(slack - trade.SEEN_SLACK, 0.0).sum()) for slack in slack_of(hung))
