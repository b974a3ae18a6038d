"""The energy of heavy ropes over places, added up by hand."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import PPoly

from cage3d.settle.terms.rope import Rope

EVEN = PPoly(np.ones((1, 1)), np.array([0.0, 1.0]))
HEAVY_BELOW = PPoly(np.array([[0.5, 1.5]]), np.array([0.0, 0.5, 1.0]))  # a quarter of it in the upper half
SLANTED = [[0.0, 0.0, 1.0], [0.3, 0.0, 0.6]]


@pytest.mark.parametrize(
    ("line", "length", "heaviness", "energy"),
    [
        # 3 N straight down from 1 m: 0.8 m of rope with its middle at 0.6 m, whether over a place on the way or not.
        ([[0.0, 0.0, 1.0], [0.0, 0.0, 0.7]], 0.8, EVEN, 3 * 0.6),
        # 2.25 N in the lower half.
        ([[0.0, 0.0, 1.0], [0.0, 0.0, 0.7]], 0.8, HEAVY_BELOW, 0.75 * 0.8 + 2.25 * 0.4),
        # Half a metre of slope with its middle at 0.8 m, and 0.25 m below the place: two thirds and one third of it.
        (SLANTED, 0.75, EVEN, 2 * 0.8 + 1 * (0.6 - 0.125)),
        # Over a second place level with the first, 0.5 m further: thirds of 0.5 m.
        ([*SLANTED, [0.8, 0.0, 0.6]], 1.5, EVEN, 0.8 + 0.6 + (0.6 - 0.25)),
        # A row filled up by its last place is the same rope.
        ([*SLANTED, [0.3, 0.0, 0.6]], 0.75, EVEN, 2 * 0.8 + 1 * (0.6 - 0.125)),
    ],
)
def test_the_height_of_all_its_parts(line, length, heaviness, energy) -> None:
    rope = Rope(np.array([line]), np.array([3.0]), np.array([length]), heaviness)
    assert rope.energy == pytest.approx([energy])


def test_what_hangs_down_to_each_place() -> None:
    """3 N on 1.5 m, 2 N a metre: 1 N to the first place, 2 to the second; and their integrals over the rope."""
    rope = Rope(np.array([[*SLANTED, [0.8, 0.0, 0.6]]]), np.array([3.0]), np.array([1.5]), EVEN)
    assert rope.spans == pytest.approx(np.array([[0.5, 0.5]]))
    assert rope.ends == pytest.approx(np.array([[0.5, 1.0]]))
    assert rope.steepness == pytest.approx(np.array([[0.8, 0.0]]))
    assert rope.bends == pytest.approx(np.array([[0.8, -1.0]]))
    assert rope.there == pytest.approx(np.array([[2.0, 2.0]]))
    assert rope.down_to == pytest.approx(np.array([[1.0, 2.0]]))
    assert rope.moments == pytest.approx(np.array([[0.25, 1.0]]))
    assert rope.span_weights == pytest.approx(np.array([[1.0, 1.0]]))
    assert rope.span_moments == pytest.approx(np.array([[0.25, 0.75]]))
