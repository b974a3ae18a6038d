"""Loose tapes, cloth and ties of a first design: shortened until none is; the hem let down by what that raised it."""

from __future__ import annotations

import numpy as np

from cage3d.design import trade
from cage3d.design.first.cage import FirstCage
from cage3d.design.models import Design
from cage3d.design.points import station_fractions
from cage3d.report import measure
from cage3d.shape.arrays import Floats
from cage3d.steady import steady, without_noise
from cage3d.study.aiming.first_seeking import Hung, Seeking
from cage3d.study.down import places_round
from cage3d.study.numbers import numbers_of, row_starts

TAKEN_UP = 4  # times that loose tapes are taken up, at most
SEEN = 0.8  # of the slack that is told, from which a tape is taken up


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
    """The lowest drops of all tapes, or levels, longer by what taking up has raised the hem, to whole steps."""
    target = cage.hem_target
    off = seeking.off(hung.settled)[target] / seeking.targets[target].counts
    steps = round(steady(float(off) / cage.step, 3))
    if not steps:
        return hung
    change = np.zeros(len(numbers_of(hung.design)))
    change[np.array(row_starts(hung.design)[1:]) - 1] = steps * cage.step
    tried = seeking.changed(hung, change)
    good = tried.settled.trusted and told_slack(tried) <= told_slack(hung)
    return tried if good else hung


def loosened(hung: Hung, step: float) -> Floats:
    """(D,) m by which drops or levels and ties are too long: whole steps, on her left and right alike."""
    drops, ties = slack_of(hung)
    drops = by_rows(hung.design, np.maximum(drops, drops[::-1]))
    change = np.zeros(len(numbers_of(hung.design)))
    first, first_tie = len(hung.design.hoops), row_starts(hung.design)[-1]
    change[first:first_tie] = taking_up(drops, step).ravel()
    # A tie that only lies straight bears nothing yet.
    change[first_tie : first_tie + len(ties)] = np.where(ties > 0.0, taking_up(ties, step) + step, 0.0)
    return change


def by_rows(design: Design, slack: Floats) -> Floats:
    """(R, H) m: slack of lines (T, H) by the rows that are written; a side's is the most of the seams next to it."""
    around, rows = station_fractions(design.tapes), places_round(design)
    if len(rows) == len(around):
        return slack
    folded = np.minimum(around, 1.0 - around)
    nearest = np.argmin(np.abs(folded[:, None] - rows), axis=1)
    return np.array([np.max(slack[nearest == row], axis=0, initial=0.0) for row in range(len(rows))])


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
