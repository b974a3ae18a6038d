"""How heights and widths go as nodes move, what friction may hold a hoop, and which hoop has most nodes, by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from cage3d.foresee.certainty import hoop_frictions, string_frictions
from cage3d.foresee.finer import nodes_round
from cage3d.foresee.read_off import height_slopes, widest_slopes
from cage3d.foresee.sensitivity import MarkEffect
from cage3d.shape.form import Form, Oval

FRONT = (0.0, -1.0)


def test_a_height_between_two_nodes_goes_with_both() -> None:
    """The steel rises 0.2 m over 2 m to her left: both nodes up count half, both 1 m to her left lower it by 0.1."""
    points = np.array([[-1.0, -1.0, 0.0], [1.0, -1.0, 0.2], [1.0, 1.0, 0.2], [-1.0, 1.0, 0.0]])
    slopes = height_slopes(points, True, FRONT)
    assert slopes == pytest.approx(np.array([[-0.05, 0, 0.5], [-0.05, 0, 0.5], [0, 0, 0], [0, 0, 0]]))


def test_a_height_at_an_open_end_goes_with_the_one_run_that_there_is() -> None:
    """The end lies before her middle and the steel rises from it by 0.2 m a metre."""
    points = np.array([[-1e-9, -1.0, 0.0], [1.0, -1.0, 0.2], [1.0, 1.0, 0.7]])
    slopes = height_slopes(points, False, FRONT)
    assert slopes == pytest.approx(np.array([[-0.2, 0, 1], [0, 0, 0], [0, 0, 0]]), abs=1e-8)


def test_where_a_hoop_is_open_its_nearest_end_is_the_height() -> None:
    """Its right end lies 27 degrees behind her side and its left one 11: that is the nearer to her front."""
    points = np.array([[-1.0, 0.5, 0.3], [0.0, 1.0, 0.4], [1.0, 0.2, 0.5]])
    assert height_slopes(points, False, FRONT).tolist() == [[0, 0, 0], [0, 0, 0], [0, 0, 1]]


def test_the_most_that_a_mark_does_at_any_side() -> None:
    for place in range(4):
        sides = [0.1, -0.2, 0.3, 0.15]
        sides[place] = -0.9
        assert MarkEffect(0, 0, *sides).most == 0.9


def test_the_greatest_width_lies_where_it_lies() -> None:
    """Of a lozenge across: from corner to corner, and both corners count along the line between them."""
    corners = np.array([[1.0, 1.0, 0.0], [0.1, -0.1, 0.0], [-1.0, -1.0, 0.0], [-0.1, 0.1, 0.0]])
    half = np.sqrt(0.5)
    slopes = np.array([[half, half, 0], [0, 0, 0], [-half, -half, 0], [0, 0, 0]])
    assert widest_slopes(corners) == pytest.approx(slopes)


def on_a_column(places: list[list[float]], push: list[float], hoops: list[list[int]]) -> Any:
    """What friction asks of a hung cage whose wearer is an upright column, 0.4 m wide and 0.3 m deep."""
    form = Form((Oval(1.2, 0.2, 0.15, 2.0), Oval(0.6, 0.2, 0.15, 2.0), Oval(0.0, 0.2, 0.15, 2.0)))
    joined = SimpleNamespace(hoop_nodes=[np.array(nodes) for nodes in hoops])
    numbers = SimpleNamespace(stand_off=np.zeros(len(places)))
    cage = SimpleNamespace(form=form, connectivity=joined, parameters=numbers)
    state = SimpleNamespace(wearer_push=np.array(push))
    return SimpleNamespace(cage=cage, state=state, positions=np.array(places))


def test_friction_holds_a_hoop_up_her_form_and_round_it() -> None:
    """0.3 of what is before her and at her left: up, to her left and to her back; a hoop that is free has none.

    Her gap is 0.175 m, the mean of her half measures, times a logarithm: it grows by 0.175 / 0.15 a metre before her,
    by 0.175 / 0.2 at her left, so that pushes of 2 and 1 N a unit of it are 2.3333 and 0.875 N.
    """
    places = [[0.0, -0.15, 0.8], [0.2, 0.0, 0.8], [0.0, 0.3, 0.8], [0.4, 0.0, 0.5], [0.0, 0.4, 0.5]]
    up, round_her = hoop_frictions(on_a_column(places, [2.0, 1.0, 0.0, 0.0, 5e-4], [[0, 1, 2], [3, 4]]))
    nothing = [[0.0, 0.0, 0.0]] * 3
    assert up == pytest.approx(np.array([[0, 0, 0.7], [0, 0, 0.2625], *nothing]), abs=1e-5)
    assert round_her == pytest.approx(np.array([[0.7, 0, 0], [0, 0.2625, 0], *nothing]), abs=1e-5)


def test_the_ends_of_a_string_over_her_may_differ_along_their_own_ways() -> None:
    """Twice round a corner at right angles: exp(0.3 pi) - 1 = 1.5663 times its pull, half of it at either end."""
    line = np.array([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [1.0, 1.0, 0.0], [1.0, 1.0, 1.0]])
    state = SimpleNamespace(ways={0: line, 1: line}, pull_force=np.array([2.0, 5e-4]))
    cage = SimpleNamespace(connectivity=SimpleNamespace(pulls=np.array([[2, 0], [0, 1]])))
    (force,) = string_frictions(SimpleNamespace(cage=cage, state=state, positions=np.zeros((3, 3))))  # type: ignore[arg-type]
    assert force == pytest.approx(np.array([[0, 0, 1.5663], [0, 0, 0], [1.5663, 0, 0]]), abs=1e-4)


def test_as_many_nodes_as_the_hoop_that_has_most() -> None:
    joined = SimpleNamespace(hoop_nodes=[np.arange(112), np.arange(120), np.arange(114)])
    assert nodes_round(SimpleNamespace(cage=SimpleNamespace(connectivity=joined))) == 120  # type: ignore[arg-type]
