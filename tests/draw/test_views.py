"""How points fall on the paper."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cage3d.draw.names import spread
from cage3d.draw.views import ABOVE, BACK, FRONT, SIDE, THREE_QUARTER, VIEWS, Margins, View, fitted

LEFT, BACKWARDS, UP = np.eye(3)


@pytest.mark.parametrize("view", VIEWS, ids=lambda view: view.name)
def test_axes_are_a_right_handed_frame(view: View) -> None:
    assert np.allclose(view.axes @ view.axes.T, np.eye(3))
    assert np.allclose(np.cross(view.axes[0], view.axes[1]), view.axes[2])


def test_what_lies_where_in_each_view() -> None:
    right, up, out = FRONT.axes
    assert np.allclose([right @ LEFT, up @ UP, out @ -BACKWARDS], 1.0)  # her left on the viewer's right
    right, up, out = SIDE.axes
    assert np.allclose([right @ BACKWARDS, up @ UP, out @ LEFT], 1.0)
    right, up, out = BACK.axes
    assert np.allclose([right @ -LEFT, up @ UP, out @ BACKWARDS], 1.0)
    right, up, out = ABOVE.axes
    assert np.allclose([right @ LEFT, up @ BACKWARDS, out @ UP], 1.0)
    assert THREE_QUARTER.axes[2] @ -BACKWARDS > 0.8


@pytest.mark.parametrize("view", VIEWS, ids=lambda view: view.name)
def test_fitted_points_stay_within_the_margins_and_touch_two_of_them(view: View) -> None:
    points = np.random.default_rng(7).uniform(-0.6, 0.9, (200, 3))
    flat = fitted(view, points, (900, 700), Margins(50, 150, 80, 30)).on_paper(points)
    low, high = flat.min(axis=0), flat.max(axis=0)
    room = np.array([low[0] - 50, 750 - high[0], low[1] - 80, 670 - high[1]])
    assert room.min() > -1e-6
    assert min(room[:2].max(), room[2:].max()) < 1e-6


def test_lengths_come_out_at_the_scale_that_is_asked_for() -> None:
    frame = fitted(FRONT, np.zeros((1, 3)), (900, 700), Margins(0, 0, 0, 0), scale=400.0)
    flat = frame.on_paper(np.array([[0.0, 0.3, 0.0], [0.5, 0.1, 0.25]]))
    assert np.allclose(flat[1] - flat[0], [200.0, -100.0])


# Whole thousandths of a pixel: what lies closer than rounding noise has no order to keep.
PLACES = st.integers(0, 900_000).map(lambda thousandths: thousandths / 1000.0)


@given(st.lists(PLACES, min_size=1, max_size=14), st.floats(10.0, 60.0))
def test_labels_keep_their_distance_and_their_order(places: list[float], step: float) -> None:
    moved = np.array(spread(places, step, 900.0))
    order = np.argsort(places, kind="stable")
    assert np.all(np.diff(moved[order]) >= step - 1e-9)
    assert moved.max() <= 900.0 + 1e-9
