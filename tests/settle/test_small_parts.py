"""The small parts of settling, each on figures worked out by hand: products, places, patterns, gaps, states."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from rigs import STRIP_10, design_of, ring_on_tapes, weights_on_a_string

from cage3d.settle import settle
from cage3d.settle.arithmetic import both_ways, cross, cross_matrices, dot, outer
from cage3d.settle.assembly import pattern_of
from cage3d.settle.bends import StripFrames, bend_curvatures, strain_shares
from cage3d.settle.contact import FormGap
from cage3d.settle.factor import factorise, shifted
from cage3d.settle.kinematics import edge_tangents, orthonormal, reference_twists, transported
from cage3d.settle.model import model_of, posture_of
from cage3d.settle.stability import load_response, lowest_mode
from cage3d.settle.state import State
from cage3d.settle.terms.held import line_curves, line_slopes
from cage3d.settle.terms.over_wearer import over_wearer_of, passes_close
from cage3d.settle.terms.places import at_nodes, between_nodes
from cage3d.settle.terms.string import Strings, depths
from cage3d.settle.terms.term import Blocks
from cage3d.settle.unknowns import unknowns_of
from cage3d.shape.cage import Cage, Connectivity
from cage3d.shape.form import Form, Oval
from cage3d.shape.lay_out import lay_out
from cage3d.shape.padding import Pad

CYLINDER = Form(tuple(Oval(height, 0.20, 0.10, 2.0) for height in (1.5, 1.2, 0.5)))


def test_products_of_many_vectors() -> None:
    a, b = np.array([[1.0, 2.0, 3.0], [0.0, -1.0, 4.0]]), np.array([[4.0, 5.0, 6.0], [2.0, 7.0, -3.0]])
    assert dot(a, b) == pytest.approx([32.0, -19.0])
    assert cross(a, b) == pytest.approx(np.array([[-3.0, 6.0, -3.0], [-25.0, 8.0, 2.0]]))
    assert outer(a, b[:, :2])[1] == pytest.approx(np.array([[0, 0], [-2, -7], [8, 28]]))
    assert both_ways(outer(a, b))[0] == pytest.approx(np.array([[8, 13, 18], [13, 20, 27], [18, 27, 36]]))
    assert np.einsum("nij,nj->ni", cross_matrices(a), b) == pytest.approx(cross(a, b))


def test_vectors_are_carried_by_the_smallest_turn() -> None:
    """From x to y: what points to y then points to -x; what stands up stays."""
    x, y, z = np.eye(3)[:, None, :]
    assert transported(y, x, y) == pytest.approx(-x)
    assert transported(z, x, y) == pytest.approx(z)
    lean = np.array([[0.6, 0.0, 0.8]])
    assert orthonormal(2.0 * lean, x) == pytest.approx(z)


def corner(angles: list[float]) -> tuple[Connectivity, np.ndarray, np.ndarray]:
    """Two edges along x and then y in the level plane; references turned from z by these angles about the edges."""
    joined = SimpleNamespace(
        edges=np.array([[0, 1], [1, 2]]), bend_edges=np.array([[0, 1]]), bends=np.array([[0, 1, 2]])
    )
    tangents = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
    up = np.array([0.0, 0.0, 1.0])
    references = np.array(
        [np.cos(a) * up + np.sin(a) * np.cross(t, up) for a, t in zip(angles, tangents, strict=True)]
    )
    return cast(Connectivity, joined), tangents, references


@pytest.mark.parametrize(
    ("angles", "near", "twist"),
    [([0.0, 0.0], 0.0, 0.0), ([0.0, 0.3], 0.0, 0.3), ([0.2, 0.5], 0.0, 0.3), ([0.0, 0.3], 6.0, 0.3 + 2 * np.pi),
     ([0.0, 3.0], -3.2, 3.0 - 2 * np.pi), ([0.0, 0.3], -12.0, 0.3 - 4 * np.pi)],
)  # fmt: skip
def test_twist_of_the_carried_frame_never_jumps(angles, near, twist) -> None:
    joined, tangents, references = corner(angles)
    assert reference_twists(joined, tangents, references, np.array([near])) == pytest.approx([twist])


def test_lengths_and_tangents_of_edges() -> None:
    joined, _, _ = corner([0.0, 0.0])
    lengths, tangents = edge_tangents(joined, np.array([[0.0, 0.0, 0.0], [3.0, 4.0, 0.0], [3.0, 4.0, -2.0]]))
    assert lengths == pytest.approx([5.0, 2.0])
    assert tangents == pytest.approx(np.array([[0.6, 0.8, 0.0], [0.0, 0.0, -1.0]]))


def test_how_a_lines_length_goes_with_its_ends() -> None:
    """A line of 2 m along x: it grows as its ends part, and across it by a half of their way squared; weight 3."""
    along = np.array([[1.0, 0.0, 0.0]])
    assert line_slopes(along) == pytest.approx(np.array([[-1, 0, 0, 1, 0, 0]]))
    across = np.diag([0.0, 1.5, 1.5])
    wanted = np.block([[across, -across], [-across, across]])
    assert line_curves(along, np.array([2.0]), np.array([3.0]))[0] == pytest.approx(wanted)


def test_blocks_go_to_their_places_and_what_is_fixed_to_none() -> None:
    """Three unknowns: a term over 0 and 2, and over 1 and a fixed one; another over 2 alone."""
    stencils = [np.array([[0, 2], [1, -1]]), np.array([[2]])]
    pattern = pattern_of(stencils, 3)
    blocks = np.array([[[1.0, 2.0], [3.0, 4.0]], [[5.0, 6.0], [7.0, 8.0]]])
    single = np.array([[[10.0]]])
    whole = pattern.matrix([Blocks(blocks), Blocks(single)]).toarray()
    assert whole == pytest.approx(np.array([[1, 0, 2], [0, 5, 0], [3, 0, 14]]))
    assert pattern.matrix([Blocks(blocks[1:], np.array([1])), None]).toarray() == pytest.approx(
        np.diag([0, 5, 0])
    )
    assert pattern.vector(
        [Blocks(np.array([[1.0, 2.0], [3.0, 4.0]])), Blocks(np.array([[9.0]]))]
    ) == pytest.approx([1, 3, 11])
    assert pattern.vector([Blocks(np.array([[3.0, 4.0]]), np.array([1])), None]) == pytest.approx([0, 3, 0])
    two = pattern.vectors(
        [Blocks(np.array([[[1.0, 10.0], [2.0, 20.0]], [[3.0, 30.0], [4.0, 40.0]]])), None], 2
    )
    assert two == pytest.approx(np.array([[1, 10], [3, 30], [2, 20]]))
    moved = shifted(pattern, pattern.matrix([Blocks(blocks), Blocks(single)]), 2.0, np.array([1.0, 0.5, 0.1]))
    assert moved.toarray() == pytest.approx(np.array([[3, 0, 2], [0, 6, 0], [3, 0, 14.2]]))


@pytest.mark.parametrize(
    ("diagonal", "negative"),
    [([1.0, 2.0, 3.0], 0), ([1.0, -2.0, 3.0], 1), ([-1.0, -2.0, 3.0], 2), ([1.0, 0.0, 3.0], None)],
)
def test_falling_directions_are_counted(diagonal, negative) -> None:
    pattern = pattern_of([np.array([[0], [1], [2]])], 3)
    factor = factorise(pattern.matrix([Blocks(np.reshape(diagonal, (3, 1, 1)))]))
    assert (None if factor is None else factor.negative) == negative
    if factor is not None:
        assert factor.solve(np.array([1.0, 2.0, 3.0])) == pytest.approx(np.array([1.0, 2.0, 3.0]) / diagonal)


def test_three_coordinates_a_node_and_one_angle_an_edge() -> None:
    joined = SimpleNamespace(node_count=5, tape_count=2, edges=np.zeros((4, 2)))
    unknowns = unknowns_of(cast(Connectivity, joined))
    assert (unknowns.free_nodes, unknowns.size) == (3, 13)
    assert unknowns.coordinates.tolist() == [[0, 1, 2], [3, 4, 5], [6, 7, 8], [-1] * 3, [-1] * 3]
    assert unknowns.angles.tolist() == [9, 10, 11, 12]
    assert unknowns.of_nodes(np.array([[2, 4], [0, 1]])).tolist() == [
        [6, 7, 8, -1, -1, -1],
        [0, 1, 2, 3, 4, 5],
    ]
    moves, turns = unknowns.split(np.arange(13.0))
    assert moves.tolist() == [[0, 1, 2], [3, 4, 5], [6, 7, 8]]
    assert turns.tolist() == [9, 10, 11, 12]


def joined_of(closed: bool, nodes: int = 6) -> Connectivity:
    return cast(
        Connectivity,
        SimpleNamespace(hoop_nodes=(np.arange(2), 2 + np.arange(nodes)), closed=np.array([True, closed])),
    )


def test_places_between_the_nodes_of_a_closed_hoop_are_on_cubics() -> None:
    """Halfway on a cubic through four even nodes: -1, 9, 9 and -1 sixteenths; the last edge closes the ring."""
    places = between_nodes(joined_of(True), [1])
    assert places.nodes.tolist() == [
        [7, 2, 3, 4],
        [2, 3, 4, 5],
        [3, 4, 5, 6],
        [4, 5, 6, 7],
        [5, 6, 7, 2],
        [6, 7, 2, 3],
    ]
    assert places.weights == pytest.approx(np.tile(np.array([-1, 9, 9, -1]) / 16, (6, 1)))
    assert places.beside.tolist() == [[2, 3], [3, 4], [4, 5], [5, 6], [6, 7], [7, 2]]


def test_places_of_an_open_hoop_end_on_parabolas() -> None:
    """3, 6 and -1 eighths from either end, so that y = x^2 at 0, 1, 2, ... is met at 1/4, 9/4, ... of it."""
    places = between_nodes(joined_of(False), [1])
    assert places.beside.tolist() == [[2, 3], [3, 4], [4, 5], [5, 6], [6, 7]]
    x = np.arange(8.0)[:, None] - 2.0
    middles = places.points(np.hstack([x, x**2, 0.0 * x]))
    assert middles[:, 0] == pytest.approx([0.5, 1.5, 2.5, 3.5, 4.5])
    assert middles[:, 1] == pytest.approx([0.25, 2.25, 6.25, 12.25, 20.25])
    assert places.mean(np.arange(8.0)) == pytest.approx([2.5, 3.5, 4.5, 5.5, 6.5])
    spread = places.spread(np.array([[8.0, 0.0, -8.0]]), np.array([0]))
    assert spread.reshape(4, 3) == pytest.approx(np.array([[3, 0, -3], [6, 0, -6], [-1, 0, 1], [0, 0, 0]]))


def test_hoops_of_three_nodes_have_no_places_between() -> None:
    assert len(between_nodes(joined_of(True, 3), [0, 1]).nodes) == 0
    assert len(between_nodes(joined_of(True, 4), [1]).nodes) == 4
    assert len(between_nodes(joined_of(True), []).weights) == 0
    own = at_nodes(3)
    assert (own.nodes.tolist(), own.beside.tolist()) == ([[0], [1], [2]], [[0, 0], [1, 1], [2, 2]])
    assert own.points(np.eye(3)) == pytest.approx(np.eye(3))


def test_the_form_is_asked_only_near_it() -> None:
    """Ovals 20 by 10 cm: 15 cm in the mean; 25 cm from the axis, 5 more than its widest, and from 0.5 to 1.5 m."""
    gap = FormGap(CYLINDER)
    assert (gap.scale, gap.reach, gap.levels) == (pytest.approx(0.15), pytest.approx(0.25), (0.5, 1.5))
    points = np.array([
        [0.249, 0.0, 1.0], [0.251, 0.0, 1.0], [0.15, 0.2, 1.0], [0.1, 0.0, 0.5], [0.1, 0.0, 0.501], [0.0, 0.0, 1.499],
        [0.0, 0.0, 1.501], [0.15, 0.199, 1.0],
    ])  # fmt: skip
    assert gap.near(points).tolist() == [0, 4, 5, 7]
    padded = FormGap(replace(CYLINDER, pads=(Pad(0.25, 0.2, 1.0, 0.1, 0.5), Pad(0.75, 0.2, 1.0, 0.1, 0.25))))
    assert padded.reach == pytest.approx(0.2 * 1.75 + 0.05)


def test_gaps_along_both_half_measures() -> None:
    """15 cm times the logarithm of how many times as far out as the form; what keeps off by 2 cm meets a wider one."""
    gap = FormGap(CYLINDER)
    points = np.array([[0.30, 0.0, 1.0], [0.0, -0.05, 1.0], [0.22, 0.0, 1.0]])
    assert gap.gaps(points) == pytest.approx(
        [0.15 * np.log(1.5), 0.15 * np.log(0.5), 0.15 * np.log(1.1)], abs=1e-9
    )
    assert gap.gaps(points, 0.02) == pytest.approx(
        [0.15 * np.log(0.30 / 0.22), 0.15 * np.log(0.05 / 0.12), 0.0], abs=1e-9
    )
    values, slopes, curves = gap.derivatives(points, 0.02)
    assert values == pytest.approx(gap.gaps(points, 0.02), abs=1e-9)
    assert slopes[0] == pytest.approx([0.15 / 0.30, 0.0, 0.0], abs=1e-4)
    assert slopes[1] == pytest.approx([0.0, -0.15 / 0.05, 0.0], abs=1e-4)
    assert curves[0, 0, 0] == pytest.approx(-0.15 / 0.30**2, rel=1e-4)
    assert gap.change_with_off(points, np.full(3, 0.02)) == pytest.approx(
        [-0.15 / 0.22, -0.15 / 0.12, -0.15 / 0.22], rel=1e-6
    )


@pytest.mark.parametrize(
    ("start", "end", "close"),
    [
        ([0.3, 0.24, 1.0], [-0.3, 0.24, 1.0], True),
        ([0.3, 0.26, 1.0], [-0.3, 0.26, 1.0], False),
        ([0.3, 0.0, 1.51], [-0.3, 0.0, 1.6], False),
        ([0.3, 0.0, 1.49], [-0.3, 0.0, 1.6], True),
        ([0.3, 0.0, 0.51], [-0.3, 0.0, 0.2], True),
        ([0.3, 0.0, 0.49], [-0.3, 0.0, 0.2], False),
    ],
)
def test_a_line_beside_her_over_her_or_under_her_is_not_asked(start, end, close) -> None:
    assert passes_close(FormGap(CYLINDER), np.array([[start, end]])).tolist() == [close]


def test_a_tape_that_starts_inside_her_keeps_only_what_it_has() -> None:
    """A fixed end 5 cm inside the side of an oval of 20 cm, half a doubled tape (0.5 mm) off: 15 cm times the
    logarithm of 150 / 200.5; a fixed end outside, and a free end inside, ask nothing of it.
    """
    ends = np.array(
        [
            [[0.15, 0.0, 1.0], [0.5, 0.0, 0.6]],
            [[0.30, 0.0, 1.0], [0.5, 0.0, 0.6]],
            [[0.15, 0.0, 1.0], [0.5, 0.0, 0.6]],
        ]
    )
    pulls, fixed = np.array([[7, 1], [8, 1], [2, 1]]), np.array([7, 8])
    ring = lay_out(ring_on_tapes(1.0, 3, STRIP_10), 9).connectivity
    joined = replace(ring, pulls=pulls, anchors=fixed)
    over = over_wearer_of(FormGap(CYLINDER), np.array([0.5, 0.5, 0.1]), ends, joined)
    assert over.level == pytest.approx([0.15 * np.log(0.150 / 0.2005), 0.0, 0.0], abs=1e-6)
    assert over.pieces.tolist() == [63, 63, 13]


def test_pieces_and_depths_of_strings_side_by_side() -> None:
    """Two strings of 4 and 3 pieces: three and two inner nodes, at quarters and thirds of their ways."""
    ends = np.array([[[0.4, 0.0, 1.0], [-0.4, 0.0, 1.0]], [[0.0, 0.6, 1.0], [0.0, -0.6, 1.0]]])
    strings = Strings(np.array([4, 3]), ends, np.array([0.0, -0.01]), 0.0)
    assert strings.counts.tolist() == [3, 2]
    assert strings.of_node.tolist() == [0, 0, 0, 1, 1]
    assert (strings.first.tolist(), strings.last.tolist()) == ([0, 3], [2, 4])
    assert strings.shares == pytest.approx([0.25, 0.5, 0.75, 1 / 3, 2 / 3])
    assert strings.straight()[:, :2] == pytest.approx(
        np.array([[0.2, 0], [0, 0], [-0.2, 0], [0, 0.2], [0, -0.2]])
    )
    told = depths(FormGap(CYLINDER), strings, strings.straight())
    assert told[[0, 2]] == pytest.approx([0.0, 0.0], abs=1e-9)
    assert told[[3, 4]] == pytest.approx([-0.01 - 0.15 * np.log(2.0)] * 2, abs=1e-6)
    only = strings.chosen(np.array([False, True]))
    assert (only.pieces.tolist(), only.level.tolist()) == ([3], [-0.01])
    far = np.full((5, 3), 3.0)
    assert depths(FormGap(CYLINDER), strings, far) == pytest.approx([-1.0] * 5)


def state_of(forces: dict[str, Any], between: list[list[int]]) -> State:
    none = np.zeros(0)
    return State(
        np.zeros((5, 3)),
        none,
        none,
        none,
        forces,
        np.reshape(np.array(between, dtype=int), (-1, 2)),
        none,
        {},
    )


def test_half_of_what_pushes_between_two_nodes_is_each_ones() -> None:
    forces = {
        "floor": np.zeros(4),
        "wearer": np.array([1.0, 0.0, 0.0, 2.0]),
        "wearer between nodes": np.array([4.0, 6.0]),
    }
    assert state_of(forces, [[0, 1], [1, 2]]).wearer_push == pytest.approx([3.0, 5.0, 3.0, 2.0])
    assert state_of({"floor": np.zeros(3)}, []).wearer_push == pytest.approx([0.0, 0.0, 0.0])
    told = state_of(forces, [])
    assert told.force_of("wearer", 4) == pytest.approx([1.0, 0.0, 0.0, 2.0])
    assert told.force_of("wearer", 3) == pytest.approx([0.0] * 3), "of another cage"
    assert told.force_of("push", 2) == pytest.approx([0.0] * 2)


def plumb() -> Cage:
    """10 N on half a metre of string under a point at 2 m, a slack string to another at 1.2 m."""
    rope = weights_on_a_string([0.5, 0.7], [10.0], [0.0, 2.0], [0.0, 1.2])
    return rope.with_parameters(pull_give=np.array([1e-3, 1e-3]))


def test_more_weight_lets_a_weight_down_by_what_its_string_gives() -> None:
    """A string that gives 1 mm a metre and newton, held at both ends above one another: a weight in its middle hangs
    on the upper half of 0.5 m alone and goes down half a millimetre a newton.
    """
    cage = plumb()
    hung = settle(cage)
    assert hung.positions[0, 2] == pytest.approx(2.0 - 0.5 * 1.01, abs=1e-6)
    model = model_of(cage, 3e4)
    posture, forces = posture_of(model, hung.state)
    moves = load_response(model, posture, forces, np.array([0.2, 5.0, 5.0]))
    assert moves is not None
    assert moves == pytest.approx(np.array([[0, 0, -1e-4], [0, 0, 0], [0, 0, 0]]), abs=1e-9)


def test_the_softest_way_of_a_hanging_weight_is_its_swing() -> None:
    """A pendulum of 10 N on 0.5 m that gives 1 mm a metre and newton: 10 / 0.505 N/m sideways; upward 2000."""
    cage = weights_on_a_string([0.5, 0.7], [10.0], [0.0, 2.0], [0.0, 1.2]).with_parameters(
        pull_give=np.array([1e-3, 1e-3])
    )
    model = model_of(cage, 3e4)
    lowest = lowest_mode(model, *posture_of(model, settle(cage).state))
    assert lowest.eigenvalue == pytest.approx(10.0 / 0.505, rel=1e-4)
    assert lowest.stable
    assert abs(lowest.mode[2]) < 1e-6
    assert np.linalg.norm(lowest.mode) == pytest.approx(1.0)


def squared(turn: float, roll: float, set_curvature: float = 0.0) -> tuple[Cage, StripFrames]:
    """Eight edges, each level, turned by `turn` at every corner, the strip rolled by `roll` about its edges."""
    steel = {**STRIP_10, "yield_stress": 1000e6}
    cage = lay_out(ring_on_tapes(1.0, 4, steel), 8)
    at = turn * np.arange(8)
    tangents = np.column_stack([np.cos(at), np.sin(at), 0.0 * at])
    out = np.column_stack([np.sin(at), -np.cos(at), 0.0 * at])
    down = np.tile([0.0, 0.0, -1.0], (8, 1))
    normals, widths = np.cos(roll) * out + np.sin(roll) * down, np.cos(roll) * down - np.sin(roll) * out
    bends = np.full(len(cage.connectivity.bends), set_curvature)
    return cage.with_parameters(set_curvature=bends), StripFrames(tangents, normals, widths)


def test_bends_are_told_the_easy_way_and_the_stiff_way() -> None:
    """A turn of 0.1 rad over an eighth of a metre: 0.8 a metre the easy way; rolled by 90 degrees, the stiff way; by 30
    degrees, by the cosine and the sine.
    """
    for roll in (0.0, np.pi / 2, np.pi / 6):
        cage, frames = squared(0.1, roll)
        easy, stiff = bend_curvatures(cage, frames)
        own = cage.connectivity.bend_edges[:, 0] < cage.connectivity.bend_edges[:, 1]
        lengths = cage.parameters.bend_length[own]
        assert easy[own] == pytest.approx(0.1 * np.cos(roll) / lengths, rel=2e-3)
        assert np.abs(stiff[own]) == pytest.approx(0.1 * np.sin(roll) / lengths, rel=2e-3, abs=1e-9)


def test_strain_is_that_of_the_bend_beyond_the_strips_own_curve() -> None:
    """0.6 mm bent by 0.8 a metre strains by 0.3 mm x 0.8 = 0.24 thousandths, of 5 at yield (1000 MPa of 200 GPa)."""
    for own_curve, bend in ((0.0, 0.8), (0.1, 0.7), (-0.2, 1.0)):
        cage, frames = squared(0.1, 0.0, own_curve)
        inner = cage.connectivity.bend_edges[:, 0] < cage.connectivity.bend_edges[:, 1]
        lengths = cage.parameters.bend_length[inner]
        wanted = 0.0003 * (0.1 / lengths - own_curve) / 0.005
        assert strain_shares(cage, frames)[inner] == pytest.approx(wanted, rel=2e-3), bend
        assert wanted == pytest.approx(0.0003 * bend / 0.005, rel=0.02)


def test_nothing_is_slack_below_nothing() -> None:
    """Of a ring on four tapes one a centimetre longer: it alone is slack, by what it need not span."""
    drops = [[0.3], [0.3], [0.31], [0.3]]
    stiff = STRIP_10 | {"modulus": 1e12, "yield_stress": 1e12, "thickness": 0.004}
    hung = settle(lay_out(design_of(waist=1.5, zero=1.2, drops=drops, lengths=[1.5], steel=stiff), 16))
    assert hung.slack[2] == pytest.approx(0.01, abs=1e-3)
    assert np.delete(hung.slack, 2) == pytest.approx([0.0] * 3, abs=1e-6)
    assert hung.slack.min() >= 0.0
