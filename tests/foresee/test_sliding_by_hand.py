"""A skirt that slides over one cone and round one hoop, by hand."""

from __future__ import annotations

from functools import cache
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from rigs import STRIP_6, STRIP_10, design_of

from cage3d.design.models import Design
from cage3d.foresee.sliding import add_sliding, on_hoop, sliding
from cage3d.settle import SettledCage, settle
from cage3d.settle.tangent import Tangent
from cage3d.shape.changes import ParameterChanges
from cage3d.shape.lay_out import lay_out

STIFF = STRIP_10 | {"modulus": 1e12, "yield_stress": 1e12, "thickness": 0.002}
G = 9.81  # m/s2


@cache
def pair(opening: str = "none") -> SettledCage:
    """Two stiff hoops of 1 and 1.5 m on four tapes at front, left, back and right; 1 kg of skirt."""
    hoops = [{"length": 1.0, "join": "none"}, {"length": 1.5, "opening": opening, "join": "none"}]
    design = design_of(
        waist=1.0, zero=1.2, drops=[[0.3, 0.3]] * 4, lengths=[], hoops=hoops, steel=STIFF,
        tapes={"stations": "on" if opening == "none" else "between"}, skirt={"weight": 1.0},
    )  # fmt: skip
    return settle(lay_out(design, 24))


@pytest.mark.parametrize(
    ("place", "beside", "parts", "at"),
    [
        (0.10, (5, 6), (1.0, 0.0), (0.0, 1.0)),
        (0.225, (5, 6), (0.5, 0.5), (0.5, 1.5)),
        (0.80, (7, 8), (0.2, 0.8), (2.8, 3.8)),
        (0.975, (8, 5), (0.5, 0.5), (1.5, 2.5)),  # across the seam at 1.1
        (0.05, (8, 5), (0.2, 0.8), (0.6, 1.6)),
    ],
)
def test_a_place_on_a_hoop_lies_between_its_two_nodes(place, beside, parts, at) -> None:
    """Nodes 5 to 8 at 0.10, 0.35, 0.60 and 0.85 of the girth, at x = 0, 1, 2, 3 and y = 1, 2, 3, 4."""
    fractions = np.full(9, np.nan)
    fractions[5:] = [0.10, 0.35, 0.60, 0.85]
    positions = np.zeros((9, 3))
    positions[5:, 0], positions[5:, 1] = range(4), range(1, 5)
    joined = SimpleNamespace(hoop_nodes=(np.arange(5), np.arange(5, 9)), node_fraction=fractions)
    settled = SimpleNamespace(cage=SimpleNamespace(connectivity=joined), positions=positions)
    found, nodes, shares = on_hoop(cast(SettledCage, settled), 1, np.array([place]))
    assert found[0] == pytest.approx([*at, 0.0])
    assert tuple(nodes[0]) == beside
    assert shares[0] == pytest.approx(parts)


@cache
def cone(below_hem: float, band: float = 0.002) -> SettledCage:
    """One stiff hoop of 1.5 m under a waist of 1 m, 2 kg of skirt; below_hem, band: m, depth of the waistband."""
    return settle(lay_out(cone_design(band, below_hem=below_hem), 48))


def cone_design(band: float = 0.002, **skirt: Any) -> Design:
    return design_of(
        waist=1.0, zero=1.2, drops=[[0.4]] * 8, lengths=[1.5], steel=STIFF, skirt={"weight": 2.0} | skirt,
        waistband={"depth": band},
    )  # fmt: skip


@pytest.mark.parametrize("band", [0.002, 0.12])
def test_a_cone_shares_its_skirt_between_hoop_and_band_by_hand(band: float) -> None:
    """Radii 159.15 and 238.73 mm, tapes of 0.4 m: 392 mm down. 2 kg on 400 mm and 100 mm below the hem, so 39.2 N/m;
    the pull at half height, over an edge 100 mm under the hoop, is w (0.196 + 0.1), steep by 392 / 400. Tapes and
    cloth begin at the lower edge of the band, whatever its depth.
    """
    found = sliding(cone(0.1, band))
    assert found is not None
    drop = np.sqrt(0.4**2 - (0.5 / (2 * np.pi)) ** 2)
    each = 2.0 * G / 0.5
    steep = each * (drop / 2 + 0.1) * drop / 0.4
    assert found.on_band == pytest.approx(steep + each * 0.2, rel=2e-3)
    assert found.on_hoops == pytest.approx([2.0 * G - steep - each * 0.2], rel=2e-2)


def test_a_skirt_lies_on_its_own_hoops_alone() -> None:
    """Only on the second hoop: nothing on the first; and of what lies half at her left, half of the load is there."""
    settled = pair()
    design = settled.cage.design
    (skirt,) = design.skirts
    forces = np.zeros_like(settled.positions)
    band = add_sliding(settled, skirt.model_copy(update={"hoops": (2,)}), forces)
    upper, lower = (forces[nodes, 2].sum() for nodes in settled.cage.connectivity.hoop_nodes)
    assert upper == 0.0
    assert band - lower == pytest.approx(G, rel=1e-3)


def test_a_skirt_that_is_heaped_presses_where_it_lies() -> None:
    """15 % about centre front, 45 at both sides, 40 about centre back, each within a quarter of the way round."""
    settled = cone(0.1)
    (skirt,) = cone_design(lies={"front": 0.15, "sides": 0.45, "back": 0.40}).skirts
    forces = np.zeros_like(settled.positions)
    add_sliding(settled, skirt, forces)
    nodes = settled.cage.connectivity.hoop_nodes[0]
    fractions = settled.cage.connectivity.node_fraction[nodes]
    quarter = np.floor(np.mod(fractions + 0.125, 1.0) * 4).astype(int)
    inward = np.linalg.norm(forces[nodes, :2], axis=1)
    told = np.array([inward[quarter == n].sum() for n in range(4)]) / inward.sum()
    assert told == pytest.approx([0.15, 0.225, 0.40, 0.225], abs=0.012)


def test_what_hangs_straight_down_leaves_the_hoops_as_if_it_were_not_there() -> None:
    """A hoop as wide as the waist: nothing presses on it, so it goes where the loss of the skirt lets it go."""
    design = design_of(
        waist=1.5, zero=1.2, drops=[[0.4]] * 4, lengths=[1.5], steel=STRIP_6,
        skirt=[{"weight": 0.06}, {"weight": 0.04}],
    )  # fmt: skip
    settled = settle(lay_out(design, 24))
    found = sliding(settled)
    assert found is not None
    assert found.on_hoops == pytest.approx([0.0], abs=0.005)
    assert found.on_band == pytest.approx(0.1 * G, rel=5e-3)
    lighter = Tangent(settled).moves(
        ParameterChanges(skirt_weight=-settled.cage.parameters.skirt_weight[:, None])
    )
    most = np.abs(lighter).max()
    assert most > 1e-4
    assert found.moves == pytest.approx(lighter[:, :, 0], abs=0.05 * most)
