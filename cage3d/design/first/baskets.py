"""Two baskets at the hips: each of bows that stand beside her and open towards her, tied round her side.

A bow's ends lie a little before and behind her side, so that the tie from end to end bears on her hip and holds the
basket out: drawn as an elastica (`bows`). Her right is her left in a mirror.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from cage3d.design.first.body import body_at, hip_half_breadth, room_at, waist_oval
from cage3d.design.first.bows import Bow, bow_of
from cage3d.design.first.brief import Brief, edge_of, fine_grid, height_of, whole
from cage3d.design.first.cage import FirstCage, FirstHoop, FirstTie, Row, Target, level
from cage3d.design.first.drawn import SHORT
from cage3d.design.first.ovals import Floats, Oval
from cage3d.design.first.profile import cone, levels
from cage3d.design.first.rounds import HEM_COUNTS, depths, up_from

START = 0.45  # of the lowest bow's size, from which a basket widens straight from the waist down
TUCKED = 0.6  # of half her hip's breadth, at which ends lie beside her axis
SIDES = ("left", "right")
OTHER = {"left": "right", "right": "left"}


def baskets_cage(brief: Brief) -> FirstCage:
    """Two baskets alike, their hoops from the top, her left before her right."""
    bows, down, sizes = drawn_bows(brief), depths_of(brief), sizes_of(brief)
    edge, each = edge_of(brief), brief.tapes // 2
    hoops: list[FirstHoop] = []
    ties: list[FirstTie] = []
    targets: list[Target] = []
    for place, (bow, below, (out, deep)) in enumerate(zip(bows, down, sizes, strict=True)):
        for side, tapes in zip(SIDES, ((1, each), (each + 1, brief.tapes)), strict=True):
            hoops.append(
                FirstHoop(bow.length, placed={"beside": side, "opening": OTHER[side], "ends": "sewn"})
            )
            number = len(hoops)
            ties.append(FirstTie(number, tapes, tie_of(brief, bow, below), side, f"{side} tie {place + 1}"))
            counts = HEM_COUNTS if place == len(bows) - 1 else 1.0
            targets += [
                level(number, edge - below, counts),
                Target(number, {"height left": 0.5, "height right": -0.5}, 0.0, counts),
                Target(number, {f"out at the {side}": 1.0}, hip_half_breadth(brief.hip or 0.0) + out),
                Target(number, {"front to back": 1.0}, deep),
            ]
    return FirstCage(
        hoops=tuple(hoops),
        drops=rows_of(brief, bows, down),
        targets=tuple(targets),
        step=fine_grid(brief.units),
        ties=tuple(ties),
        free=("all round", "sides against front and back", "each tie", "each hoop"),
    )


def sizes_of(brief: Brief) -> list[tuple[float, float]]:
    """(m out from her hip, m front to back) of each bow from the top, with room for her."""
    height = height_of(brief)
    shares = [cone(share, START) for share in levels(brief.hoops)]
    return [
        (
            share * (brief.out or 0.0),
            max(share * (brief.deep or 0.0), 2.0 * room_at(brief, down * height).back),
        )
        for share, down in zip(shares, levels(brief.hoops), strict=True)
    ]


def depths_of(brief: Brief) -> list[float]:
    """m below the band's edge of each bow."""
    crown = hip_half_breadth(brief.hip or 0.0) + sizes_of(brief)[0][0]
    return depths(brief, crown - waist_oval(brief).half_breadth)


def drawn_bows(brief: Brief) -> list[Bow]:
    """Every bow of a basket, of a length that can be cut: to half an inch or centimetre."""
    step = whole(brief.units) / 2.0
    inside = (1.0 - TUCKED) * hip_half_breadth(brief.hip or 0.0)
    bows = [bow_of(deep, out + inside) for out, deep in sizes_of(brief)]
    return [Bow(up_from(bow.length, bow.chord, step), bow.modulus) for bow in bows]


def points_on(brief: Brief, bow: Bow, below: float, shares: Floats) -> Floats:
    """(S, 3) m at shares of a bow's steel at her left, from its front end; z down from the band's edge."""
    along, off = bow.at(shares).T
    ends = TUCKED * hip_half_breadth(brief.hip or 0.0)
    return np.column_stack([ends + off, along, np.full(len(off), below)])


def rows_of(brief: Brief, bows: list[Bow], down: list[float]) -> tuple[Row, ...]:
    """Drops (m), a row a tape, from a bow to the next of its basket."""
    each = brief.tapes // 2
    band = np.column_stack([waist_oval(brief).at((np.arange(each) + 0.5) / brief.tapes), np.zeros(each)])
    shares = np.linspace(0.0, 1.0, each)
    rings = [
        band,
        *(points_on(brief, bow, below, shares) for bow, below in zip(bows, down, strict=True)),
    ]
    ways = [np.linalg.norm(below - above, axis=1) for above, below in pairwise(rings)]
    left = tuple(tuple(map(float, row)) for row in np.stack(ways, axis=1))
    return left + left[::-1]


def tie_of(brief: Brief, bow: Bow, below: float) -> float:
    """m from end to end of a bow, tight round her side."""
    ahead, behind = points_on(brief, bow, below, np.array([0.0, 1.0]))[:, 1::-1]
    body = body_at(brief, below)
    turned = Oval(body.back, body.half_breadth, body.half_breadth)  # her left taken as her back
    return SHORT * turned.way_behind(behind, ahead)
