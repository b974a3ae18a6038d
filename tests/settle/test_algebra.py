"""The algebra of settling on figures worked out by hand: products, frames, blocks, factors."""

from __future__ import annotations

from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest

from cage3d.settle.arithmetic import cross, dot, outer, upper_entries, upper_outer, upper_place
from cage3d.settle.assembly import pattern_of
from cage3d.settle.factor import factorise
from cage3d.settle.kinematics import edge_tangents, orthonormal, reference_twists, transported
from cage3d.settle.terms.held import line_curves, line_slopes
from cage3d.settle.terms.strip import on_nodes
from cage3d.settle.terms.term import Blocks, Upper
from cage3d.settle.unknowns import unknowns_of
from cage3d.shape.cage import Connectivity


def test_products_of_many_vectors() -> None:
    a, b = np.array([[1.0, 2.0, 3.0], [0.0, -1.0, 4.0]]), np.array([[4.0, 5.0, 6.0], [2.0, 7.0, -3.0]])
    assert dot(a, b) == pytest.approx([32.0, -19.0])
    assert cross(a, b) == pytest.approx(np.array([[-3.0, 6.0, -3.0], [-25.0, 8.0, 2.0]]))
    assert outer(a, b[:, :2])[1] == pytest.approx(np.array([[0, 0], [-2, -7], [8, 28]]))


def test_upper_entries_stand_column_after_column() -> None:
    row, column = upper_entries(3)
    assert list(zip(row.tolist(), column.tolist(), strict=True)) == [
        (0, 0),
        (0, 1),
        (1, 1),
        (0, 2),
        (1, 2),
        (2, 2),
    ]
    assert upper_place(row, column).tolist() == [0, 1, 2, 3, 4, 5]
    a, b = np.array([[1.0, 2.0, 3.0], [0.0, -1.0, 4.0]]), np.array([[4.0, 5.0, 6.0], [2.0, 7.0, -3.0]])
    assert pytest.approx(np.array([[4, 5, 10, 6, 12, 18], [0, 0, -7, 0, 3, -12]])) == upper_outer(a.T, b.T).T


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


def test_a_bends_stiffness_goes_to_its_nodes() -> None:
    """The edge before is the middle node less the first, the edge after the last less the middle; angles stay."""
    edges = np.random.default_rng(4).normal(size=(8, 8))
    edges += edges.T
    nodes = np.random.default_rng(5).normal(size=(3, 3))
    turned = np.array([0.3, -0.7])
    way = np.concatenate([nodes.ravel(), turned])
    short = np.concatenate([nodes[1] - nodes[0], nodes[2] - nodes[1], turned])
    told = np.zeros((11, 11))
    told[upper_entries(11)] = on_nodes(edges[upper_entries(8)][:, None])[:, 0]
    told += np.triu(told, 1).T
    assert way @ told @ way == pytest.approx(short @ edges @ short)


def test_blocks_go_to_their_places_and_what_is_fixed_to_none() -> None:
    """Three unknowns: a term over 0 and 2, and over 1 and a fixed one; another over 2 alone."""
    stencils = [np.array([[0, 2], [1, -1]]), np.array([[2]])]
    pattern = pattern_of(stencils, 3)
    blocks = np.array([[[1.0, 2.0], [2.0, 4.0]], [[5.0, 6.0], [6.0, 8.0]]])
    single = np.array([[[10.0]]])
    whole = pattern.matrix([Blocks(blocks), Blocks(single)]).whole.toarray()
    assert whole == pytest.approx(np.array([[1, 0, 2], [0, 5, 0], [2, 0, 14]]))
    told = Upper(np.array([[1.0, 5.0], [2.0, 6.0], [4.0, 8.0]]))
    assert pattern.matrix([told, Blocks(single)]).whole.toarray() == pytest.approx(whole)
    assert pattern.matrix([Blocks(blocks[1:], np.array([1])), None]).whole.toarray() == pytest.approx(
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
    moved = pattern.matrix([Blocks(blocks), Blocks(single)]).shifted(2.0, np.array([1.0, 0.5, 0.1]))
    assert moved.whole.toarray() == pytest.approx(np.array([[3, 0, 2], [0, 6, 0], [2, 0, 14.2]]))


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


def test_a_factor_that_exchanged_its_rows_tells_nothing() -> None:
    """Two unknowns that only act on each other have no pivots of their own: one falls, and no count would say so."""
    pattern = pattern_of([np.array([[0, 1]])], 2)
    assert factorise(pattern.matrix([Blocks(np.array([[[0.0, 1.0], [1.0, 0.0]]]))])) is None


def test_three_coordinates_a_node_and_one_angle_an_edge() -> None:
    joined = SimpleNamespace(node_count=5, free_nodes=3, edges=np.zeros((4, 2)))
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
