"""Kinds whose tapes differ: a hem that dips at the back, hoops drawn to an oval, hoops drawn back.

Every hoop is drawn as an oval at its level, and each tape is the straight way from its point on one to its point on the
next. Steel wants to be round, so what is drawn is only where seeking begins; what holds a shape is its ties.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from cage3d.design import trade
from cage3d.design.first.body import room_at, waist_oval
from cage3d.design.first.brief import Brief, edge_of, fine_grid, whole
from cage3d.design.first.cage import (
    FirstCage,
    FirstHoop,
    FirstTie,
    Row,
    Target,
    behind,
    level,
    plane,
    slope,
)
from cage3d.design.first.ovals import Floats, Oval
from cage3d.design.first.profile import dome, levels
from cage3d.design.first.rounds import HEM_COUNTS, depths, hoop_depths, hoop_lengths, up_from
from cage3d.steady import fixed

TIED = 0.15  # share of the girth from centre front at which ties begin: tape 2 of 10, beside the hip
DRAWN_BACK = 0.5  # of the way down, from where a back-weighted cage stands as far back as its hem
SHORT = 0.97  # a tie begins by so much shorter than its way, so that it pulls: a slack one tells nothing


@dataclass(frozen=True)
class Drawn:
    """One hoop as drawn: its oval, how far below the band's edge (m), and how much lower at the back (m)."""

    oval: Oval
    below: float
    dip: float = 0.0

    def points(self, around: Floats) -> Floats:
        """(T, 3) m at shares of the girth; z down from the band's edge."""
        down = self.below - self.dip / 2 * np.cos(2.0 * np.pi * around)
        return np.column_stack([self.oval.at(around), down])


def stations(brief: Brief) -> Floats:
    """(T,) shares of the girth from centre front by her left; no tape at centre front."""
    return (np.arange(brief.tapes) + 0.5) / brief.tapes


def rows_of(brief: Brief, drawn: Sequence[Drawn]) -> tuple[Row, ...]:
    """Drops (m), a row a tape."""
    around = stations(brief)
    rings = [Drawn(waist_oval(brief), 0.0).points(around), *(hoop.points(around) for hoop in drawn)]
    ways = [np.linalg.norm(below - above, axis=1) for above, below in pairwise(rings)]
    return tuple(tuple(map(float, row)) for row in np.stack(ways, axis=1))


def tied_tapes(brief: Brief) -> tuple[int, int]:
    """(her left, her right), from 1: the tapes nearest to TIED of the girth on either side of centre front."""
    first = max(round(TIED * brief.tapes + 0.5), 1)
    return first, brief.tapes + 1 - first


def dipped_cage(brief: Brief) -> FirstCage:
    """A dome whose hoops sink towards the back, from the second on more and more."""
    lengths, edge = hoop_lengths(brief), edge_of(brief)
    down = hoop_depths(brief, lengths)
    drawn = [
        Drawn(circle(length), below, sinks(brief, down, below))
        for length, below in zip(lengths, down, strict=True)
    ]
    targets, wanted = [], []
    for number, hoop in enumerate(drawn, 1):
        counts = HEM_COUNTS if number == brief.hoops else 1.0
        middle = edge - hoop.below
        targets += [level(number, middle, counts), slope(number, hoop.dip, counts), plane(number)]
        if hoop.dip:
            front, back = middle + hoop.dip / 2, middle - hoop.dip / 2
            wanted.append({"hoop": number, "front": front, "left": middle, "back": back, "right": middle})
    return FirstCage(
        hoops=tuple(map(FirstHoop, lengths)),
        drops=rows_of(brief, drawn),
        targets=tuple(targets),
        step=fine_grid(brief.units),
        wanted=tuple(wanted),
        free=("all round", "back against front", "sides against front and back"),
    )


def sinks(brief: Brief, down: Sequence[float], below: float) -> float:
    """m by which a hoop is lower at the back: evenly more from the first one to the hem."""
    if len(down) == 1:
        return brief.dip or 0.0
    return (brief.dip or 0.0) * (below - down[0]) / (down[-1] - down[0])


def circle(girth: float) -> Oval:
    radius = girth / (2.0 * np.pi)
    return Oval(radius, radius, radius)


def oval_cage(brief: Brief) -> FirstCage:
    """Wide and flat before and behind: ties from front to back beside the hips hold it, from the second hoop on."""
    wide, deep, drawn = (brief.wide or 0.0) / 2, (brief.deep or 0.0) / 2, drawn_ovals(brief)
    left, right = tied_tapes(brief)
    half = brief.tapes // 2
    ties = [
        FirstTie(number, tapes, distance(brief, hoop.oval, tapes))
        for number, hoop in enumerate(drawn, 1)
        if number > 1
        for tapes in ((left, half + 1 - left), (right, brief.tapes + half + 1 - right))
    ]
    edge, last = edge_of(brief), brief.hoops
    targets = [
        target
        for number, hoop in enumerate(drawn, 1)
        for target in (
            level(number, edge - hoop.below, HEM_COUNTS if number == last else 1.0),
            plane(number),
        )
    ]
    targets += [Target(last, {"side to side": 1.0}, 2 * wide), Target(last, {"front to back": 1.0}, 2 * deep)]
    return FirstCage(
        hoops=closed(brief, drawn),
        drops=rows_of(brief, drawn),
        targets=tuple(targets),
        step=fine_grid(brief.units),
        ties=tuple(ties),
        wanted=({"hoop": last, "side_to_side": 2 * wide, "front_to_back": 2 * deep},),
        free=("all round", "sides against front and back", "ties", "hem"),
    )


