"""What can touch the wearer, and where it is asked, on figures worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest
from rigs import STRIP_10, ring_on_tapes

from cage3d.settle.contact import FormGap
from cage3d.settle.terms.over_wearer import OverWearer, over_wearer_of, passes_close
from cage3d.settle.terms.places import at_nodes, between_nodes
from cage3d.settle.terms.string import Strings, depths, pushed_out
from cage3d.shape.cage import Connectivity
from cage3d.shape.form import Form, Oval
from cage3d.shape.lay_out import lay_out
from cage3d.shape.padding import Pad

CYLINDER = Form(tuple(Oval(height, 0.20, 0.10, 2.0) for height in (1.5, 1.2, 0.5)))


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


def test_searches_begin_where_those_of_a_cage_alike_ended() -> None:
    """Not those of a line of other pieces, on another side, or about another wearer."""
    gap, nowhere = FormGap(CYLINDER), np.full((3, 2), np.nan)
    ends = np.array([[[0.3, -0.1, 1.0], [-0.3, -0.1, 1.0]]] * 3)

    def about(gap: FormGap, pieces: list[int], written: np.ndarray) -> OverWearer:
        return OverWearer(gap, np.array(pieces), np.zeros(3), np.array([[0.0, -1.0, 0.0]] * 3), written)

    before = about(gap, [8, 8, 8], nowhere)
    assert len(before.ways(ends)[0].rows) == 3
    behind = nowhere.copy()
    behind[2] = [0.0, 1.0]
    after = about(FormGap(CYLINDER), [8, 9, 8], behind)
    after.begin_at(before)
    assert list(after.last) == [0]
    assert after.last[0] is before.last[0]
    wider = about(FormGap(replace(CYLINDER, sections=CYLINDER.sections[:1])), [8, 8, 8], nowhere)
    wider.begin_at(before)
    assert not wider.last


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


def test_a_total_shared_by_a_power_that_changes_with_height() -> None:
    """f = T / p with p = 2, p' = 0.5 and p'' = 0.1 over height, T = 3 of slopes 1, 2, 3: f_z = 3/2 - T p'/p^2, and
    f_zz = 2 T p'^2/p^3 - T p''/p^2 - 2 T_z p'/p^2; all times the form's 15 cm.
    """
    gap = FormGap(CYLINDER)
    powers = (np.array([2.0]), np.array([0.5]), np.array([0.1]))
    value, slope, curve = gap.shared_by_power(
        np.array([3.0]), np.array([[1.0], [2.0], [3.0]]), np.zeros((3, 3, 1)), powers
    )
    assert value / 0.15 == pytest.approx([1.5])
    assert slope[0] / 0.15 == pytest.approx([0.5, 1.0, 1.5 - 0.375])
    mixed = np.array([-0.125, -0.25])
    wanted = np.zeros((3, 3))
    wanted[:2, 2] = wanted[2, :2] = mixed
    wanted[2, 2] = 2 * 3 * 0.25 / 8 - 3 * 0.1 / 4 - 2 * 3 * 0.125
    assert curve[0] / 0.15 == pytest.approx(wanted)


@pytest.mark.parametrize(("side", "y"), [(1.0, 0.08), (-1.0, -0.08)])
def test_a_node_off_her_axis_is_pushed_out_on_its_side(side: float, y: float) -> None:
    """2 cm behind the axis and 12 cm to her side in an oval of 20 by 10 cm: y = 0.1 sqrt(1 - 0.6^2), to either side."""
    ends = np.array([[[0.36, 0.02, 1.0], [-0.36, 0.02, 1.0]]])
    strings = Strings(np.array([3]), ends, np.zeros(1), 0.0)
    nodes = pushed_out(FormGap(CYLINDER), strings, np.array([[0.0, side, 0.0]]))
    assert nodes[:, 1] == pytest.approx([y, y], abs=1e-6)
