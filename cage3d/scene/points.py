"""Places of a hung cage that have names: where each hoop is furthest out, and where it passes a tape."""

from __future__ import annotations

from dataclasses import dataclass

from cage3d.report.curves import hoop_curve
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.steady import first_largest


@dataclass(frozen=True)
class NamedPoint:
    """One place to measure from."""

    name: str  # "hoop 3, left" or "hoop 3, tape 2"
    hoop: int  # from 1
    place: Floats  # (3,) m, on the steel's centre line
    outermost: bool  # it is where the hoop reaches furthest to one side


def named_points(settled: SettledCage) -> tuple[NamedPoint, ...]:
    """Of every hoop from the top: foremost, leftmost, rearmost, rightmost, then its tapes in order."""
    joined, line = settled.cage.connectivity, settled.cage.design.line
    found = []
    for hoop in range(joined.hoop_count):
        curve = hoop_curve(settled, hoop).points
        outward = {"front": -curve[:, 1], "left": curve[:, 0], "back": curve[:, 1], "right": -curve[:, 0]}
        places = {side: curve[first_largest(reach)] for side, reach in outward.items()}
        tapes = joined.tapes_of(hoop)
        crossings = settled.positions[joined.crossing[hoop, tapes]]
        places |= {f"{line} {tape + 1}": place for tape, place in zip(tapes, crossings, strict=True)}
        found += [
            NamedPoint(f"hoop {hoop + 1}, {name}", hoop + 1, place, name in outward)
            for name, place in places.items()
        ]
    return tuple(found)
