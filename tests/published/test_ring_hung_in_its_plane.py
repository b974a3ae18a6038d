"""A ring hung from one point in its own plane.

Source, small: Roark's Formulas for Stress and Strain, ring under its own weight [from memory]:
down +0.467401 w R^4/EI, across -0.429204 w R^4/EI. Large (w R^3/EI = 1): the planar heavy
elastica as a boundary value problem, solved independently.
"""

import numpy as np
import pytest
from lines_alone import ring_hung_from_a_point
from rigs import STRIP_6, out_of_plane, smooth_ring

from cage3d.settle import settle

LENGTH = 2.0
RADIUS = LENGTH / (2 * np.pi)
# E b t^3/12 of flat strip, E pi d^4/64 of a rod, E pi (d^4 - bore^4)/64 of a hose.
FLAT = (STRIP_6, 200e9 * 0.006 * 0.0005**3 / 12)
ROD = ({"material": "round cane", "diameter": 0.006, "modulus": 2e9}, 2e9 * np.pi * 0.006**4 / 64)
HOSE = (
    {"material": "plastic hose", "diameter": 0.020, "wall": 0.002, "modulus": 1e9},
    1e9 * np.pi * (0.020**4 - 0.016**4) / 64,
)


def hung(load: float, nodes: int, stuff: tuple[dict, float] = FLAT) -> np.ndarray:
    """(down, across) over the diameter at w R^3/EI = load; stuff: the steel and its EI."""
    steel, bending = stuff
    settled = settle(ring_hung_from_a_point(LENGTH, nodes, steel, load * bending / RADIUS**3))
    assert settled.settled
    ring = settled.positions[settled.cage.connectivity.hoop_nodes[0]]
    assert out_of_plane(ring) < 1e-6
    # Hung from one point it is free to turn about the upright axis through it.
    across = 2 * smooth_ring(np.hypot(ring[:, 0], ring[:, 1])).max()
    return np.array([np.ptp(ring[:, 2]), across]) / (2 * RADIUS)


@pytest.mark.parametrize("stuff", [FLAT, ROD, HOSE], ids=["flat", "rod", "hose"])
def test_small_weight(stuff):
    change = (hung(0.002, 256, stuff) - hung(0.001, 256, stuff)) / 0.001
    # Changes of the diameter in R: the table's down and across are of the diameter.
    assert 2 * change == pytest.approx([0.467401, -0.429204], rel=0.01)


@pytest.mark.parametrize("stuff", [FLAT, ROD, HOSE], ids=["flat", "rod", "hose"])
def test_large_weight(stuff):
    assert hung(1.0, 128, stuff) == pytest.approx([1.1622869, 0.8222337], abs=1e-3)


def test_error_falls_with_the_square_of_the_segment():
    errors = [np.linalg.norm(hung(1.0, nodes) - [1.1622869, 0.8222337]) for nodes in (32, 64)]
    assert 1.8 < np.log2(errors[0] / errors[1]) < 2.3
