"""A skirt that slides over one cone and round one hoop, by hand."""

from __future__ import annotations

from functools import cache
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from rigs import STRIP_6, STRIP_10, design_of

from cage3d.design.models import Design
from cage3d.foresee.sliding import both_ways
from cage3d.settle import SettledCage, settle
from cage3d.shape.cage import Connectivity
from cage3d.shape.cloth_lines import on_hoop
from cage3d.shape.lay_out import lay_out

STIFF = STRIP_10 | {"modulus": 1e12, "yield_stress": 1e12, "thickness": 0.002}
G = 9.81  # m/s2


@pytest.mark.parametrize(
    ("place", "beside", "parts", "at"),
    [
        (0.10, (5, 6), (1.0, 0.0), 5.0),
        (0.225, (5, 6), (0.5, 0.5), 5.5),
        (0.80, (7, 8), (0.2, 0.8), 7.8),
        (0.975, (8, 5), (0.5, 0.5), 6.5),  # across the seam at 1.1
        (0.05, (8, 5), (0.2, 0.8), 5.6),
    ],
)
def test_a_place_on_a_hoop_lies_between_its_two_nodes(place, beside, parts, at) -> None:
    """Nodes 5 to 8 at 0.10, 0.35, 0.60 and 0.85 of the girth."""
    fractions = np.full(9, np.nan)
    fractions[5:] = [0.10, 0.35, 0.60, 0.85]
    joined = SimpleNamespace(hoop_nodes=(np.arange(5), np.arange(5, 9)), node_fraction=fractions)
    nodes, shares = on_hoop(cast(Connectivity, joined), 1, np.array([place]))
    assert (shares[0] * nodes[0]).sum() == pytest.approx(at)
    assert tuple(nodes[0]) == beside
    assert shares[0] == pytest.approx(parts)


@cache
def cone(below_hem: float, band: float = 0.002) -> SettledCage:
    """One stiff hoop of 1.5 m under a waist of 1 m, 2 kg of skirt; below_hem, band: m, depth of the waistband."""
    return settle(lay_out(cone_design(band, below_hem=below_hem), 48))


def cone_design(band: float = 0.002, **skirt: Any) -> Design:
    return design_of(
        waist=1.0, zero=1.2, drops=[[0.4]] * 8, lengths=[1.5], steel=STIFF, waistband={"depth": band},
        skirt={"weight": 2.0, "cut": "gathered"} | skirt,
    )  # fmt: skip


@pytest.mark.parametrize("band", [0.002, 0.12])
def test_a_cone_shares_its_skirt_between_hoop_and_band_by_hand(band: float) -> None:
    """Radii 159.15 and 238.73 mm, tapes of 0.4 m: 392 mm down. 2 kg on 400 mm and 100 mm below the hem, so 39.2 N/m;
    the pull at half height, over an edge 100 mm under the hoop, is w (0.196 + 0.1), steep by 392 / 400. Tapes and
    cloth begin at the lower edge of the band, whatever its depth.
    """
    found = both_ways(cone(0.1, band))
    assert found is not None
    drop = np.sqrt(0.4**2 - (0.5 / (2 * np.pi)) ** 2)
    each = 2.0 * G / 0.5
    steep = each * (drop / 2 + 0.1) * drop / 0.4
    assert -found.slides.state.cloth_on_band[2] == pytest.approx(steep + each * 0.2, rel=2e-3)
    assert -found.slides.state.cloth[:, 2].sum() == pytest.approx(2.0 * G - steep - each * 0.2, rel=2e-2)


def test_cloth_lies_on_its_own_hoops_alone() -> None:
    """Only on the second hoop: nothing on the first, and all of it there and on the band."""
    hoops = [{"length": length, "join": "none"} for length in (1.0, 1.5)]
    design = design_of(
        waist=1.0, zero=1.2, drops=[[0.3, 0.3]] * 4, lengths=[], hoops=hoops, steel=STIFF,
        skirt={"weight": 1.0, "hoops": (2,), "slides": True},
    )  # fmt: skip
    settled = settle(lay_out(design, 24))
    upper, lower = (settled.state.cloth[nodes, 2].sum() for nodes in settled.cage.connectivity.hoop_nodes)
    assert upper == 0.0
    assert -settled.state.cloth_on_band[2] - lower == pytest.approx(G, rel=1e-6)


def test_a_skirt_that_is_heaped_hangs_where_it_lies() -> None:
    """15 % about centre front, 45 at both sides, 40 about centre back, each within a quarter of the way round."""
    lies = {"front": 0.15, "sides": 0.45, "back": 0.40}
    cage = lay_out(cone_design(below_hem=0.1, lies=lies, slides=True), 48)
    fractions = np.sort(np.mod(cage.connectivity.node_fraction[cage.connectivity.hoop_nodes[0]], 1.0))
    quarter = np.floor(np.mod(fractions + 0.125, 1.0) * 4).astype(int)
    weights = cage.parameters.cloth_weight
    told = np.array([weights[quarter == n].sum() for n in range(4)]) / (2.0 * G)
    assert told == pytest.approx([0.15, 0.225, 0.40, 0.225], abs=0.012)


def test_what_hangs_straight_down_leaves_the_hoops_as_if_it_were_not_there() -> None:
    """A hoop as wide as the waist: nothing presses on it, so it goes where it is without its skirt."""
    design = design_of(
        waist=1.5, zero=1.2, drops=[[0.4]] * 4, lengths=[1.5], steel=STRIP_6,
        skirt=[{"weight": 0.06}, {"weight": 0.04}],
    )  # fmt: skip
    settled = settle(lay_out(design, 24))
    found, bare = both_ways(settled), settle(settled.cage.without_skirt())
    assert found is not None
    assert found.slides.state.cloth[:, 2].sum() == pytest.approx(0.0, abs=0.005)
    assert -found.slides.state.cloth_on_band[2] == pytest.approx(0.1 * G, rel=5e-3)
    most = np.abs(bare.positions - settled.positions).max()
    assert most > 1e-4
    assert found.slides.positions == pytest.approx(bare.positions, abs=0.1 * most)
