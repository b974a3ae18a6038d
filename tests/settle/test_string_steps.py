"""A string over the wearer, one step of its search at a time, on strings of two and three pieces by hand."""

from __future__ import annotations

import numpy as np
import pytest

from cage3d.settle.contact import FormGap
from cage3d.settle.terms import lying as lying_module
from cage3d.settle.terms.lying import (
    Touching,
    banded,
    lain,
    lie,
    lie_anew,
    lying,
    newton_step,
    pulled,
    searched,
    solved,
    touching,
)
from cage3d.settle.terms.string import Strings, round_the_side
from cage3d.shape.form import Form, Oval

# A post of 10 cm about the axis; its gap is 0.1 m times the logarithm of the distance over 0.1 m.
POST = FormGap(Form(tuple(Oval(height, 0.1, 0.1, 2.0) for height in (2.0, 1.0, 0.0))))
FAR = [[[-1.0, 5.0, 1.0], [1.0, 5.0, 1.0]], [[-1.0, 7.0, 1.0], [2.0, 7.0, 1.0]]]


def clear() -> Strings:
    """Two strings well away from her: 2 m in two pieces, and 3 m in three."""
    return Strings(np.array([2, 3]), np.array(FAR), np.zeros(2), 0.0)


STRAIGHT = np.array([[0.0, 5.0, 1.0], [0.0, 7.0, 1.0], [1.0, 7.0, 1.0]])


def test_lengths_and_slopes_of_kinked_strings() -> None:
    """The first with its node 0.75 m aside: two pieces of 1.25 m; its ends pull along them. The second straight."""
    nodes = STRAIGHT + np.array([[0.0, 0.75, 0.0], [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]])
    found = lying(POST, clear(), nodes, np.zeros(3))
    assert found.lengths == pytest.approx([2.5, 3.0])
    assert found.slopes[0] == pytest.approx([-0.8, -0.6, 0.0, 0.8, -0.6, 0.0])
    assert found.slopes[1] == pytest.approx([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0])
    # Pieces of unlike length: sqrt(2 (0.5^2 + 1.5^2)), more than the way itself, until the node has slid on.
    slid = lying(POST, clear(), STRAIGHT + np.array([[-0.5, 0.0, 0.0], [0.0] * 3, [0.0] * 3]), np.zeros(3))
    assert slid.lengths[0] == pytest.approx(np.sqrt(5.0))


def test_how_neighbours_pull_a_node() -> None:
    """m (2 x - before - after): 0.75 m aside of two pieces, 2 x 1.5; of three, 3 x 0.6 on it, -3 x 0.3 on the next."""
    nodes = STRAIGHT + np.array([[0.0, 0.75, 0.0], [0.0, 0.3, 0.0], [0.0, 0.0, 0.0]])
    assert pulled(clear(), nodes) == pytest.approx(np.array([[0, 3.0, 0], [0, 1.8, 0], [0, -0.9, 0]]))


def test_the_lower_band_of_the_second_derivative() -> None:
    """2 m on the diagonal, -m to the next node of the same string; 1000 m along the normal of the node that touches,
    less its curvature, here a plain 5 across y and z.
    """
    normals = np.array([[0.0, 0.6, 0.8]])
    curves = np.zeros((1, 3, 3))
    curves[0, 1, 2] = curves[0, 2, 1] = 5.0
    band = banded(clear(), Touching(np.array([1]), normals, np.ones(1), curves, np.ones(1)), curves, 1000.0)
    whole = np.zeros((9, 9))
    for below in range(6):
        for column in range(9 - below):
            whole[column + below, column] = whole[column, column + below] = band[below, column]
    wanted = np.diag([4.0] * 3 + [6.0] * 6)
    for axis in range(3):
        wanted[3 + axis, 6 + axis] = wanted[6 + axis, 3 + axis] = -3.0
    wanted[4:6, 4:6] += 3000.0 * np.array([[0.36, 0.48], [0.48, 0.64]]) - np.array([[0.0, 5.0], [5.0, 0.0]])
    assert whole == pytest.approx(wanted)


def test_a_step_goes_straight_to_rest_and_five_centimetres_at_most() -> None:
    """Kinked by 4 cm the node is straight after one step; by 75 cm it goes 5 cm of the way."""
    for aside, moved in ((0.04, -0.04), (0.75, -0.05)):
        nodes = STRAIGHT + np.array([[0.0, aside, 0.0], [0.0] * 3, [0.0] * 3])
        met = touching(POST, clear(), nodes, np.zeros(3), 1e4, 0.02)
        step, push = newton_step(clear(), nodes, met, 1e4)
        assert step == pytest.approx(np.array([[0.0, moved, 0.0], [0.0] * 3, [0.0] * 3]), abs=1e-9)
        assert not push.any()


