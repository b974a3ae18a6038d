"""The drops of a first design, sought so that its hoops hang at their levels under the skirt and not only near them.

A first design is laid out as level circles; the skirt, the wearer and the tapes' own slant let it hang otherwise. One
list of drops for all tapes is kept, since that is what a first design is: it is the middle of each hoop that is sought.
"""

from __future__ import annotations

import numpy as np

from cage3d.design import trade
from cage3d.design.first_hoops import Brief, grid, hoop_depths, hoop_lengths
from cage3d.design.models import Design
from cage3d.settle import SettledCage, settle
from cage3d.shape.arrays import Floats
from cage3d.shape.lay_out import lay_out
from cage3d.shape.lines import default_resolution
from cage3d.study.aiming.rounding import in_turn
from cage3d.study.figures import KINDS, Figure, figures_of, slopes_of
from cage3d.study.numbers import numbers_of, with_numbers

SIDES = tuple(kind for kind in KINDS if kind.startswith("height"))
SETTLINGS = 4  # at most; its start is a third of an inch off, or two inches with a flat top
REACH = 0.05  # m by which a drop may change in one go
HEM_COUNTS = 4.0  # times as much as another hoop: it is the hem that was asked for


def drops_that_hang(design: Design, brief: Brief) -> list[float]:
    """m, the drops of a first design with which its hoops settle at the levels of the brief, rounded as it is written.

    design: as `first_design(brief)` reads. Where no drops bring it nearer its own are kept.
    """
    nodes, step = default_resolution(design), grid(brief.units)
    levels, columns = levels_wanted(brief), drop_columns(design)
    first = best = settle(lay_out(design, nodes))
    found = design
    for _ in range(SETTLINGS):
        off, slopes = off_and_slopes(best, found, columns, levels)
        if np.abs(off).max() < step / 4.0:
            break
        change = np.linalg.lstsq(weighted(slopes), -weighted(off), rcond=1e-3)[0]
        nearer = with_numbers(found, numbers_of(found) + columns @ np.clip(change, -REACH, REACH))
        hung = settle(lay_out(nearer, nodes), best)
        if not closer(hung, best, levels):
            break
        found, best = nearer, hung
    off, slopes = off_and_slopes(best, found, columns, levels)
    drops = in_turn(
        np.array(found.tapes.drops[0]), weighted(slopes), weighted(off), np.full(len(levels), step)
    )
    change = columns @ (drops - np.array(design.tapes.drops[0]))
    last = settle(lay_out(with_numbers(design, numbers_of(design) + change), nodes), best)
    return [float(drop) for drop in (drops if closer(last, first, levels) else design.tapes.drops[0])]


def levels_wanted(brief: Brief) -> Floats:
    """(H,) m above the floor."""
    edge = brief.waist_height - trade.BAND_DEPTH / 2
    return edge - np.array(hoop_depths(brief, hoop_lengths(brief)))


def drop_columns(design: Design) -> Floats:
    """(D, H): each drop on all tapes alike."""
    hoops, tapes = len(design.hoops), design.tapes.count
    columns = np.zeros((len(numbers_of(design)), hoops))
    columns[hoops : hoops + hoops * tapes] = np.tile(np.eye(hoops), (tapes, 1))
    return columns


def off_and_slopes(
    settled: SettledCage, design: Design, columns: Floats, levels: Floats
) -> tuple[Floats, Floats]:
    """((H,) m, settled less wanted; (H, H) how that goes with each drop)."""
    each = slopes_of(settled, design, default_resolution(design), columns, side_figures(len(levels)))
    return off_of(settled, levels), each.reshape(len(levels), len(SIDES), -1).mean(axis=1)


def off_of(settled: SettledCage, levels: Floats) -> Floats:
    """(H,) m, the middle of each hoop's four heights less what is wanted."""
    heights = figures_of(settled, side_figures(len(levels)))
    return np.asarray(heights.reshape(len(levels), len(SIDES)).mean(axis=1) - levels)


def side_figures(hoops: int) -> list[Figure]:
    return [Figure(hoop, side) for hoop in range(hoops) for side in SIDES]


def weighted(rows: Floats) -> Floats:
    """(H, ...) with the hem's row counting more."""
    return np.concatenate([rows[:-1], HEM_COUNTS * rows[-1:]])


def closer(settled: SettledCage, before: SettledCage, levels: Floats) -> bool:
    """Whether it is an answer, and its hoops hang nearer to their levels."""
    if not settled.trusted:
        return False
    sums = [float(np.sum(weighted(off_of(one, levels)) ** 2)) for one in (settled, before)]
    return sums[0] < sums[1] or not before.trusted
