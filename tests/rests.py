"""A ring in a skirt, and rests made from it by hand, for tests of how a cage is settled."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from rigs import STRIP_10, design_of

from cage3d.settle import settle
from cage3d.settle.model import model_of
from cage3d.settle.rest import Rest
from cage3d.settle.state import SettledCage
from cage3d.settle.taking_up import posture_of
from cage3d.shape.lay_out import lay_out


@cache
def ring_in_a_skirt() -> SettledCage:
    """A ring of 1.5 m on four tapes, with a skirt of 1 kg."""
    design = design_of(
        waist=1.0, zero=1.2, drops=[[0.3]] * 4, lengths=[1.5], steel=STRIP_10, skirt={"weight": 1.0}
    )
    return settle(lay_out(design, 16))


def rest_of(hung: SettledCage, aside: float = 0.0, node: int = 3, **more: Any) -> Rest:
    """The ring at rest with one node `aside` m to her left."""
    posture, forces = posture_of(model_of(hung.cage, 30000.0), hung.state)
    places = posture.positions.copy()
    places[node, 0] += aside
    there = replace(posture, positions=places)
    return replace(Rest(there, forces, 0.0, 0.0, 0.0, 0, 7, "at rest"), **more)