@pytest.mark.parametrize(
    ("times", "share"), [(1.0, 1.0), (1.9, 1.0), (2.1, 0.5), (4.1, 0.25), (7.9, 0.25), (8.1, 0.125)]
)
def test_each_string_halves_its_own_step_until_it_is_better(times: float, share: float) -> None:
    """A node aside by 0.1: so many times the way to rest and over it is worse past twice; the other string is done."""
    nodes = STRAIGHT + np.array([[0.0, 0.1, 0.0], [0.0, 0.0, 0.1], [0.0, 0.0, 0.1]])
    step = np.array([[0.0, -0.1 * times, 0.0], [0.0, 0.0, -0.1], [0.0, 0.0, -0.1]])
    taken = searched(POST, clear(), nodes, np.zeros(3), 1e4, step)
    assert taken[0] == pytest.approx([0.0, -0.1 * times * share, 0.0])
    assert taken[1:] == pytest.approx(step[1:])


def beside(height: float, push: float = 0.0) -> tuple[Strings, np.ndarray, np.ndarray]:
    """One string of two pieces past the post, its ends 0.3 m to both sides; its node `height` m from the axis."""
    ends = np.array([[[0.3, height, 1.0], [-0.3, height, 1.0]]])
    return Strings(np.array([2]), ends, np.zeros(1), 0.0), np.array([[0.0, height, 1.0]]), np.array([push])


@pytest.mark.parametrize(
    ("depth", "push", "choosy", "touches"),
    [(0.01, 0.0, 0.02, True), (-0.01, 0.0, 0.02, False), (-0.01, 0.0005, 0.02, True), (-0.01, 0.0003, 0.02, False),
     (-0.01, 0.0005, 0.03, False), (0.01, -0.0003, 0.02, True), (0.01, -0.0005, 0.02, False)],
)  # fmt: skip
def test_whether_a_node_touches_is_asked_of_its_push_and_its_depth(depth, push, choosy, touches) -> None:
    """Two pieces, 1 cm deep: 0.02 x 2 x 0.01 = 0.0004 beside the push. Told is the push with the springs' share."""
    strings, nodes, pushes = beside(0.1 * np.exp(-depth / 0.1), push)
    inside, normals, acting, curves, bending = touching(POST, strings, nodes, pushes, 100.0, choosy)
    assert inside.tolist() == ([0] if touches else [])
    if touches:
        assert acting == pytest.approx([push + 100.0 * 2 * depth])
        assert bending == pytest.approx(acting)
        out = 0.1 / nodes[0, 1]
        assert normals[0] == pytest.approx([0.0, out, 0.0], abs=1e-4)
        assert curves[0, 1, 1] == pytest.approx(-0.1 / nodes[0, 1] ** 2, rel=1e-3)


@pytest.mark.parametrize(("bent", "stiffness"), [(1.0, 3.0), (10.0, 4.0)])
def test_curvature_that_leaves_a_way_downhill_is_left_out(bent: float, stiffness: float) -> None:
    """One node of two pieces: 4 to all sides, and 2 x 50 more along the normal y. A curvature of 1 leaves 3 and 103 of
    them; one of 10 would leave -6 and lead uphill, so it is left out: 4 and 104.
    """
    strings = Strings(np.array([2]), np.array(FAR[:1]), np.zeros(1), 0.0)
    normals, curves = np.array([[0.0, 1.0, 0.0]]), bent * np.eye(3)[None]
    met = Touching(np.array([0]), normals, np.zeros(1), curves, np.ones(1))
    step = solved(strings, met, 50.0, np.array([12.0, 1.0, 0.0]))
    assert step == pytest.approx([12.0 / stiffness, 1.0 / (stiffness + 100.0), 0.0])


def test_a_step_into_her_is_judged_by_what_the_springs_hold() -> None:
    """From 1 mm inside to 2 cm inside: a spring of 2 x 1000 over the depth, against a string no longer. Halved until
    the sum is no more: by hand 1000 d^2 and 2 (0.3^2 + y^2 from its ends' line) at each share.
    """
    strings, nodes, pushes = beside(0.1 - 0.001)
    step = np.array([[0.0, -0.019, 0.0]])
    taken = searched(POST, strings, nodes, pushes, 1000.0, step)[0, 1]

    def energy(share: float) -> float:
        place = nodes[0, 1] - 0.019 * share
        depth = max(-0.1 * np.log(place / 0.1), 0.0)
        spring = 2 * 1000.0
        return 2 * (0.09 + (place - 0.099) ** 2) + (spring * depth) ** 2 / (2 * spring)

    share = 1.0
    for _ in range(12):
        if energy(share) <= energy(0.0) + 1e-14:
            break
        share /= 2.0
    assert taken == pytest.approx(-0.019 * share)
    assert share < 1e-3, "no step that way is better"


