"""A rigid ring hung on strings from a smaller ring: statics, solved to 40 digits.

Source: balance of forces and moments on a rigid body, solved independently with
40-digit arithmetic (mpmath); the level case is Pythagoras. The strip is made so stiff that it keeps
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


# Three strings of 0.2 m and a weight as heavy as the ring 5/21 of the way round from the first: nine equations in the
# ring's place and turn and three pulls, solved by mpmath to 40 digits. x towards the first string, the centre at first.
OFF_CENTRE = [-0.008161162077735, -0.057090475542737, -0.140891218355002]
AT_STRINGS = [
    [0.230409744872, -0.0594361017527, -0.149352080824],
    [-0.127000637781, 0.146210499443, -0.180122052952],
    [-0.127892593324, -0.258045824318, -0.0931995212893],
]
OFF_TILT, OFF_PULLS = 12.308773796682710, [0.454464455856, 0.707380030777, 0.0505372176971]


def test_the_table_is_in_balance():
    """Strings as long as they are, the sum of all forces and of their moments about the axis nothing."""
    radius, turns = 0.7 / (2 * np.pi), 2 * np.pi * np.arange(3) / 3
    tops = radius * np.column_stack([np.cos(turns), np.sin(turns), np.zeros(3)])
    strings = tops - AT_STRINGS
    assert np.linalg.norm(strings, axis=1) == pytest.approx([0.2] * 3, abs=1e-11)
    pulls = np.array(OFF_PULLS)[:, None] * strings / 0.2
    assert pulls.sum(axis=0) == pytest.approx([0.0, 0.0, 1.0], abs=1e-10)
    weight = np.array([0.0101807949354, 0.175479106196, -0.191567919722])
    down = np.array([0.0, 0.0, -0.5])
    moments = np.cross(AT_STRINGS, pulls).sum(axis=0) + np.cross(OFF_CENTRE, down) + np.cross(weight, down)
    assert moments == pytest.approx([0.0, 0.0, 0.0], abs=1e-10)


def test_an_off_centre_weight_tilts_the_ring():
    design = design_of(
        waist=0.7, zero=1.2, drops=[[0.2]] * 3, lengths=[1.5], steel=RIGID, tapes={"stations": "on"}
    )
    cage = without_weight(lay_out(design, 63), 0.01)
    weight = cage.parameters.own_weight.copy()
    weight[cage.connectivity.hoop_nodes[0][15]] += weight.sum()
    settled = settle(cage.with_parameters(own_weight=weight))
    assert settled.trusted
    centre, ring = ring_centre(settled)
    tilt = np.degrees(np.arccos(abs(np.linalg.svd(ring)[2][2][2])))
    there = np.array([-centre[1], centre[0], centre[2]])
    assert np.abs(there - OFF_CENTRE).max() < 1e-4
    assert tilt == pytest.approx(OFF_TILT, abs=0.02)
    assert settled.state.pull_force / weight.sum() == pytest.approx(OFF_PULLS, abs=5e-4)
