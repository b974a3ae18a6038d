"""How the cage would hang with each single error, really settled at three sizes both ways.

Tapes fall slack and come taut within an eighth of an inch, so slopes at rest are off by as much again as they tell.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cage3d.design.models import Design
from cage3d.settle import SettledCage, settle
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.lay_out import lay_out
from cage3d.study.budget import FROM_NEAR
from cage3d.study.truing.causes import Cause, causes_of, with_errors
from cage3d.study.truing.hanging import Hanging, hanging_of
from cage3d.study.truing.mirror import Mirror, mirror_of

NODES = 48  # a hoop: what an error changes is told to a tenth of a millimetre, in a fraction of the time
ALIKE = 1e-5  # m, to which a cage that is alike to her left and right must hang so


@dataclass(frozen=True)
class Signatures:
    """What K causes do at 6 sizes each (`Cause.sizes`), less the cage as written; nan where it finds no rest."""

    causes: tuple[Cause, ...]
    figures: Floats  # (K, 6, Q) m
    pulls: Floats  # (K, 6, S) N
    slack: Floats  # (K, 6, S) m


def settled_signatures(design: Design, nodes: int, places: Sequence[int]) -> tuple[Floats, Floats, Floats]:
    """(figures, pulls, slack), each (k, 6, ...), of the causes at these places. Raises ValueError: no rest."""
    settled = settle(lay_out(design, nodes))
    if not settled.trusted:
        raise ValueError("the design finds no rest")
    base, causes = hanging_of(settled), causes_of(settled.cage)
    rows = [both_ways(settled, base, causes, place) for place in places]
    return (
        np.array([[one.figures for one in row] for row in rows]),
        np.array([[one.pulls for one in row] for row in rows]),
        np.array([[one.slack for one in row] for row in rows]),
    )


def both_ways(settled: SettledCage, base: Hanging, causes: Sequence[Cause], place: int) -> list[Hanging]:
    """What one cause does at each of its sizes; each is settled from the next smaller one."""
    sizes = causes[place].sizes
    half = len(sizes) // 2
    low = chain(settled, base, len(causes), place, sizes[half - 1 :: -1])
    return low[::-1] + chain(settled, base, len(causes), place, sizes[half:])


def chain(
    settled: SettledCage, base: Hanging, count: int, place: int, sizes: Sequence[float]
) -> list[Hanging]:
    """Rising sizes of one cause; nan from where the cage finds no rest any more."""
    out: list[Hanging] = []
    near = settled
    for size in sizes:
        amounts = np.zeros(count)
        amounts[place] = size
        changed = with_errors(settled.cage, amounts)
        found = settle(changed, near, most_steps=FROM_NEAR) if changed is not None else None
        if found is None or not found.trusted:
            nothing = [np.full_like(part, np.nan) for part in (base.figures, base.pulls, base.slack)]
            return out + [Hanging(*nothing)] * (len(sizes) - len(out))
        near, own = found, hanging_of(found)
        out.append(Hanging(own.figures - base.figures, own.pulls - base.pulls, own.slack - base.slack))
    return out


@dataclass(frozen=True)
class Halves:
    """Which causes are settled, and from which of them each is read."""

    causes: tuple[Cause, ...]
    settled: Ints  # (k,) places of those that are settled
    source: Ints  # (K,) the row among the settled
    mirrored: Ints  # (K,) 1 where it is read mirrored
    mirror: Mirror | None
    hoops: int


def halves_of(design: Design, nodes: int) -> Halves:
    """Of a cage alike to her left and right one side's causes are settled."""
    cage = lay_out(design, nodes)
    causes, hoops = causes_of(cage), cage.connectivity.hoop_count
    mirror, each = mirror_of(cage), np.arange(len(causes))
    if mirror is not None and not hangs_alike(settle(cage), mirror):
        mirror = None
    if mirror is None:
        return Halves(causes, each, each, np.zeros_like(each), None, hoops)
    other = mirror.causes(hoops)
    first = np.minimum(each, other)
    settled = np.unique(first)
    return Halves(
        causes, settled, np.searchsorted(settled, first), (first != each).astype(int), mirror, hoops
    )


def hangs_alike(settled: SettledCage, mirror: Mirror) -> bool:
    """A cage may fall to one side although it is made alike."""
    figures = hanging_of(settled).figures
    order = mirror.figures(settled.cage.connectivity.hoop_count)
    return settled.trusted and bool(np.abs(figures[order] - figures).max() < ALIKE)


def joined(halves: Halves, parts: Sequence[tuple[Floats, Floats, Floats]]) -> Signatures:
    """The settled shares, in turn, as every cause's signature."""
    whole = [np.concatenate([part[place] for part in parts])[halves.source] for place in range(3)]
    if halves.mirror is not None:
        figures, segments = halves.mirror.figures(halves.hoops), halves.mirror.segments(halves.hoops)
        turned = halves.mirrored == 1
        for one, order in zip(whole, (figures, segments, segments), strict=True):
            one[turned] = one[turned][..., order]
    return Signatures(halves.causes, *whole)
