"""Six cages with much at once, against PyElastica: uneven skirts, tapes that stretch, ties, panels, leaning hoops.

Source and method as in test_second_opinion.py. What is not asked of it here: anything on her, and cloth that slides
(`test_string_over_her.py`, `test_rope_over_pulleys.py`). About three minutes of computing.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from rigs import STRIP_10, design_of

from cage3d.design.models import Design
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out

pytestmark = pytest.mark.slow

COARSE, FINE = 32, 64
STILL = 1e-5  # m, as there
TRAIN = {"weight": 1.0, "lies": {"front": 0.15, "sides": 0.4, "back": 0.45}}
LINEN = {"by": 0.01, "at": 1.0}  # of a kilogram


def cage_of(lengths: list[float], drops: list[list[float]], **more: Any) -> Design:
    tapes = {"stations": "on", **more.pop("tapes", {})}
    return design_of(waist=0.70, zero=1.05, drops=drops, lengths=lengths, steel=STRIP_10, tapes=tapes, **more)


def leaning(drop: float, by: float) -> list[float]:
    """m of eight tapes, the front one shorter by a share and the back one longer."""
    return [drop * (1.0 - by * np.cos(2 * np.pi * tape / 8)) for tape in range(8)]


def drops_of(*columns: list[float] | float) -> list[list[float]]:
    return np.column_stack([np.full(8, one) if isinstance(one, float) else one for one in columns]).tolist()


SIX = {
    "train on linen": cage_of([1.5, 1.9, 2.3], drops_of(0.15, 0.18, 0.2), skirt=TRAIN, tapes={"stretch": LINEN}),
    "leaning, tied": cage_of(
        [1.5, 2.0], drops_of(leaning(0.17, 0.06), 0.2), skirt=TRAIN,
        ties=[{"from": "hoop 2 tape 4", "to": "hoop 2 tape 6", "length": 0.38}],
    ),
    "laced at her left": cage_of(
        [1.6, 2.1], drops_of(0.18, 0.21), skirt={"weight": 0.6},
        panels=[{"tapes": (3, 4), "hoops": (2,), "tightness": 0.15}], tapes={"stretch": LINEN},
    ),
    "two ties on linen": cage_of(
        [1.5, 1.8, 2.1], drops_of(leaning(0.16, -0.05), 0.16, 0.17), skirt=TRAIN, tapes={"stretch": LINEN},
        ties=[
            {"from": "hoop 2 tape 4", "to": "hoop 2 tape 6", "length": 0.34},
            {"from": "hoop 3 tape 2", "to": "hoop 3 tape 8", "length": 0.45},
        ],
    ),
    "lantern, one side low": cage_of(
        [1.7, 2.2, 1.8], drops_of(0.19, [0.16, 0.16, 0.18, 0.18, 0.16, 0.16, 0.16, 0.16], 0.2), skirt=TRAIN
    ),
    "steep, lopsided": cage_of(
        [1.4, 1.6], drops_of([0.2, 0.2, 0.21, 0.22, 0.21, 0.2, 0.19, 0.19], 0.22), skirt={"weight": 1.5},
        tapes={"stretch": LINEN},
    ),
}  # fmt: skip


def at_crossings(cage: Any, positions: np.ndarray) -> np.ndarray:
    """(H, T, 3) m."""
    return positions[cage.connectivity.crossing]


def theirs(design: Design, nodes: int) -> np.ndarray:
    pytest.importorskip("elastica", reason="needs PyElastica: pip install pyelastica")
    from second_opinion import relaxing

    cage = lay_out(design, nodes)
    relaxation = relaxing(cage)
    assert relaxation.relax(STILL, every=80 * nodes, most=4000 * nodes) <= STILL
    return at_crossings(cage, relaxation.positions)


def ours(design: Design, nodes: int) -> np.ndarray:
    cage = settle(lay_out(design, nodes))
    assert cage.trusted
    return at_crossings(cage.cage, cage.positions)


@pytest.mark.parametrize("name", SIX)
def test_places_agree(name: str) -> None:
    """Both carried to the limit from two resolutions, whose errors fall with the square."""
    limits = [
        fine + (fine - coarse) / 3.0
        for coarse, fine in (
            [theirs(SIX[name], COARSE), theirs(SIX[name], FINE)],
            [ours(SIX[name], 2 * COARSE), ours(SIX[name], 2 * FINE)],
        )
    ]
    assert np.abs(limits[0] - limits[1]).max() < 0.3e-3
