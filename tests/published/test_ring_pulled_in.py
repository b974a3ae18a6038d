"""A ring pulled in along a diameter by a tie: the planar elastica.

Source for small pulls: Roark's Formulas for Stress and Strain, ring table, case of two opposite
loads [from memory]. For large ones: the elastica in elliptic integrals, solved independently.
The ring hangs on two tapes with next to no weight, so that only the tie bends it.
"""

import numpy as np
import pytest
from rigs import STRIP_6, out_of_plane, ring_on_tapes, without_weight

from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.shape.section_kinds import section_of

LENGTH = 2.0
RADIUS = LENGTH / (2 * np.pi)
TABLE = {0.90: (1.17433151, 1.08325835), 0.80: (2.11530038, 1.15152559), 0.60: (3.65502382, 1.25187762)}


ROD = {"material": "round cane", "diameter": 0.006, "modulus": 2e9}
EI_OF_ROD = 2e9 * np.pi * 0.006**4 / 64


def pulled(share: float, nodes: int, steel: dict = STRIP_6, bending: float | None = None):
    design = ring_on_tapes(
        LENGTH, 2, steel, tapes={"stations": (0.25, 0.75)},
        ties=[{"from": "hoop 1 tape 1", "to": "hoop 1 tape 2", "length": share * 2 * RADIUS}],
    )  # fmt: skip
    settled = settle(without_weight(lay_out(design, nodes)))
    assert settled.settled
    ring = settled.positions[settled.cage.connectivity.hoop_nodes[0]]
    force = settled.state.pull_force[2] * RADIUS**2 / (bending or section_of(design.steel).stiffness.easy)
    quarter = len(ring) // 4
    return force, np.linalg.norm(ring[quarter] - ring[3 * quarter]) / (2 * RADIUS), ring


@pytest.mark.parametrize("share", TABLE)
def test_large_pull(share):
    force, across, ring = pulled(share, 64)
    assert force == pytest.approx(TABLE[share][0], rel=0.01)
    assert across == pytest.approx(TABLE[share][1], abs=0.5e-3 / (2 * RADIUS)), "half a millimetre"
    assert out_of_plane(ring) < 1e-5, "the ring stays in its plane"


@pytest.mark.parametrize("share", TABLE)
def test_a_rod_is_pulled_as_strip_is_and_stays_in_its_plane(share):
    force, across, ring = pulled(share, 64, ROD, EI_OF_ROD)
    assert force == pytest.approx(TABLE[share][0], rel=0.01)
    assert across == pytest.approx(TABLE[share][1], abs=0.5e-3 / (2 * RADIUS)), "half a millimetre"
    assert out_of_plane(ring) < 1e-5


@pytest.mark.parametrize("share", [0.4, 0.2])
def test_the_ring_stays_in_its_plane_however_far_it_is_pulled(share):
    _, _, ring = pulled(share, 64)
    assert out_of_plane(ring) < 1e-4


def test_error_falls_with_the_square_of_the_segment():
    errors = np.array([np.abs(np.array(pulled(0.80, nodes)[:2]) - TABLE[0.80]) for nodes in (32, 64)])
    rates = np.log2(errors[0] / errors[1])
    assert ((rates > 1.8) & (rates < 2.3)).all(), rates


def test_small_pull():
    design_shares = (0.999, 0.998)
    force, across, _ = zip(*(pulled(share, 128) for share in design_shares), strict=True)
    # Slopes between two small pulls: change along the load 0.148778, across it 0.136620 (F R^3/EI of the radius).
    along = (design_shares[0] - design_shares[1]) * 2 / (force[1] - force[0])
    wider = (across[1] - across[0]) * 2 / (force[1] - force[0])
    assert along == pytest.approx(0.148778, rel=0.01)
    assert wider == pytest.approx(0.136620, rel=0.01)
