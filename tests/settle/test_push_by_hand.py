"""A hand's push on one node by hand: 3 N to her left and 4 N to her back, the node moved aside and along."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from cage3d.settle.terms.push import push_of

# What is on the last node, a fixed one, is the band's to bear.
FORCE = np.array([[0.0, 0.0, 0.0], [3.0, 4.0, 0.0], [9.0, 9.0, 0.0]])
FIRST = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 1.0], [2.0, 0.0, 1.0]])


def test_a_push_along_and_a_guide_aside() -> None:
    """Moved by (0.1, 0.2, 0.3): 0.3 + 0.8 J along; aside, along (0.8, -0.6), by -0.04 m at 1000 N/m: 0.8 J."""
    unknowns: Any = SimpleNamespace(free_nodes=2, coordinates=np.arange(9).reshape(3, 3))
    push = push_of(FORCE, FIRST, unknowns)
    assert push.stencil.tolist() == [[0, 1, 2], [3, 4, 5]]
    posture: Any = SimpleNamespace(positions=FIRST + np.array([[0.0] * 3, [0.1, 0.2, 0.3], [0.0] * 3]))
    told = push.at(posture)
    assert told.pushed.tolist() == [1]
    assert told.off == pytest.approx([-0.04])
    none = np.zeros(0)
    assert told.energy(none, 0.0) == pytest.approx(0.8 - 1.1)
    assert told.gradient(none, 0.0).values == pytest.approx(np.array([[0, 0, 0], [-32 - 3, 24 - 4, 0]]))
    curve = told.hessian(none, 0.0)
    assert curve.rows is not None
    assert curve.rows.tolist() == [1]
    assert curve.values[0] == pytest.approx(1000 * np.array([[0.64, -0.48, 0], [-0.48, 0.36, 0], [0, 0, 0]]))
