"""The least steel that holds all hoops: the cutting stock problem as an integer programme.

How many hoops of each length are cut from every length that may be bought (Kantorovich 1960,
Mathematical Methods of Organizing and Planning Production); equal lengths are filled in a fixed
order, so that no plan is met twice under another name.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice
from math import ceil

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from cage3d.design.models import Stock
from cage3d.shape.arrays import Floats
from cage3d.sheets.steel import SteelCut
from cage3d.sheets.writing import Writing

ROOM = 1e-6  # m, rounding that may not keep a hoop from a length it fills
FEWER = 1e-4  # of the longest length: of two plans with equal steel the one of fewer lengths
SAME = 1e-9  # m, two cuts that are one length
NODE_LIMIT = 20_000  # of the search; a count, not a time, so that the same design gives the same plan


@dataclass(frozen=True)
class Bar:
    """One coil or length as bought, and the hoops cut from it in order."""

    length: float  # m, rounded down to what the sheets can write
    price: float | None
    hoops: tuple[int, ...]  # from 1
    cuts: tuple[float, ...]  # m

    @property
    def left(self) -> float:
        """m left over."""
        return self.length - sum(self.cuts)


@dataclass(frozen=True)
class Offer:
    """One length that may be bought, and its turn among equal ones."""

    length: float
    price: float | None
    turn: int


def least_steel(
    cuts: Sequence[SteelCut], stock: Sequence[Stock], need: float, writing: Writing
) -> tuple[tuple[Bar, ...], bool] | None:
    """What to buy and what is cut from each length, and whether that is proved least; None without any plan.

    need: m, least steel to be bought, so that the spare share is left over.
    """
    ordered = sorted(cuts, key=longest_first)
    offers = offers_of(ordered, stock, need, writing)
    return solved(ordered, offers, need) if offers else None


def longest_first(cut: SteelCut) -> tuple[float, int]:
    return (-cut.cut, cut.hoop)


def offers_of(cuts: list[SteelCut], stock: Sequence[Stock], need: float, writing: Writing) -> list[Offer]:
    """As many of each length as any plan can use: one for each hoop that fits, or enough for the spare."""
    offers = []
    for one in stock:
        length = writing.down(one.length)
        if length <= 0.0:
            continue
        most = max(min(len(cuts), first_fit(cuts, length)), ceil(need / length))
        count = most if one.count is None else min(one.count, most)
        offers += [Offer(length, one.price, turn) for turn in range(count)]
    return offers


def first_fit(cuts: list[SteelCut], length: float) -> int:
    """How many of one length hold the hoops that fit it, longest first each in the first with room."""
    room: list[float] = []
    for cut in sorted(cuts, key=longest_first):
        if cut.cut > length + ROOM:
            continue
        place = next((i for i, left in enumerate(room) if left >= cut.cut - ROOM), None)
        if place is None:
            room.append(length - cut.cut)
        else:
            room[place] -= cut.cut
    return len(room)


def solved(cuts: list[SteelCut], offers: list[Offer], need: float) -> tuple[tuple[Bar, ...], bool] | None:
    """The bars of the least plan and whether it is proved least; None where there is no plan.

    cuts: the longest first.
    """
    kinds = alike(cuts)
    counts = np.array([len(kind) for kind in kinds])
    rows = plan_constraints(np.array([kind[0].cut for kind in kinds]), counts, offers, need)
    cells, bars = len(kinds) * len(offers), len(offers)
    lengths = np.array([offer.length for offer in offers])
    cost = np.concatenate([np.zeros(cells), lengths / lengths.max() + FEWER])
    # Equal lengths are filled in the order of their first hoop: hoop i lies in the first i + 1 of them.
    turns = np.array([offer.turn for offer in offers])
    first = turns[None, :] < np.cumsum(counts)[:, None]
    upper = np.append((first * counts[:, None]).ravel(), np.ones(bars)).astype(np.float64)
    result = milp(
        cost,
        integrality=np.ones(len(cost), dtype=np.intp),
        bounds=Bounds(0.0, upper),
        constraints=rows,
        options={"node_limit": NODE_LIMIT, "mip_rel_gap": 0.0},
    )
    if result.x is None:
        return None
    shares = np.round(result.x[:cells]).reshape(len(kinds), bars).astype(int)
    used = np.flatnonzero(np.round(result.x[cells:]))
    dealt = [iter(kind) for kind in kinds]
    held = [
        bar_of(
            offers[b], [cut for kind, left in enumerate(dealt) for cut in islice(left, int(shares[kind, b]))]
        )
        for b in used
    ]
    return tuple(held), result.status == 0


def alike(cuts: Sequence[SteelCut]) -> list[list[SteelCut]]:
    """Hoops of one length together: in an order for many cages most are."""
    kinds: list[list[SteelCut]] = []
    for cut in cuts:
        if kinds and abs(kinds[-1][0].cut - cut.cut) < SAME:
            kinds[-1].append(cut)
        else:
            kinds.append([cut])
    return kinds


def plan_constraints(
    cuts: Floats, counts: NDArray[np.intp], offers: list[Offer], need: float
) -> list[LinearConstraint]:
    """Each hoop once; no bar overfull; equal bars used in turn; enough bought for the spare share.

    cuts (K,) m, of which there are counts (K,).
    """
    kinds, bars = len(cuts), len(offers)
    lengths = np.array([offer.length for offer in offers])
    kind, bar = np.divmod(np.arange(kinds * bars), bars)
    cell, own = np.arange(kinds * bars), kinds * bars + np.arange(bars)
    width = kinds * bars + bars
    once = coo_array((np.ones(kinds * bars), (kind, cell)), shape=(kinds, width))
    full = coo_array(
        (
            np.concatenate([cuts[kind], -lengths - ROOM]),
            (np.concatenate([bar, np.arange(bars)]), np.append(cell, own)),
        ),
        shape=(bars, width),
    )
    later = np.array([b for b in range(bars) if offers[b].turn > 0], dtype=np.intp)
    row = np.arange(len(later))
    ones = np.ones(len(later))
    turns = coo_array(
        (np.append(ones, -ones), (np.tile(row, 2), np.append(own[later], own[later - 1]))),
        shape=(len(later), width),
    )
    return [
        LinearConstraint(once.tocsr(), counts, counts),
        LinearConstraint(full.tocsr(), -np.inf, 0.0),
        LinearConstraint(np.append(np.zeros(kinds * bars), lengths)[None, :], need - ROOM, np.inf),
        *([LinearConstraint(turns.tocsr(), -np.inf, 0.0)] if len(later) else []),
    ]


def bar_of(offer: Offer, cuts: list[SteelCut]) -> Bar:
    return Bar(offer.length, offer.price, tuple(cut.hoop for cut in cuts), tuple(cut.cut for cut in cuts))
