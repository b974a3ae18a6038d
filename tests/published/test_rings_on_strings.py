"""A rigid ring hung on strings from a smaller ring: statics, solved to 40 digits.

Source: balance of three forces and moments on a rigid body, solved independently with
40-digit arithmetic; the level case is Pythagoras. The strip is made so stiff that it keeps
its circle.
"""

import numpy as np
import pytest
from rigs import design_of, without_weight

from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out

# Ten times as thick as hoop steel, and hung with a hundredth of its weight: it keeps its circle.
RIGID = {"width": 0.010, "thickness": 0.006, "modulus": 200e9, "poisson": 0.3}


def hung(lengths: list[float], nodes: int = 64):
    design = design_of(
        waist=0.7, zero=1.2, drops=[[length] for length in lengths], lengths=[1.5], steel=RIGID,
        tapes={"stations": "on"},
    )  # fmt: skip
    return settle(without_weight(lay_out(design, nodes), 0.01))


def ring_centre(settled):
    ring = settled.positions[settled.cage.connectivity.hoop_nodes[0]]
    return ring.mean(axis=0) - [0.0, 0.0, 1.2], ring - ring.mean(axis=0)


def test_equal_strings_drop_as_pythagoras_says():
    settled = hung([0.20] * 8)
    centre, _ = ring_centre(settled)
    assert settled.trusted
    assert centre[2] == pytest.approx(-0.154235569, abs=5e-6)


def test_three_unequal_strings_tilt_the_ring():
    settled = hung([0.18, 0.20, 0.22], nodes=63)
    centre, ring = ring_centre(settled)
    normal = np.linalg.svd(ring)[2][2]
    tilt = np.degrees(np.arccos(abs(normal[2])))
    weight = settled.cage.parameters.own_weight.sum()
    assert settled.trusted
    # The source counts its angles from x, the first string there; ours is at centre front, -y.
    there = np.array([-centre[1], centre[0], centre[2]])
    assert np.abs(there - [-0.004349891, -0.002384889, -0.154513584]).max() < 1e-4
    assert tilt == pytest.approx(6.213039, abs=0.01)
    assert settled.state.pull_force / weight == pytest.approx([0.417891, 0.433572, 0.445573], rel=1e-3)
