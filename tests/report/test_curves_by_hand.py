"""Curves through places put by hand: how they bend, and heights, widths and planes read off them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hand.cage import laid_out
from placed import OVAL, placed

from cage3d.report.curves import (
    HoopCurve,
    height_towards,
    hoop_curve,
    plane_of,
    subdivided,
    widths_in_plan,
)
from cage3d.report.hoops import gap
from cage3d.settle import SettledCage


def test_a_curve_passes_its_nodes_and_closes() -> None:
    curve = hoop_curve(placed(), 0)
    assert len(curve.points) == 16 * 16 + 1
    assert curve.points[::16][:16] == pytest.approx(OVAL)
    assert (curve.points[-1] == curve.points[0]).all()
    assert gap(curve) is None


def test_an_open_curve_ends_without_bending() -> None:
    """Half a circle: its ends are straight, its middle round; from end to end is a diameter."""
    between = {
        "tapes": {"stations": "between", "drops": [200]},
        "hoops": [{"length": 1000, "opening": "front"}],
    }
    cage = laid_out(between)
    count = len(cage.connectivity.hoop_nodes[0])
    turn = np.linspace(0.5, 1.5, count) * np.pi
    half = np.column_stack([0.3 * np.sin(turn), -0.3 * np.cos(turn), np.full(count, 0.7)])
    state = replace(placed().state, positions=np.vstack([half, cage.positions[count:]]))
    settled = SettledCage(cage, state, 0.0, 0.0, 1.0, True, True, 1)
    curve = hoop_curve(settled, 0)
    assert not curve.closed
    assert gap(curve) == pytest.approx(0.6)
    assert len(curve.points) == 16 * (count - 1) + 1
    steps = np.diff(curve.points, axis=0)
    first = np.linalg.norm(np.diff(steps / np.linalg.norm(steps, axis=1)[:, None], axis=0), axis=1)
    assert first[0] < 0.2 * first[len(first) // 2]


def test_every_interval_in_sixteen() -> None:
    assert subdivided(np.array([0.0, 1.6, 2.4])) == pytest.approx(
        [*np.arange(16) / 10, *(1.6 + np.arange(17) / 20)]
    )


# A pentagon by her left, its point in front at 0.9 m and its base behind at 0.5; widths of it as a plan.
PENTAGON = np.array(
    [
        [0.0, -0.4, 0.9],
        [0.3, -0.1, 0.8],
        [0.2, 0.3, 0.5],
        [-0.2, 0.3, 0.5],
        [-0.3, -0.1, 0.7],
        [0.0, -0.4, 0.9],
    ]
)


@pytest.mark.parametrize(
    ("side", "height"),
    [
        ("front", 0.9),
        # A quarter of the way from x 0.3 to 0.2 and from 0.8 to 0.5 m up; at her right from 0.7.
        ("left", 0.725),
        ("back", 0.5),
        ("right", 0.65),
    ],
)
def test_heights_on_a_pentagon(side: str, height: float) -> None:
    assert height_towards(HoopCurve(PENTAGON, True), side) == (pytest.approx(height), False)


def test_of_several_crossings_the_outermost_counts() -> None:
    """A loop to her left, in at 0.2 m and out at 0.5."""
    loop = np.array([[0.1, -0.1, 0.6], [0.2, 0.1, 0.6], [0.4, -0.1, 0.8], [0.6, 0.1, 0.8], [0.1, 0.4, 0.6]])
    assert height_towards(HoopCurve(loop, False), "left") == (pytest.approx(0.8), False)


@pytest.mark.parametrize(("side", "height"), [("front", 0.7), ("right", 0.7), ("back", 0.9), ("left", 0.9)])
def test_of_a_hoop_without_steel_on_a_side_the_nearer_end_counts(side: str, height: float) -> None:
    """A short piece from her right in front (0.7 m up) to her back at her left (0.9), not over any of the four."""
    if side in ("front", "right"):
        piece = np.array([[-0.3, -0.2, 0.7], [-0.25, -0.25, 0.75], [-0.2, -0.3, 0.7]])
        assert height_towards(HoopCurve(piece, False), side) == (pytest.approx(height), True)
    else:
        piece = np.array(
            [[0.1, 0.4, 0.9 if side == "back" else 0.4], [0.4, 0.1, 0.4 if side == "back" else 0.9]]
        )
        assert height_towards(HoopCurve(piece, False), side) == (pytest.approx(height), True)


def test_of_an_open_hoop_only_its_ends_count_and_of_a_closed_one_every_place() -> None:
    """A piece at her right that nearly comes to the front with its middle, 0.9 m up; a ring that is all at her left."""
    piece = np.array([[-0.3, -0.2, 0.7], [-0.05, -0.3, 0.9], [-0.3, -0.1, 0.8]])
    assert height_towards(HoopCurve(piece, False), "front") == (pytest.approx(0.7), True)
    ring = np.array([[0.4, -0.1, 0.9], [0.4, 0.1, 0.8], [0.1, 0.1, 0.7], [0.1, -0.05, 0.6], [0.4, -0.1, 0.9]])
    assert height_towards(HoopCurve(ring, True), "right") == (pytest.approx(0.7), True)


def test_widths_of_a_rectangle_in_every_direction() -> None:
    """400 by 300: along the axes, and its diagonal of 500 at 36.87 degrees."""
    corners = np.array([[0.2, 0.15, 1.0], [-0.2, 0.15, 2.0], [-0.2, -0.15, 3.0], [0.2, -0.15, 4.0]])
    widths = widths_in_plan(corners)
    assert len(widths) == 180
    assert (widths[0], widths[90]) == pytest.approx((0.4, 0.3))
    assert widths[37] == pytest.approx(0.5, abs=1e-5)
    assert widths[45] == pytest.approx(0.7 * np.sqrt(0.5))


def test_the_plane_of_four_corners_by_turns_up_and_down() -> None:
    corners = np.array([[1.0, 1.0, 2.1], [-1.0, 1.0, 1.9], [-1.0, -1.0, 2.1], [1.0, -1.0, 1.9]])
    assert plane_of(corners) == pytest.approx((0.0, 0.1), abs=1e-9)
    assert plane_of(corners[:, [2, 0, 1]]) == pytest.approx((90.0, 0.1), abs=1e-9)
