"""First drops, or cloth above the first casing, with which another wearer's hem hangs where it is wanted."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.design.baskets import hem_hoops
from cage3d.design.models import Design
from cage3d.design.routes import ways
from cage3d.settle import SettledCage
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity
from cage3d.shape.lay_out import lay_out
from cage3d.shape.lines import default_resolution
from cage3d.shape.waist import tape_zeros
from cage3d.steady import first_least
from cage3d.study.aiming.freedom import WAVES, adds_to
from cage3d.study.aiming.rounding import by_fractions, groups_of
from cage3d.study.budget import Budget
from cage3d.study.down import places_round, with_rows
from cage3d.study.figures import Figure, figures_of, slopes_of
from cage3d.study.grading.first import (
    HALF,
    first_columns,
    first_drops,
    lengths_of_rows,
    on_band,
    rows_on_band,
    stretched_rows,
    to_marks,
)
from cage3d.study.numbers import numbers_of, with_numbers

SIDES = ("front", "left", "back", "right")
ROUNDS = 5  # of correcting and settling; two are usual
SAME = 1e-6  # m, hems that differ by less are as near


@dataclass(frozen=True)
class Hung:
    """A cage with its hem: `off` (n,) m, settled less wanted, at the front, her left, the back and her right.

    Of two baskets four of the left one and four of the right one.
    """

    settled: SettledCage
    off: Floats

    @property
    def most(self) -> float:
        return float(np.abs(self.off).max())


def hem_figures(design: Design) -> list[Figure]:
    return [Figure(hoop, f"height {side}") for hoop in hem_hoops(design) for side in SIDES]


def hem_of(settled: SettledCage) -> Floats:
    """(n,) m, the lowest hoops above the floor, each at the front, left, back and right."""
    return figures_of(settled, hem_figures(settled.cage.design))


def hung_at(
    design: Design,
    start: Floats,
    wanted: Floats,
    step: float,
    within: float,
    budget: Budget,
    leans: bool = False,
) -> Hung:
    """The design with first drops by which its hem hangs at `wanted` (n,) m, each rounded to `step` (m).

    design: with the wearer, hoops and lower drops that are to be; start: (D,) m, its numbers with first drops to begin
    from; budget: of settling for one wearer; leans: her waist is higher on one side.
    All tapes change alike where that brings the hem within `within` (m); else by waves round her. Ask
    `settled.trusted` and `most`.
    """
    alike, waves = directions_of(design, leans)
    found = corrected(design, averaged(design, start), alike, wanted, step, budget)
    if found is not None and found.most <= within:
        return found
    tried = [one for one in (found, corrected(design, start, waves, wanted, step, budget)) if one is not None]
    if not tried:
        return as_far_as_it_came(with_numbers(design, start), budget)
    best = tried[first_least([one.most for one in tried])]
    return best if best.most <= within else by_single_marks(best, wanted, step, budget)


def as_it_hung(base: SettledCage, design: Design, wanted: Floats) -> Floats:
    """(D,) m, the design's numbers with first drops by which hoop 1 hangs where it hung over the hem.

    base: how the design hangs on its own wearer; design: with the new wearer and hoops.
    A tape is longer or shorter by as much as its two ends now lie apart: taut tapes stay taut, and loose ones as loose.
    """
    joined, lower = base.cage.connectivity, first_hoop(base, design)
    rise = float(np.mean(wanted - hem_of(base)))
    return moved_to(base, design, lower + np.array([0.0, 0.0, rise]), base.positions[first_nodes(joined)])


def stretched(base: SettledCage, design: Design, wanted: Floats, step: float) -> tuple[Design, Floats]:
    """(design, numbers (D,) m) with all drops stretched by the way from waistband to hem, the lower ones on marks.

    Otherwise as `as_it_hung`.
    """
    hem, zeros = float(hem_of(base).mean()), tape_zeros(design)
    own = float(base.positions[base.cage.connectivity.on_band, 2].mean()) - hem
    stretch = float(zeros[:, 2].mean() - wanted.mean()) / own
    longer = with_rows(design, stretched_rows(design, stretch, step))
    lower = first_hoop(base, design)
    lower[:, 2] = wanted.mean() + (lower[:, 2] - hem) * stretch
    return longer, moved_to(base, longer, lower, base.positions[first_nodes(base.cage.connectivity)])


def first_nodes(joined: Connectivity) -> Ints:
    """(n,) the nodes at which the tapes from the waistband come to their first hoop."""
    return np.array([joined.nodes_of(int(tape))[1] for tape in np.flatnonzero(joined.anchors >= 0)])


def first_hoop(base: SettledCage, design: Design) -> Floats:
    """(n, 3) m, where the tapes from the band crossed their first hoop, so much farther out as it is longer now."""
    wider = np.array([
        design.hoops[way.hoops[0]].length / base.cage.design.hoops[way.hoops[0]].length
        for way in ways(design) if way.from_band
    ])  # fmt: skip
    places = base.positions[first_nodes(base.cage.connectivity)]
    return np.column_stack([places[:, :2] * wider[:, None], places[:, 2]])


def moved_to(base: SettledCage, design: Design, lower: Floats, before: Floats) -> Floats:
    """(D,) m, the design's numbers, its first drops for tapes from her waistband to `lower` and no longer to `before`.

    lower, before: (n, 3) m, of the tapes from the waistband.
    """
    was = np.linalg.norm(base.positions[base.cage.connectivity.on_band] - before, axis=1)
    longer = np.linalg.norm(tape_zeros(design)[on_band(design)] - lower, axis=1) - was
    if design.cloth is not None:
        longer = np.linalg.lstsq(lengths_of_rows(design), longer, rcond=None)[0]
    return np.asarray(numbers_of(design) + first_columns(design) @ longer)


def averaged(design: Design, numbers: Floats) -> Floats:
    """(D,) m, the same with the first drops changed alike on all tapes, or the cloth on all seams."""
    places = first_drops(design)
    more = (numbers - numbers_of(design))[places]
    return np.asarray(numbers + first_columns(design) @ (more.mean() - more))


def directions_of(design: Design, leans: bool) -> tuple[Floats, Floats]:
    """((D, 1), (D, P)) m a metre: the first drops alike on all tapes, and by waves round her."""
    around, first = places_round(design)[rows_on_band(design)], first_columns(design)
    shapes = [shape(around) for _, shape in WAVES] + ([np.sin(2.0 * np.pi * around)] if leans else [])
    columns: list[Floats] = []
    for shape in shapes:
        column = np.asarray(first @ shape)
        if adds_to(columns, column):
            columns.append(column)
    return columns[0][:, None], np.stack(columns, axis=1)


def corrected(
    design: Design, numbers: Floats, directions: Floats, wanted: Floats, step: float, budget: Budget
) -> Hung | None:
    """The nearest that rounded drops come from `numbers` (D,) m; None where the cage finds no rest.

    What the hem is off is taken back along the directions by the slopes of the settled cage, rounded and settled anew,
    until no mark changes any more.
    """
    best: Hung | None = None
    for _ in range(ROUNDS):
        marked = to_marks(design, numbers, step)
        settled = budget.settle(lay_out(with_numbers(design, marked)))
        if not settled.trusted:
            break
        now = Hung(settled, hem_of(settled) - wanted)
        better = best is None or now.most < best.most - SAME
        best = now if better else best
        change = taken_back(now, marked - numbers, directions)
        if not better or float(np.abs(directions @ change).max()) < HALF * step:
            break
        numbers = numbers + directions @ change
    return best


def by_single_marks(best: Hung, wanted: Floats, step: float, budget: Budget) -> Hung:
    """The same, first drops that are alike moved by a mark where that brings the hem nearer."""
    design = best.settled.cage.design
    numbers = numbers_of(design)
    groups = groups_of(design, first_drops(design))
    places = first_drops(design)
    each = np.stack([first_columns(design) @ np.isin(places, group) for group in groups], axis=1)
    slopes = slopes_of(best.settled, design, default_resolution(design), each, hem_figures(design))
    at = np.array([numbers[group[0]] for group in groups])
    moved = by_fractions(at, at, slopes, best.off, np.full(len(at), step))
    settled = budget.settle(lay_out(with_numbers(design, numbers + each @ (moved - at))))
    now = Hung(settled, hem_of(settled) - wanted)
    return now if settled.trusted and now.most < best.most else best


def taken_back(hung: Hung, rounding: Floats, directions: Floats) -> Floats:
    """(P,) m along the directions by which the hem comes nearest to what is wanted, from the numbers not rounded.

    rounding: (D,) m, by which the settled cage's numbers lie above these.
    """
    design = hung.settled.cage.design
    slopes = slopes_of(hung.settled, design, default_resolution(design), directions, hem_figures(design))
    rounded = np.linalg.lstsq(directions, rounding, rcond=None)[0]
    return np.asarray(rounded - np.linalg.lstsq(slopes, hung.off, rcond=1e-3)[0])


def as_far_as_it_came(design: Design, budget: Budget) -> Hung:
    """A cage that finds no rest, so that it can be told why."""
    return Hung(budget.settle(lay_out(design)), np.full(len(hem_figures(design)), np.inf))
