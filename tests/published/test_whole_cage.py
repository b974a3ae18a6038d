"""A whole cage of four hoops on eight tapes, eightfold symmetric, steel weight only.

Source: the Kirchhoff rod equations of one half of the stretch between two tapes, solved by
shooting; no discrete rod in it.
"""

import numpy as np
import pytest
from rigs import crossing_points, whole_cage

from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out

HEIGHTS = np.array([0.970429848, 0.802116441, 0.612512936, 0.401917690])
DIAMETERS = np.array([0.477128, 0.604731, 0.732018, 0.859292])
TENSIONS = np.array([0.914577, 0.426190, 0.304617, 0.162906])


def measured(nodes: int):
    settled = settle(lay_out(whole_cage(), nodes))
    assert settled.trusted
    points = [crossing_points(settled.cage, settled.positions, hoop) for hoop in range(4)]
    heights = np.array([hoop[:, 2].mean() for hoop in points])
    diameters = np.array([np.linalg.norm(hoop[0, :2] - hoop[4, :2]) for hoop in points])
    tensions = settled.state.pull_force.reshape(4, 8).mean(axis=1)
    return heights, diameters, tensions


def test_default_resolution():
    heights, diameters, tensions = measured(64)
    assert np.abs(heights - HEIGHTS).max() < 0.2e-3
    assert np.abs(diameters - DIAMETERS).max() < 0.5e-3
    assert tensions == pytest.approx(TENSIONS, rel=0.01)


def test_error_falls_with_the_square_of_the_segment():
    coarse, fine = measured(32), measured(64)
    for rough, smooth, answer in zip(coarse, fine, (HEIGHTS, DIAMETERS, TENSIONS), strict=True):
        rate = np.log2(np.abs(rough - answer).max() / np.abs(smooth - answer).max())
        assert 1.8 < rate < 2.3, rate
