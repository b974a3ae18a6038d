"""A level ring of strip on N supports sags between them under its own weight.

Source: the curved girder on equally spaced supports; Hassoun, Structural Concrete, Table 21.1
gives the moments, the sag follows by virtual work. Naturally curved strip would sag more: the
difference tells whether closing a straight strip into a ring is reckoned with.
"""

import numpy as np
import pytest
from rigs import STRIP_6, crossing_points, ring_on_tapes

from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out

STRAIGHT = {4: 0.532638e-3, 6: 0.052462e-3, 8: 0.011123e-3}
CURVED = {4: 0.559810e-3, 6: 0.053758e-3, 8: 0.011291e-3}


def sag(supports: int, nodes: int) -> float:
    settled = settle(lay_out(ring_on_tapes(2.7, supports, STRIP_6), nodes))
    assert settled.trusted
    at_tapes = crossing_points(settled.cage, settled.positions, 0)[:, 2].mean()
    return at_tapes - settled.positions[settled.cage.connectivity.hoop_nodes[0], 2].min()


@pytest.mark.parametrize("supports", [4, 6, 8])
def test_sag_between_supports(supports):
    # The stretch between two supports is what has to be fine, not the ring.
    assert sag(supports, 24 * supports) == pytest.approx(STRAIGHT[supports], rel=0.02)


def test_naturally_straight_is_told_from_naturally_curved():
    fine = sag(4, 192)
    assert abs(fine - STRAIGHT[4]) < 0.1 * abs(fine - CURVED[4])


def test_error_falls_with_the_square_of_the_segment():
    errors = [abs(sag(4, nodes) - STRAIGHT[4]) for nodes in (64, 128)]
    assert 1.8 < np.log2(errors[0] / errors[1]) < 2.3
