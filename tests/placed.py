"""A cage whose every place, pull and push was put where it is by hand: nothing is settled."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from hand.cage import GRAVITY, RING, laid_out

from cage3d.settle import SettledCage
from cage3d.settle.state import State

# Two hoops of 1 and 1.2 m, sixteen nodes each, on four tapes of 12 g/m; a skirt of 2 kg on the lower one.
WRITTEN: dict[str, Any] = {
    "tapes": {"drops": [200, 100], "weight": "12 g/m", "stretch": {"by": "1 %", "at": "1 kg"}},
    "hoops": [RING, {"length": 1200, "join": {"overlap": 50}, "carries": "100 g"}],
    "skirt": {"weight": "2 kg", "hoops": [2]},
    "ties": [{"from": "hoop 2 tape 1", "to": "hoop 2 tape 2", "length": 250, "name": "ribbon"}],
    # A column of the waist's girth down to 300 mm below it.
    "wearer": {"hip": 600, "hip_drop": 300, "hip_breadth": 191, "hip_depth": 191},
}
TURN = np.arange(16) * np.pi / 8
# An oval of 400 by 300 mm, 50 mm to her back, higher by a tenth to her left; a saddle of 20 mm on a circle of 600.
OVAL = np.column_stack([0.2 * np.sin(TURN), 0.05 - 0.15 * np.cos(TURN), 0.8 + 0.02 * np.sin(TURN)])
SADDLE = np.column_stack([0.3 * np.sin(TURN), -0.3 * np.cos(TURN), 0.5 + 0.02 * np.cos(2 * TURN)])
PULLS = np.arange(1.0, 10.0)  # N: four tapes to hoop 1, four to hoop 2, the ribbon
SPANS = np.array([0.19, 0.2, 0.2, 0.2, 0.1, 0.1, 0.097, 0.1, 0.245])


def placed(
    upper: np.ndarray = OVAL,
    lower: np.ndarray = SADDLE,
    ways: Mapping[int, np.ndarray] | None = None,
    pushes: Mapping[str, Mapping[int, float]] | None = None,
    **written: Any,
) -> SettledCage:
    """pushes: N on hoop nodes, by what pushes."""
    cage = laid_out(WRITTEN | written)
    joined = cage.connectivity
    forces = {"pulls": PULLS[: len(joined.pulls)], "edges": np.zeros(len(joined.edges))}
    for what in ("floor", "wearer"):
        forces[what] = np.zeros(32)
        for node, push in (pushes or {}).get(what, {}).items():
            forces[what][node] = push
    state = State(
        positions=np.vstack([upper, lower, cage.positions[joined.anchors]]),
        angles=np.zeros(len(joined.edges)),
        normals=cage.normals,
        twists=np.zeros(len(joined.bends)),
        forces=forces,
        between=np.zeros((0, 2), dtype=np.intp),
        spans=SPANS[: len(joined.pulls)],
        ways=ways or {},
        cloth=np.zeros((joined.node_count, 3)),
        cloth_on_band=np.array([0.0, 0.0, -0.5 * GRAVITY]),
    )
    return SettledCage(cage, state, 3e-8, 0.0, 4.0, True, True, 17)
