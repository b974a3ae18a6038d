"""The length of a string pulled taut over a cylinder and over a sphere, and what it does there.

Source: plane geometry. Seen along the axis, a taut string is two tangents and an arc between them: from a point
at distance a from the axis to one at b, seen under the angle phi,

    sqrt(a^2 - R^2) + sqrt(b^2 - R^2) + R (phi - arccos(R/a) - arccos(R/b))

where the last bracket is positive, else the straight line. A cylinder unrolls into a plane, so that a string which
also rises by h is the hypotenuse of that length and h; over a sphere the string lies in the plane through both of its
ends and the centre. Without friction its tension is the same all along (Euler, Eytelwein: T2 = T1 exp(mu angle), mu
nothing), and it presses with T over R a length, so with T times the change of its direction in all.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from lines_alone import weights_on_a_string

from cage3d.settle import settle
from cage3d.settle.contact import FormGap
from cage3d.settle.terms.lying import lie, lie_anew
from cage3d.settle.terms.string import Strings, meeting, pushed_out
from cage3d.shape.form import Form, Oval

RADIUS = 0.15
CYLINDER = Form(tuple(Oval(height, RADIUS, RADIUS, 2.0) for height in (2.0, 1.2, 0.0)))
MIDDLE = np.array([0.0, 0.0, 1.0])
BEHIND = np.array([[0.0, 1.0, 0.0]])


def ball(sections: int = 60) -> Form:
    """A sphere about (0, 0, 1), as the stacked ovals that a form is; its poles left out."""
    heights = 1.0 - 0.149 * np.cos(np.pi * np.arange(sections + 1) / sections)
    radii = np.sqrt(RADIUS**2 - (heights - 1.0) ** 2)
    return Form(tuple(Oval(float(h), float(r), float(r), 2.0) for h, r in zip(heights, radii, strict=True)))


def taut(form, first, second, piece):
    """The string's length (m) and its slopes over both ends."""
    gap = FormGap(form)
    ends = np.array([[first, second]])
    pieces = np.array([int(np.ceil(np.linalg.norm(ends[0, 1] - ends[0, 0]) / piece))])
    strings = Strings(pieces, ends, np.zeros(1), 0.0)
    assert meeting(gap, strings)[0]
    found = lie_anew(gap, strings, pushed_out(gap, strings, BEHIND))
    return float(found.lengths[0]), found.slopes[0]


def flat_length(near, far, angle):
    """m, in the plane across the axis: the closed form at the top."""
    bend = angle - np.arccos(RADIUS / near) - np.arccos(RADIUS / far)
    assert bend > 0.0
    return np.sqrt(near**2 - RADIUS**2) + np.sqrt(far**2 - RADIUS**2) + RADIUS * bend


def over_cylinder(near, far, angle, rise):
    """Both ends about the cylinder, and the length."""
    turns = np.pi / 2 + np.array([-angle / 2, angle / 2])
    flat = np.column_stack([np.cos(turns), np.sin(turns)]) * [[near], [far]]
    ends = np.column_stack([flat, [1.0, 1.0 + rise]])
    return ends, float(np.hypot(flat_length(near, far, angle), rise))


@pytest.mark.parametrize(("near", "far", "angle", "rise"), [
    (0.20, 0.20, 2.6, 0.0), (0.17, 0.30, 2.9, 0.0), (0.20, 0.25, 2.5, 0.15), (0.155, 0.155, 1.5, 0.05),
])  # fmt: skip
def test_over_a_cylinder(near, far, angle, rise):
    ends, length = over_cylinder(near, far, angle, rise)
    errors = [taut(CYLINDER, *ends, piece)[0] - length for piece in (0.016, 0.008, 0.004)]
    assert abs(errors[1]) < 5e-5
    assert abs(errors[2]) < 1.5e-5
    assert np.log2(abs(errors[0]) / abs(errors[2])) == pytest.approx(4.0, abs=0.8), "second order, twice"


