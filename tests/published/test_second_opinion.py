"""The hard cage against PyElastica, which steps Cosserat rods in time until they rest.

Source: PyElastica (PyPI `pyelastica`), an independent implementation of Gazzola, Dudte, McCormick
and Mahadevan, Forward and inverse problems in the mechanics of soft filaments, Royal Society Open
Science 5 (2018) 171628.

Both methods err with the square of the element, by different factors, so both are carried to the
limit from two resolutions (Richardson) and the limits compared. What is left is the stretch and
shear of PyElastica's rods (3e4 N), and the last movement before they are taken to rest. Measured:
places 0.063 mm apart at most, the tie 0.04 %, any pull 0.0025 N. About a minute of computing.
"""

import numpy as np
import pytest
from rigs import hard_cage

from cage3d.settle import settle
from cage3d.shape.cage import Cage
from cage3d.shape.lay_out import lay_out

pytestmark = pytest.mark.slow

STILL = 1e-5  # m in as many steps as a hoop's slowest swing takes to fall to about two thirds
COARSE, FINE = 32, 64


def at_crossings(cage: Cage, positions: np.ndarray) -> np.ndarray:
    """(H, T, 3) m."""
    return positions[cage.connectivity.crossing]


def limit(coarse: np.ndarray, fine: np.ndarray) -> np.ndarray:
    """What twice as fine again and again would give where the error falls with the square."""
    return fine + (fine - coarse) / 3.0


def relaxed(nodes: int) -> tuple[np.ndarray, np.ndarray]:
    """(crossings, pulls) of PyElastica at rest."""
    pytest.importorskip("elastica", reason="needs PyElastica: pip install pyelastica")
    from second_opinion import relaxing

    cage = lay_out(hard_cage(), nodes)
    relaxation = relaxing(cage)
    moved = relaxation.relax(STILL, every=80 * nodes, most=4000 * nodes)
    assert moved <= STILL
    return at_crossings(cage, relaxation.positions), relaxation.pull_force


def settled(nodes: int | None) -> tuple[np.ndarray, np.ndarray]:
    """(crossings, pulls) of ours; None for the nodes that a maker gets."""
    cage = settle(lay_out(hard_cage()) if nodes is None else lay_out(hard_cage(), nodes))
    assert cage.trusted
    return at_crossings(cage.cage, cage.positions), cage.state.pull_force


@pytest.fixture(scope="module")
def theirs() -> tuple[tuple[np.ndarray, np.ndarray], tuple[np.ndarray, np.ndarray]]:
    return relaxed(COARSE), relaxed(FINE)


def test_the_limits_agree(theirs):
    (coarse_place, coarse_pull), (fine_place, fine_pull) = theirs
    (our_coarse_place, our_coarse_pull), (our_fine_place, our_fine_pull) = settled(128), settled(256)
    place, our_place = limit(coarse_place, fine_place), limit(our_coarse_place, our_fine_place)
    pull, our_pull = limit(coarse_pull, fine_pull), limit(our_coarse_pull, our_fine_pull)
    assert np.abs(place - our_place).max() < 0.15e-3
    assert pull[-1] == pytest.approx(our_pull[-1], rel=2e-3)  # the tie
    assert np.abs(pull - our_pull).max() < 0.01  # N, of 0.1 to 2.5 N


def test_what_a_maker_gets_is_as_near_as_promised(theirs):
    (coarse_place, coarse_pull), (fine_place, fine_pull) = theirs
    place, pull = limit(coarse_place, fine_place), limit(coarse_pull, fine_pull)
    our_place, our_pull = settled(None)
    assert np.abs(our_place - place)[..., 2].max() < 0.5e-3  # heights
    across, our_across = (
        np.linalg.norm(points[:, :4] - points[:, 4:], axis=2) for points in (place, our_place)
    )
    assert np.abs(our_across - across).max() < 0.5e-3
    assert our_pull[-1] == pytest.approx(pull[-1], rel=0.01)  # the tie
