"""Two stiff hoops, and their nodes put elsewhere by hand, for what is foreseen of a settled cage."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from rigs import STRIP_10, design_of

from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

STIFF = STRIP_10 | {"modulus": 1e12, "yield_stress": 1e12, "thickness": 0.002}


@cache
def pair(opening: str = "none") -> SettledCage:
    """Two stiff hoops of 1 and 1.5 m on four tapes at front, left, back and right; 1 kg of skirt."""
    hoops = [{"length": 1.0, "join": "none"}, {"length": 1.5, "opening": opening, "join": "none"}]
    design = design_of(
        waist=1.0, zero=1.2, drops=[[0.3, 0.3]] * 4, lengths=[], hoops=hoops, steel=STIFF,
        tapes={"stations": "on" if opening == "none" else "between"}, skirt={"weight": 1.0},
    )  # fmt: skip
    return settle(lay_out(design, 24))


def moved(settled: SettledCage, **nodes: Any) -> SettledCage:
    """The cage with nodes put elsewhere: n12=(x, y, z) m of shift."""
    places = settled.positions.copy()
    for name, shift in nodes.items():
        places[int(name[1:])] += shift
    return replace(settled, state=replace(settled.state, positions=places))
