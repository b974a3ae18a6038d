"""Naturally straight strip sprung into an arc by a string between its ends: the elastica.

Source: Love, Mathematical Theory of Elasticity; Timoshenko and Gere, Theory of Elastic
Stability [from memory]: chord/L = 2 E(k)/K(k) - 1, P L^2/EI = 4 K^2, rise/L = k/K, with
the elliptic integrals of scipy.
"""

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import ellipe, ellipk
from sprung import sprung

LENGTH = 1.2
TABLE = {0.8: (10.98229097, 0.26631859), 0.5: (13.31852815, 0.37330643)}


@pytest.mark.parametrize("chord", TABLE)
def test_the_table_is_the_formula(chord):
    modulus = brentq(lambda k: 2 * ellipe(k * k) / ellipk(k * k) - 1 - chord, 0.01, 0.99)
    whole = ellipk(modulus * modulus)
    assert (4 * whole**2, modulus / whole) == pytest.approx(TABLE[chord], rel=1e-7)


@pytest.mark.parametrize("chord", TABLE)
def test_tie_and_rise(chord):
    assert sprung(LENGTH, chord, 96) == pytest.approx(TABLE[chord], rel=5e-3)


def test_error_falls_with_the_square_of_the_segment():
    errors = np.array([np.abs(sprung(LENGTH, 0.5, nodes) - TABLE[0.5]) for nodes in (40, 80)])
    rates = np.log2(errors[0] / errors[1])
    assert ((rates > 1.7) & (rates < 2.4)).all(), rates
