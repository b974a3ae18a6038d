"""Half hoops behind: each a bow from one side of her to the other, its ends drawn together behind her legs.

Steel between two ends that are drawn together is an elastica (`bows`). Each bow is drawn with its ends beside her on
the waist's axis, a little wider apart than she is, and as far out behind as a dome is from the waist to the hem.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from cage3d.design.first.body import body_at, room_at, waist_oval
from cage3d.design.first.bows import Bow, bow_of
from cage3d.design.first.brief import Brief, edge_of, fine_grid, height_of, whole
from cage3d.design.first.cage import FirstCage, FirstHoop, FirstTie, Row, Target, level, slope
from cage3d.design.first.drawn import SHORT
from cage3d.design.first.ovals import Floats
from cage3d.design.first.profile import dome, levels
from cage3d.design.first.rounds import HEM_COUNTS, depths, up_from

LEFT, RIGHT = 0.25, 0.75  # shares of the girth at which the tapes of the ends stand
FLARE = 0.15  # by which the hem's ends are farther apart than she is wide, with her room, so that she can step out
STANDS_BEHIND = {"opening": "front", "ends": "sewn"}


def half_hoops_cage(brief: Brief) -> FirstCage:
    """Half hoops on tapes at the sides and the back, with a lace from end to end of each."""
    bows, down = drawn_bows(brief), bow_depths(brief)
    edge, last, out = edge_of(brief), brief.hoops, outs(brief)
    targets: list[Target] = []
    for number, below in enumerate(down, 1):
        counts = HEM_COUNTS if number == last else 1.0
        targets += [
            level(number, edge - below, counts),
            slope(number, 0.0, counts),
            Target(number, {"side to side": 1.0}, bows[number - 1].breadth),
            Target(number, {"out at the back": 1.0}, out[number - 1]),
        ]
    return FirstCage(
        hoops=tuple(FirstHoop(bow.length, placed=STANDS_BEHIND) for bow in bows),
        drops=rows_of(brief, bows, down),
        targets=tuple(targets),
        step=fine_grid(brief.units),
        stations=tuple(map(float, stations(brief))),
        ties=tuple(
            FirstTie(number, (1, brief.tapes), lace(brief, bow, below), "behind", f"lace {number}")
            for number, (bow, below) in enumerate(zip(bows, down, strict=True), 1)
        ),
        free=("all round", "back against front", "sides against front and back", "each tie", "each hoop"),
    )


def stations(brief: Brief) -> Floats:
    """(T,) shares of the girth, even from her left side round the back to her right."""
    return np.linspace(LEFT, RIGHT, brief.tapes)


def outs(brief: Brief) -> list[float]:
    """m behind the waist's axis to which each bow stands out, clear of her."""
    waist, height = waist_oval(brief).back, height_of(brief)
    return [
        max(waist + ((brief.out or 0.0) - waist) * dome(share, 0.0), room_at(brief, share * height).back)
        for share in levels(brief.hoops)
    ]


def bow_depths(brief: Brief) -> list[float]:
    """m below the band's edge of each bow."""
    return depths(brief, outs(brief)[0] - waist_oval(brief).back)


def drawn_bows(brief: Brief) -> list[Bow]:
    """Every bow, of a length that can be cut: to half an inch or centimetre."""
    step = whole(brief.units) / 2.0
    chords = [
        2.0 * room_at(brief, below).half_breadth * (1.0 + FLARE * share)
        for below, share in zip(bow_depths(brief), levels(brief.hoops), strict=True)
    ]
    bows = [bow_of(chord, out) for chord, out in zip(chords, outs(brief), strict=True)]
    return [Bow(up_from(bow.length, bow.chord, step), bow.modulus) for bow in bows]


def points_on(bow: Bow, below: float, shares: Floats) -> Floats:
    """(S, 3) m at shares of the steel from her left; z down from the band's edge."""
    along, off = bow.at(shares).T
    return np.column_stack([-along, off, np.full(len(off), below)])


def rows_of(brief: Brief, bows: list[Bow], down: list[float]) -> tuple[Row, ...]:
    """Drops (m), a row a tape."""
    around = stations(brief)
    shares = (around - LEFT) / (RIGHT - LEFT)
    band = np.column_stack([waist_oval(brief).at(around), np.zeros(len(around))])
    rings = [band, *(points_on(bow, below, shares) for bow, below in zip(bows, down, strict=True))]
    ways = [np.linalg.norm(below - above, axis=1) for above, below in pairwise(rings)]
    return tuple(tuple(map(float, row)) for row in np.stack(ways, axis=1))


def lace(brief: Brief, bow: Bow, below: float) -> float:
    """m from end to end of a bow, tight behind her."""
    one, other = points_on(bow, below, np.array([0.0, 1.0]))[:, :2]
    return SHORT * body_at(brief, below).way_behind(one, other)
