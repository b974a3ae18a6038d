"""The same cage with twice the nodes: what then hangs otherwise was the nodes' doing and not the design's."""

from __future__ import annotations

from cage3d.settle.settling import settle
from cage3d.settle.state import SettledCage
from cage3d.shape.lay_out import lay_out

TIMES = 2
FEW_TAPES = 2  # on so few a hoop rolls and sways almost as it likes


def in_question(settled: SettledCage) -> bool:
    """Whether it went over an edge, was helped to a stable shape, or hangs from hardly any tapes."""
    return bool(settled.snaps or settled.notes) or settled.cage.connectivity.tape_count <= FEW_TAPES


def nodes_round(settled: SettledCage) -> int:
    """About how many nodes a hoop was divided by."""
    return max(len(nodes) for nodes in settled.cage.connectivity.hoop_nodes)


def finer(settled: SettledCage) -> SettledCage:
    """The design settled anew with `TIMES` as many nodes round every hoop; ask `trusted` of it."""
    return settle(lay_out(settled.cage.design, TIMES * nodes_round(settled)))
