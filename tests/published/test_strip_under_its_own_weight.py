"""A strip held level at one end bends under its own weight: the heavy elastica.

Source: Bickley 1934, Peirce 1930, the cantilever test ASTM D1388 [from memory]; tip places
solved independently as a boundary value problem. c = (EI/w)^(1/3).
"""

import numpy as np
import pytest
from lines_alone import strip_held_at_one_end
from rigs import LEVEL

from cage3d.settle import settle

BENDING, WEIGHT = 0.0125, 0.23
LENGTH_UNIT = (BENDING / WEIGHT) ** (1 / 3)
TABLE = {1.0: (0.99124640, 0.12347140), 2.0: (0.72442473, 0.64063072)}


def tip(ratio: float, edges: int) -> np.ndarray:
    """(along, down) of the free end over the length."""
    length = ratio * LENGTH_UNIT
    settled = settle(strip_held_at_one_end(length, edges, WEIGHT, BENDING))
    # Nothing holds the strip's roll about the clamp, so the rest is neither stable nor unstable there.
    assert settled.settled
    along, _, height = settled.positions[edges - 1]
    return np.array([along, LEVEL - height]) / length


@pytest.mark.parametrize("ratio", TABLE)
def test_tip(ratio):
    assert tip(ratio, 64) == pytest.approx(TABLE[ratio], abs=5e-4)


def test_droop_of_the_cantilever_test():
    along, down = tip(2.0, 128)
    assert np.degrees(np.arctan2(down, along)) == pytest.approx(41.5, abs=0.1)


def test_error_falls_with_the_square_of_the_segment():
    errors = [np.linalg.norm(tip(2.0, edges) - TABLE[2.0]) for edges in (32, 64)]
    assert 1.8 < np.log2(errors[0] / errors[1]) < 2.3