def drawn_ovals(brief: Brief) -> list[Drawn]:
    """Every hoop of an oval cage, clear of her, widening from the waist as a dome does."""
    hem = Oval((brief.wide or 0.0) / 2, (brief.deep or 0.0) / 2, (brief.deep or 0.0) / 2)
    shares, waist = levels(brief.hoops), waist_oval(brief)
    ovals = [waist.towards(hem, dome(share, 0.0)) for share in shares]
    down = depths(brief, ovals[0].half_breadth - waist.half_breadth)
    return [Drawn(oval.around(room_at(brief, below)), below) for oval, below in zip(ovals, down, strict=True)]


def back_weighted_cage(brief: Brief) -> FirstCage:
    """Drawn back by two ties from its front that run behind her legs and bear on them."""
    share, drawn = brief.behind or 0.5, drawn_back(brief)
    tied, tapes = tied_hoops(brief), tied_tapes(brief)
    ties = [
        FirstTie(number, tapes, SHORT * way_behind_her(brief, drawn[number - 1], tapes), "behind", name)
        for number, name in zip(tied, ("upper tie", "lower tie"), strict=True)
    ]
    edge, last, targets = edge_of(brief), brief.hoops, []
    for number, hoop in enumerate(drawn, 1):
        counts = HEM_COUNTS if number == last else 1.0
        targets += [level(number, edge - hoop.below, counts), slope(number, 0.0, counts), plane(number)]
    targets.append(behind(last, share))
    return FirstCage(
        hoops=closed(brief, drawn),
        drops=rows_of(brief, drawn),
        targets=tuple(targets),
        step=fine_grid(brief.units),
        ties=tuple(ties),
        free=("all round", "back against front", "sides against front and back", "ties"),
    )


def drawn_back(brief: Brief) -> list[Drawn]:
    """Every hoop of a back-weighted cage where its ties are to hold it, clear of her."""
    shares, drawn = levels(brief.hoops), []
    halves = [dome(share, brief.waist / brief.hem) * brief.hem / (2.0 * np.pi) for share in shares]
    for share, half, below in zip(
        shares, halves, depths(brief, halves[0] - waist_oval(brief).half_breadth), strict=True
    ):
        back = 0.5 + ((brief.behind or 0.5) - 0.5) * min(share / DRAWN_BACK, 1.0)
        oval = Oval(half, 2 * half * (1.0 - back), 2 * half * back)
        drawn.append(Drawn(oval.around(room_at(brief, below)), below))
    return drawn


def tied_hoops(brief: Brief) -> tuple[int, int]:
    """The two hoops (from 1) from which ties run behind her: the last but one, and that half way down."""
    return (brief.hoops + 1) // 2, brief.hoops - 1


def way_behind_her(brief: Brief, hoop: Drawn, tapes: tuple[int, int]) -> float:
    """m of a tie drawn tight from one tape of a hoop to another behind her hip, whose breadth her legs nearly keep."""
    one, other = hoop.oval.at(stations(brief)[[tapes[0] - 1, tapes[1] - 1]])
    room = room_at(brief, hoop.below)
    less = trade.HIP_ROOM_PLANNED
    return Oval(room.half_breadth - less, room.front - less, room.back - less).way_behind(one, other)


def closed(brief: Brief, drawn: Sequence[Drawn]) -> tuple[FirstHoop, ...]:
    """Hoops as long as they are drawn, to half an inch or centimetre."""
    step = whole(brief.units) / 2
    return tuple(
        FirstHoop(up_from(hoop.oval.girth, brief.waist, step), told=told_size(brief, hoop.oval))
        for hoop in drawn
    )


def distance(brief: Brief, oval: Oval, tapes: tuple[int, int]) -> float:
    """m straight from one tape (from 1) to another on an oval."""
    one, other = oval.at(stations(brief)[[tapes[0] - 1, tapes[1] - 1]])
    return float(np.linalg.norm(other - one))


def told_size(brief: Brief, oval: Oval) -> str:
    """'drawn 42 x 21': side to side and front to back, in whole inches, centimetres or ten millimetres."""
    step, unit = whole(brief.units), 10 if brief.units == "mm" else 1
    sizes = (2 * oval.half_breadth, oval.front + oval.back)
    return f"drawn {' x '.join(fixed(unit * round(size / step), 0) for size in sizes)}"
