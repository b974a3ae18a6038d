"""Designs of every kind, drawn by lot: they come to rest, and what hangs is what the waistband holds."""

from __future__ import annotations

import numpy as np
import pytest
from random_designs import KINDS, random_design

from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

NODES = 24


def pull_on_the_waistband(settled: SettledCage) -> float:
    """N, downwards: what the uppermost tapes pull at their own slant, by their two ends alone."""
    joined, found = settled.cage.connectivity, 0.0
    for (one, other), force in zip(joined.pulls, settled.state.pull_force, strict=True):
        held = [end for end in (one, other) if end in joined.anchors]
        if held:
            away = settled.positions[other if held[0] == one else one] - settled.positions[held[0]]
            found -= force * away[2] / np.linalg.norm(away)
    return float(found)


@pytest.mark.parametrize("seed", [0, pytest.param(1, marks=pytest.mark.slow)])
@pytest.mark.parametrize("kind", KINDS)
def test_it_rests_and_hangs_on_the_waistband(kind: str, seed: int) -> None:
    settled = settle(lay_out(random_design(seed, kind), NODES))
    assert settled.trusted, settled.notes
    weights = settled.cage.parameters.own_weight + settled.cage.parameters.skirt_weight
    free = ~np.isin(np.arange(len(weights)), settled.cage.connectivity.anchors)
    hangs, held = float(weights[free].sum()), pull_on_the_waistband(settled)
    if kind == "touching":  # what lies on her is borne by her
        assert 0.5 * hangs < held < hangs
    else:
        assert held == pytest.approx(hangs, rel=1e-6)