def test_over_a_ball():
    """Ends on both sides, one higher, so that the great circle leans."""
    near, far = 0.21, 0.24
    first = near * np.array([0.95, 0.25, -0.15]) / np.linalg.norm([0.95, 0.25, -0.15])
    second = far * np.array([-0.9, 0.3, 0.25]) / np.linalg.norm([-0.9, 0.3, 0.25])
    angle = float(np.arccos(first @ second / (near * far)))
    length, slopes = taut(ball(), first + MIDDLE, second + MIDDLE, 0.006)
    assert length == pytest.approx(flat_length(near, far, angle), abs=1e-4)
    # It leaves both ends in the plane through the centre.
    out = np.cross(first, second) / np.linalg.norm(np.cross(first, second))
    assert np.abs(slopes.reshape(2, 3) @ out).max() < 0.01


def test_without_friction_both_ends_pull_alike_and_along_the_tangents():
    ends, _ = over_cylinder(0.20, 0.25, 2.5, 0.15)
    slopes = taut(CYLINDER, *ends, 0.002)[1].reshape(2, 3)
    assert np.linalg.norm(slopes, axis=1) == pytest.approx(1.0, abs=2e-4)
    # From each end the tangent to the circle, seen from above: square to the radius where it touches.
    for end, slope in zip(ends, -slopes, strict=True):
        flat, way = end[:2], slope[:2] / np.linalg.norm(slope[:2])
        touches = flat + np.sqrt(flat @ flat - RADIUS**2) * way
        assert np.linalg.norm(touches) == pytest.approx(RADIUS, abs=1e-4)


def test_a_string_that_clears_her_is_straight():
    gap = FormGap(CYLINDER)
    ends = np.array([[[0.3, 0.16, 1.0], [-0.3, 0.16, 1.0]], [[0.3, 0.14, 1.0], [-0.3, 0.14, 1.0]]])
    strings = Strings(np.array([60, 60]), ends, np.zeros(2), 0.0)
    assert meeting(gap, strings).tolist() == [False, True]


def test_how_the_length_goes_with_the_ends():
    """The gradient by the square and the Hessian by the cube of the step."""
    gap, chance = FormGap(CYLINDER), np.random.default_rng(1)
    ends, _ = over_cylinder(0.20, 0.25, 2.5, 0.1)
    pieces, step = np.array([40]), 0.01 * chance.normal(size=(1, 2, 3))
    there = Strings(pieces, ends[None], np.zeros(1), 0.0)
    found = lie_anew(gap, there, pushed_out(gap, there, BEHIND))
    shares = 2.0 ** -np.arange(4, 8)
    lengths = np.array(
        [lie(gap, replace(there, ends=ends[None] + share * step), found.nodes, found.push).lengths[0]
         for share in shares]
    )  # fmt: skip
    way = step.ravel()
    first = lengths - found.lengths[0] - shares * (found.slopes[0] @ way)
    second = first - 0.5 * shares**2 * (way @ found.curves[0] @ way)
    assert np.log2(np.abs(first[:-1] / first[1:])) == pytest.approx(2.0, abs=0.05)
    assert np.log2(np.abs(second[:-1] / second[1:])) == pytest.approx(3.0, abs=0.2)


def test_two_weights_joined_behind_a_post_balance():
    """Two weights, each on a string from a fixed point, joined by a string behind a post: the whole tool, settled."""
    near, angle = 0.25, 2.8
    _, length = over_cylinder(near, near, angle, 0.0)
    rope = weights_on_a_string([0.36, length, 0.36], [1.0, 1.0], [0.6, 1.2], [-0.6, 1.2])
    cage = replace(rope, form=CYLINDER)
    hung = settle(cage)
    assert hung.trusted
    assert 1 in hung.state.ways
    forces = hung.state.pull_force
    assert forces[0] == pytest.approx(forces[2], rel=1e-4)
    # Each weight is held by its own string and by the rope over the bar.
    for node, own, sign in ((0, 0, 1.0), (1, 2, -1.0)):
        place = hung.positions[node]
        fixed = hung.positions[2 + (node == 1)]
        pull = forces[own] * (fixed - place) / np.linalg.norm(fixed - place)
        way = hung.state.ways[1]
        rope_way = (way[1] - way[0]) if sign > 0 else (way[-2] - way[-1])
        pull = pull + forces[1] * rope_way / np.linalg.norm(rope_way)
        assert pull == pytest.approx([0.0, 0.0, 1.0], abs=3e-3)
