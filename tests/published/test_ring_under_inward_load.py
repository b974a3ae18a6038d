"""How much inward load a ring bears before it leaves its circle, in its own plane.

Source: Levy (1884) for pressure that stays normal to the ring, q R^3/EI = 3 [from memory]; 4.5
for load that stays directed to the centre and 4 for load that keeps its direction: the three
cases in Gaibotti et al. 2024. The strip is naturally straight; in the plane that changes nothing,
because the whole turn of a ring is fixed.

The ring's Hessian with the hoop force -qR in its edges is the solver's own; only the second
derivative of the load itself, which the solver does not know, is added here.
"""

import numpy as np
import pytest
from rigs import STRIP_6, only_ties, ring_on_tapes
from scipy.linalg import eig, null_space

from cage3d.settle.model import model_of, no_forces, trial_at
from cage3d.settle.posture import first_posture
from cage3d.settle.standing import RIGID
from cage3d.shape.lay_out import lay_out
from cage3d.shape.section_kinds import section_of

LENGTH = 2.0
RADIUS = LENGTH / (2 * np.pi)


def hessian(cage, edge_force: float) -> np.ndarray:
    """(2n, 2n) in the plane: rigid edges under one axial force."""
    model = model_of(cage, RIGID)
    # The polygon of the first shape has its edges at rest, so the force is all that acts in them.
    forces = list(no_forces(model))
    forces[model.place("edges")] = np.full(len(cage.connectivity.edges), edge_force)
    whole = trial_at(model, first_posture(cage), tuple(forces)).hessian.whole.toarray()
    count = len(cage.connectivity.hoop_nodes[0])
    flat = np.concatenate([3 * np.arange(count), 3 * np.arange(count) + 1])
    return whole[np.ix_(flat, flat)]


def load_hessian(cage, kind: str) -> np.ndarray:
    """(2n, 2n), second derivative of the potential of a unit inward load per length."""
    points = cage.positions[cage.connectivity.hoop_nodes[0]][:, :2]
    count = len(points)
    share = LENGTH / count
    out = np.zeros((2, count, 2, count))
    each = np.arange(count)
    if kind == "to the centre":
        # Potential share * distance from the centre.
        unit = points / RADIUS
        for row in range(2):
            for column in range(2):
                out[row, each, column, each] = (
                    share * ((row == column) - unit[:, row] * unit[:, column]) / RADIUS
                )
    elif kind == "normal":
        # Potential: the enclosed area, 1/2 sum of x_i y_(i+1) - y_i x_(i+1).
        after = np.roll(each, -1)
        for first, second, sign in ((0, 1, 0.5), (1, 0, -0.5)):
            out[first, each, second, after] += sign
            out[second, after, first, each] += sign
    return out.reshape(2 * count, 2 * count)


def critical(kind: str, nodes: int) -> float:
    """q R^3/EI at which the first true bend of the circle costs nothing."""
    cage = only_ties(lay_out(ring_on_tapes(LENGTH, 2, STRIP_6), nodes))
    bare = hessian(cage, 0.0)
    per_load = (hessian(cage, -RADIUS) - bare) + load_hessian(cage, kind)
    # Rigid motions cost nothing at any load: left in, they would come out as loads without meaning.
    bends = null_space(rigid_motions(cage))
    values = eig(bends.T @ bare @ bends, -bends.T @ per_load @ bends, right=False)
    bending = section_of(cage.design.steel).stiffness.easy
    loads = np.sort(values[np.isfinite(values) & (np.abs(values.imag) < 1e-6 * np.abs(values))].real)
    scaled = loads * RADIUS**3 / bending
    return float(scaled[scaled > 1.5][0])


def rigid_motions(cage) -> np.ndarray:
    """(3, 2n) to the left, to the back, round the middle."""
    x, y = cage.positions[cage.connectivity.hoop_nodes[0]][:, :2].T
    one, none = np.ones(len(x)), np.zeros(len(x))
    return np.array([np.concatenate(pair) for pair in ((one, none), (none, one), (-y, x))])


@pytest.mark.parametrize(("kind", "answer"), [("normal", 3.0), ("to the centre", 4.5), ("dead", 4.0)])
def test_load_at_which_a_ring_leaves_its_circle(kind, answer):
    assert critical(kind, 128) == pytest.approx(answer, rel=0.01)


def test_error_falls_with_the_square_of_the_segment():
    errors = [abs(critical("normal", nodes) - 3.0) for nodes in (48, 96)]
    assert 1.8 < np.log2(errors[0] / errors[1]) < 2.3
