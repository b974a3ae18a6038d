"""Weights on a string between two points: plain statics, solved independently to 8 digits."""

import numpy as np
import pytest
from lines_alone import weights_on_a_string

from cage3d.settle import settle


def test_places_and_tensions():
    settled = settle(weights_on_a_string([0.30, 0.25, 0.25, 0.30], [0.4, 0.6, 0.5], [0.0, 1.0], [0.8, 1.1]))
    assert settled.trusted
    places = [(0.20469629, -0.21931582), (0.44048622, -0.30240077), (0.64277250, -0.15549856)]
    assert np.abs(settled.positions[:3][:, [0, 2]] - [0.0, 1.0] - places).max() < 1e-6
    tensions = [0.81528781, 0.58981312, 0.68750087, 1.06143255]
    assert settled.state.pull_force == pytest.approx(tensions, rel=1e-5)
