"""Ribbons keep their own length, taut or slack."""

from __future__ import annotations

import numpy as np
import pytest
from rigs import design_of

from cage3d.mesh.hanging import half_angle, ribbon_run
from cage3d.mesh.strip_line import strip_line
from cage3d.mesh.tapes import SEGMENT_PARTS, tape_lines
from cage3d.mesh.wearer import laid_over
from cage3d.settle import settle
from cage3d.shape.form import Form, Oval
from cage3d.shape.lay_out import lay_out

FIRST, SECOND = np.array([0.1, -0.2, 1.0]), np.array([0.15, -0.35, 0.8])
OUTWARD = np.array([0.0, -1.0, 0.0])
SPAN = float(np.linalg.norm(SECOND - FIRST))


@pytest.mark.parametrize("slack", [1e-3, 0.01, 0.3, 1.0, 5.0])
def test_slack_ribbon_keeps_its_length_and_ends_and_bulges_outward(slack: float) -> None:
    length = SPAN * (1 + slack)
    points = ribbon_run(FIRST, SECOND, length, OUTWARD, 400)
    assert np.allclose(points[[0, -1]], [FIRST, SECOND])
    assert np.linalg.norm(np.diff(points, axis=0), axis=1).sum() == pytest.approx(length, rel=1e-4)
    along = (SECOND - FIRST) / SPAN
    out = OUTWARD - (OUTWARD @ along) * along
    assert ((points[1:-1] - FIRST) @ out).min() > 0


@pytest.mark.parametrize("length", [SPAN, 0.999 * SPAN])
def test_taut_ribbon_is_straight(length: float) -> None:
    points = ribbon_run(FIRST, SECOND, length, OUTWARD, 8)
    assert np.allclose(points, FIRST + np.linspace(0, 1, 9)[:, None] * (SECOND - FIRST))


def test_ribbon_that_should_bulge_along_itself_bulges_to_some_side() -> None:
    points = ribbon_run(FIRST, SECOND, 1.1 * SPAN, SECOND - FIRST, 200)
    assert np.linalg.norm(np.diff(points, axis=0), axis=1).sum() == pytest.approx(1.1 * SPAN, rel=1e-4)


def test_half_circle_has_the_chord_of_its_diameter() -> None:
    assert half_angle(2 / np.pi) == pytest.approx(np.pi / 2)


def test_slack_tapes_of_a_settled_cage_have_their_drops_and_taut_ones_are_straight() -> None:
    drops = [[0.30], [0.36]] * 4
    settled = settle(
        lay_out(
            design_of(
                waist=0.7,
                zero=1.0,
                drops=drops,
                lengths=[1.3],
                steel={"width": 0.012, "thickness": 0.0007},
            ),
            32,
        )
    )
    (slack_rows,) = np.nonzero(settled.slack > 0.005)
    assert set(slack_rows) == {1, 3, 5, 7}
    for tape, points in enumerate(tape_lines(settled, [strip_line(settled, 0)]).points):
        run = points[1 : SEGMENT_PARTS + 2]
        length = np.linalg.norm(np.diff(run, axis=0), axis=1).sum()
        assert length == pytest.approx(drops[tape][0], rel=0.003)
        bow = np.linalg.norm(run - np.linspace(run[0], run[-1], SEGMENT_PARTS + 1), axis=1).max()
        assert bow > 0.03 if tape in slack_rows else bow < 1e-9


def test_cloth_is_laid_over_the_wearer_and_left_alone_elsewhere() -> None:
    form = Form((Oval(1.0, 0.12, 0.12, 2.0), Oval(0.8, 0.2, 0.2, 2.0), Oval(0.0, 0.2, 0.2, 2.0)))
    points = np.array([[0.1, 0.0, 0.7], [0.0, -0.3, 0.7], [0.05, 0.0, 1.1]])
    laid = laid_over(form, points, 0.002)
    assert laid[0] == pytest.approx([0.202, 0, 0.7])
    assert np.array_equal(laid[1:], points[1:])
    assert laid_over(None, points, 0.002) is points
