"""Naturally straight strip sprung into an arc by a string between its ends: the elastica.

Source: Love, Mathematical Theory of Elasticity; Timoshenko and Gere, Theory of Elastic
Stability [from memory]: chord/L = 2 E(k)/K(k) - 1, P L^2/EI = 4 K^2, rise/L = k/K, with
the elliptic integrals of scipy.
"""

import numpy as np
import pytest
from rigs import STRIP_6, design_of, only_ties
from scipy.optimize import brentq
from scipy.special import ellipe, ellipk

from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.shape.section import section_of

LENGTH = 1.2
TABLE = {0.8: (10.98229097, 0.26631859), 0.5: (13.31852815, 0.37330643)}


@pytest.mark.parametrize("chord", TABLE)
def test_the_table_is_the_formula(chord):
    modulus = brentq(lambda k: 2 * ellipe(k * k) / ellipk(k * k) - 1 - chord, 0.01, 0.99)
    whole = ellipk(modulus * modulus)
    assert (4 * whole**2, modulus / whole) == pytest.approx(TABLE[chord], rel=1e-7)


def sprung(chord: float, nodes: int) -> np.ndarray:
    """(P L^2/EI, rise/L) of an open hoop whose ends a tie holds together."""
    design = design_of(
        waist=0.9, zero=1.5, drops=[[0.6], [0.6]], lengths=[], steel=STRIP_6,
        hoops=[{"length": LENGTH, "opening": "front", "overhang": 0.0}],
        tapes={"stations": (0.2, 0.8)},
        ties=[{"from": "hoop 1 tape 1", "to": "hoop 1 tape 2", "length": chord * LENGTH}],
    )  # fmt: skip
    settled = settle(only_ties(lay_out(design, nodes)))
    # The strip floats: nothing says where it lies, so it rests but is held nowhere.
    assert settled.settled
    strip = settled.positions[settled.cage.connectivity.hoop_nodes[0]]
    along = (strip[-1] - strip[0]) / np.linalg.norm(strip[-1] - strip[0])
    from_chord = strip - strip[0]
    from_chord = from_chord - (from_chord @ along)[:, None] * along
    rise = np.linalg.norm(from_chord, axis=1).max()
    force = settled.state.pull_force[0] * LENGTH**2 / section_of(design.steel).stiffness.easy
    return np.array([force, rise / LENGTH])


@pytest.mark.parametrize("chord", TABLE)
def test_tie_and_rise(chord):
    assert sprung(chord, 96) == pytest.approx(TABLE[chord], rel=5e-3)


def test_error_falls_with_the_square_of_the_segment():
    errors = np.array([np.abs(sprung(0.5, nodes) - TABLE[0.5]) for nodes in (40, 80)])
    rates = np.log2(errors[0] / errors[1])
    assert ((rates > 1.7) & (rates < 2.4)).all(), rates
