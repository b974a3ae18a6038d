"""The cage with its sliding joins at either end: every hoop that slides at its shortest, and at its longest."""

from __future__ import annotations

from dataclasses import dataclass

from cage3d.settle.settling import settle
from cage3d.settle.state import SettledCage
from cage3d.shape.lay_out import lay_out

SHORTEST, LONGEST = "at their shortest", "at their longest"


@dataclass(frozen=True)
class Slid:
    """The cage with its sliding hoops at one end; ask `trusted`."""

    name: str  # one of the words above
    settled: SettledCage


def slid(settled: SettledCage) -> tuple[Slid, ...]:
    """Both ends, the shortest first; none where no join slides, or the cage is no answer.

    Each is hung from the start, bare and then under its skirt: so far from how it was it may hang another way.
    """
    design = settled.cage.design
    if not design.slides or not settled.trusted:
        return ()
    ends = ((SHORTEST, False), (LONGEST, True))
    return tuple(
        Slid(name, settle(lay_out(design.slid(longest), settled.cage.nodes_per_hoop)))
        for name, longest in ends
    )