def test_a_string_pressed_on_the_post_is_held_where_it_touches() -> None:
    """Two pieces, ends 0.3 m out and 5 cm behind the axis' front: the node is held 10 cm out, by 2 x 2 x 0.05 over the
    gap's slope there, which is one; and the same from a start near by and with its push known.
    """
    strings = Strings(np.array([2]), np.array([[[0.3, 0.05, 1.0], [-0.3, 0.05, 1.0]]]), np.zeros(1), 0.0)
    found = lie_anew(POST, strings, np.array([[0.0, 0.12, 1.0]]))
    assert found.nodes == pytest.approx(np.array([[0.0, 0.1, 1.0]]), abs=1e-6)
    assert found.push == pytest.approx([2 * 2 * 0.05], rel=1e-3)
    assert found.lengths == pytest.approx([2 * np.hypot(0.3, 0.05)], rel=1e-6)
    again = lie(POST, strings, np.array([[0.001, 0.1005, 1.002]]), np.array([0.15]))
    assert again.nodes == pytest.approx(found.nodes, abs=2e-6)
    assert again.push == pytest.approx(found.push, rel=1e-5)
    # Clear of the post it is straight and nothing pushes.
    off = Strings(np.array([2]), np.array([[[0.3, 0.15, 1.0], [-0.3, 0.15, 1.0]]]), np.zeros(1), 0.0)
    free = lie_anew(POST, off, np.array([[0.05, 0.12, 1.0]]))
    assert free.nodes == pytest.approx(np.array([[0.0, 0.15, 1.0]]), abs=1e-7)
    assert free.push == pytest.approx([0.0])


def test_a_string_that_slides_round_a_corner_comes_to_rest_in_few_steps(monkeypatch) -> None:
    """Round legs that are nearly square, as a tie behind her lies: its ends go 2 cm to one side and it slides along
    itself with them. Steps that took a spring's share for a push were given up after fourteen.
    """
    legs = FormGap(Form(tuple(Oval(height, 0.115, 0.067, 2.94) for height in (1.0, 0.5, 0.0))))
    ends, aside = np.array([[[0.27, -0.1, 0.4], [-0.27, -0.1, 0.4]]]), np.array([0.02, 0.0, 0.0])
    tie = Strings(np.array([80]), ends, np.zeros(1), 0.0005)
    first = lie_anew(legs, tie, round_the_side(legs, tie, np.array([[0.0, 1.0]])))
    moved = Strings(tie.pieces, ends + aside, tie.level, tie.off)
    nodes = first.nodes + np.einsum("nij,j->ni", first.response, np.tile(aside, 2))
    taken: list[None] = []
    monkeypatch.setattr(lying_module, "newton_step", lambda *told: taken.append(None) or newton_step(*told))
    again = lie(legs, moved, nodes, first.push)
    assert len(taken) <= 9
    anew = lie_anew(legs, moved, round_the_side(legs, moved, np.array([[0.0, 1.0]])))
    assert again.nodes == pytest.approx(anew.nodes, abs=1e-8)
    assert again.lengths == pytest.approx(anew.lengths, abs=1e-13)


def test_what_pushes_a_string_at_rest_is_told_by_its_pull() -> None:
    """Off the fullest section a gap of 1 mm is more than a millimetre: the gradient there is no unit vector."""
    cone = FormGap(Form((Oval(2.0, 0.2, 0.2, 2.0), Oval(1.0, 0.1, 0.1, 2.0), Oval(0.0, 0.1, 0.1, 2.0))))
    ends = np.array([[[0.3, 0.05, 1.0], [-0.3, 0.05, 1.0]]])
    strings = Strings(np.array([8]), ends, np.zeros(1), 0.0)
    found = lie_anew(cone, strings, round_the_side(cone, strings, np.array([[0.0, 1.0]])))
    again = lain(cone, strings, found.nodes)
    assert (found.push > 0.01).any()
    assert (found.push == 0.0).any()
    assert again.push == pytest.approx(found.push, abs=1e-6)
    assert again.lengths == pytest.approx(found.lengths, abs=1e-15)
    assert again.curves == pytest.approx(found.curves, rel=1e-5)
