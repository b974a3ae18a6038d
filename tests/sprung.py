"""A strip sprung by a tie between its ends, in terms of the elastica."""

from __future__ import annotations

from typing import Any

import numpy as np
from rigs import STRIP_6, design_of, only_ties

from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.shape.section_kinds import section_of


def sprung(length: float, chord: float, nodes: int, **steel: Any) -> np.ndarray:
    """(P L^2/EI, rise/L) of an open hoop of `length` m whose ends a tie holds `chord` of that apart."""
    design = design_of(
        waist=0.9, zero=1.5, drops=[[0.6], [0.6]], lengths=[], steel=STRIP_6 | steel,
        hoops=[{"length": length, "opening": "front", "overhang": 0.0}],
        tapes={"stations": (0.2, 0.8)},
        ties=[{"from": "hoop 1 tape 1", "to": "hoop 1 tape 2", "length": chord * length}],
    )  # fmt: skip
    settled = settle(only_ties(lay_out(design, nodes)))
    # The strip floats: nothing says where it lies, so it rests but is held nowhere.
    assert settled.settled
    strip = settled.positions[settled.cage.connectivity.hoop_nodes[0]]
    along = (strip[-1] - strip[0]) / np.linalg.norm(strip[-1] - strip[0])
    from_chord = strip - strip[0]
    from_chord = from_chord - (from_chord @ along)[:, None] * along
    rise = np.linalg.norm(from_chord, axis=1).max()
    force = settled.state.pull_force[0] * length**2 / section_of(design.steel).stiffness.easy
    return np.array([force, rise / length])
