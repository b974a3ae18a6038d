"""Hoops beside her as they are made: which basket each belongs to, and whether the two are made alike, mirrored."""

from __future__ import annotations

import numpy as np

from cage3d.design.baskets import HALVES
from cage3d.design.points import parse_point
from cage3d.shape.arrays import Floats
from cage3d.sheets.making import Making
from cage3d.sheets.steel import SteelCut
from cage3d.sheets.writing import hoops_named
from cage3d.wording import listed

SAME = 1e-5  # m or share of the girth; what differs by less is made alike


def basket(making: Making, side: str) -> list[SteelCut]:
    """The cuts of one basket, from the top; none where no hoop stands at that side of her."""
    return [cut for cut in making.cuts if cut.beside == side]


def where_they_stand(making: Making) -> str:
    """'Hoops 1, 3, 5 stand at her left, hoops 2, 4, 6 at her right'; empty where every hoop goes round her."""
    own = [(side, [cut.hoop for cut in basket(making, side)]) for side in HALVES]
    parts = [
        f"{hoops_named(hoops)} stand{'s' * (len(hoops) == 1)} at her {side}" for side, hoops in own if hoops
    ]
    words = listed(parts)
    return words[:1].upper() + words[1:]


def cut_alike(making: Making) -> list[tuple[int, int]]:
    """Hoops (from 1) at her left, each with that at her right of the same size, level by level from the top."""
    pairs = zip(basket(making, "left"), basket(making, "right"), strict=False)
    return [
        (left.hoop, right.hoop)
        for left, right in pairs
        if left.section == right.section and abs(left.exact - right.exact) < SAME
    ]


def made_alike(making: Making) -> bool:
    """Whether there are two baskets, of which one is the mirror image of the other: hoops, marks, tapes and ties."""
    left, right = basket(making, "left"), basket(making, "right")
    if not left or not len(left) == len(right) == len(cut_alike(making)):
        return False
    marks = zip(map(marks_of, left), map(marks_of, right), strict=True)
    return (
        all(alike(one, other[-1] - other[::-1]) for one, other in marks)
        and alike(tapes_of(making, "left"), tapes_of(making, "right"))
        and alike(ties_of(making, left), ties_of(making, right))
    )


def alike(one: Floats, other: Floats) -> bool:
    return one.shape == other.shape and np.allclose(one, other, rtol=0.0, atol=SAME)


def marks_of(cut: SteelCut) -> Floats:
    """(M + 2,) m of the marks from the first cut end, and both ends."""
    return np.array([0.0, *(mark.at for mark in cut.marks), cut.exact])


def tapes_of(making: Making, side: str) -> Floats:
    """One row a tape at that side of her, from the front: share of the waist from centre front, its drops in m.

    As one line where tapes have other numbers of drops.
    """
    rows = []
    for tape, at in enumerate(making.stations.tolist(), start=1):
        if HALVES[side][0] < at < HALVES[side][1]:
            rows.append([min(at, 1.0 - at), *making.tapes_at(tape).drops])
    return np.array([figure for row in sorted(rows) for figure in row])


def ties_of(making: Making, cuts: list[SteelCut]) -> Floats:
    """(K,) m of the ties that begin at these hoops, by their place from the top."""
    place = {cut.hoop: number for number, cut in enumerate(cuts)}
    begins = [(parse_point(tie.from_)[0], tie.length) for tie in making.design.ties]
    own = sorted((place[hoop], length) for hoop, length in begins if hoop in place)
    return np.array([figure for tie in own for figure in tie])
