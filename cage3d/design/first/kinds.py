"""The family: every kind of cage that a first design may be, what it is in words, and what it asks beside the usual.

A further kind is one entry here. What nobody answers is `usual`; both are common practice unless a source is named.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from cage3d.design.first.baskets import baskets_cage
from cage3d.design.first.brief import Brief
from cage3d.design.first.cage import FirstCage
from cage3d.design.first.drawn import back_weighted_cage, dipped_cage, oval_cage
from cage3d.design.first.half_hoops import half_hoops_cage
from cage3d.design.first.rounds import gored_cage, round_cage

FEWEST_TIED_TAPES = 8  # so that ties can begin clear of the hip
FEWEST_TIED_HOOPS = 4
FEWEST_OPEN_HOOPS = 2  # on each side, or behind her
MOST_OPEN_HOOPS = 10  # twice what is usual [common practice: 5 or 6 behind her, 2 or 3 on each side]


@dataclass(frozen=True)
class Kind:
    """called: with its article; words: of the list of kinds; asks: keys of a brief, in order.

    hem: its usual girth as a share of the waist's height; tapes: how many it has at least, as usual; told: how it
    works, over the written design.
    """

    called: str
    words: str
    cage: Callable[[Brief], FirstCage] = round_cage
    asks: tuple[str, ...] = ("hem",)
    hem: float = 2.2
    tapes: int = 8
    told: str = ""
    gored: bool = False  # its own cloth carries it in place of tapes
    fewest: int = 1  # hoops that it has at least
    most: int = 20  # and at most
    counted: str = "hoops"  # what it has so many of
    ring: float = 1.0  # girth of the ring that is as stiff as its lowest hoop, as a share of its length
    beside: bool = False  # its hoops stand at either side of her
    tied: bool = False  # tapes in pairs, and hoops enough for its ties
    on_her: bool = False  # it bears on her, so that her hip must be known

    @property
    def from_profile(self) -> bool:
        """Whether its silhouette alone says how wide each hoop is, and her hip may decide otherwise."""
        return self.cage in (round_cage, gored_cage, dipped_cage)


KINDS: dict[str, Kind] = {
    "dome": Kind("a dome", "widens fast at the top, near vertical below: about 1860"),
    "bell": Kind("a bell", "close over the hips, then a flare that grows towards the hem", hem=2.5),
    "cone": Kind("a cone", "straight from waist to hem: the sixteenth century", hem=2.4),
    "drum": Kind("a drum", "as wide at the first hoop as at the hem: the wheel of about 1600", hem=2.6),
    "lantern": Kind("a lantern", "widest two thirds of the way down, drawn in at the hem", hem=1.8),
    "dipped": Kind(
        "a dipped dome",
        "a dome whose hem hangs lower at the back, for a sweep",
        dipped_cage,
        ("hem", "dip"),
        told="Tapes longer towards the back let its hoops sink there, more from hoop to hoop.",
    ),
    "oval": Kind(
        "an oval cage",
        "wide, flat before and behind: court dress, eighteenth century",
        oval_cage,
        ("wide", "deep"),
        tapes=10,
        told="Steel wants to be round. Ties from front to back hold it, beside the hips: shorter ones flatten it.",
        tied=True,
        fewest=FEWEST_TIED_HOOPS,
    ),
    "back-weighted": Kind(
        "a back-weighted cage",
        "fuller behind, flat in front: the later 1860s",
        back_weighted_cage,
        ("hem", "behind"),
        hem=2.3,
        tapes=10,
        told="Two ties from its front run behind her legs and bear on them: shorter, they draw it farther back.",
        tied=True,
        fewest=FEWEST_TIED_HOOPS,
        on_her=True,
    ),
    "half-hoops": Kind(
        "a cage behind her",
        "half hoops: flat in front, as the later 1870s",
        half_hoops_cage,
        ("out",),
        tapes=4,
        told="No hoop goes round her: each ends at her two sides, sewn to the first tape and the last. Laces from end "
        "to end run behind her legs and bear on them: shorter, they draw it narrower, and farther out behind.",
        fewest=FEWEST_OPEN_HOOPS,
        most=MOST_OPEN_HOOPS,
        counted="half hoops",
        ring=2.5,
        on_her=True,
    ),
    "baskets": Kind(
        "a pair of baskets",
        "two at the hips, narrow before and behind: the eighteenth century",
        baskets_cage,
        ("out", "deep"),
        told="No hoop goes round her: each stands beside her, open towards her, its ends sewn before and behind her "
        "side. Ties from end to end run round her sides and bear on them: shorter, they push a basket out.",
        fewest=FEWEST_OPEN_HOOPS,
        most=MOST_OPEN_HOOPS,
        counted="hoops each",
        ring=2.5,
        beside=True,
        on_her=True,
    ),
    "gored": Kind(
        "a gored dome",
        "a dome carried by its own cloth: gores with casings, no tapes",
        gored_cage,
        ("hem", "gores"),
        told="No tapes: its own cloth carries the hoops, in casings sewn on it.",
        gored=True,
    ),
}
