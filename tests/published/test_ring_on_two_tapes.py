"""A true case in space: a ring on two vertical tapes, pulled in by the tie between them.

Source: the Kirchhoff rod equations of a quarter ring, solved by shooting; no discrete rod in it.
Ring of 2.3 m, strip 10 x 0.6 mm, tie 0.8 of the diameter.
"""

import numpy as np
import pytest
from rigs import STRIP_10, design_of

from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out

DIAMETER = 2.3 / np.pi
ANSWER = np.array([0.582142, 0.843560, 9.4090e-3, -2.7755])


def hung(nodes: int) -> np.ndarray:
    """(tie N, width across m, sides below the tapes m, roll at the sides in degrees)."""
    design = design_of(
        waist=0.8 * 2.3, zero=1.2, drops=[[0.4], [0.4]], lengths=[2.3], steel=STRIP_10,
        tapes={"stations": (0.25, 0.75)},
        ties=[{"from": "hoop 1 tape 1", "to": "hoop 1 tape 2", "length": 0.8 * DIAMETER}],
    )  # fmt: skip
    settled = settle(lay_out(design, nodes))
    assert settled.trusted
    joined = settled.cage.connectivity
    ring, tapes = settled.positions[joined.hoop_nodes[0]], settled.positions[joined.crossing[0]]
    back = int(ring[:, 1].argmax())
    edges = joined.hoop_edges[0]
    normal = settled.strip_normals[edges[back]] + settled.strip_normals[edges[back - 1]]
    # Outward is +y at the back; the strip rolls by the angle its face leaves the upright.
    roll = np.degrees(np.arctan2(normal[2], normal[1]))
    below = tapes[:, 2].mean() - ring[back, 2]
    return np.array([settled.state.pull_force[2], np.ptp(ring[:, 1]), below, -abs(roll)])


def test_default_resolution():
    tie, across, below, roll = hung(64)
    assert tie == pytest.approx(ANSWER[0], rel=0.01)
    assert across == pytest.approx(ANSWER[1], abs=5e-4)
    assert below == pytest.approx(ANSWER[2], abs=2e-4)
    assert roll == pytest.approx(ANSWER[3], abs=0.05)


def test_error_falls_with_the_square_of_the_segment():
    errors = np.array([np.abs(hung(nodes) - ANSWER) for nodes in (32, 64)])
    rates = np.log2(errors[0] / errors[1])
    assert ((rates > 1.7) & (rates < 2.4)).all(), rates
