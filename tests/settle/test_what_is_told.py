"""What a settled cage tells of its forces, bends, slack and softest way, by hand."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from lines_alone import weights_on_a_string
from rigs import STRIP_10, design_of, ring_on_tapes

from cage3d.settle import settle, stability
from cage3d.settle.bends import StripFrames, bend_curvatures, strain_shares
from cage3d.settle.model import model_of
from cage3d.settle.posture import first_posture
from cage3d.settle.stability import load_response, lowest_mode
from cage3d.settle.state import SettledCage, State
from cage3d.settle.taking_up import posture_of
from cage3d.settle.terms.pulls import pulls_of
from cage3d.settle.unknowns import unknowns_of
from cage3d.shape.cage import Cage
from cage3d.shape.changes import ParameterChanges
from cage3d.shape.lay_out import lay_out


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
        np.zeros((5, 3)),
        np.zeros(3),
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
    model = model_of(cage.with_parameters(skirt_weight=np.array([1.0, 25.0, 25.0])), 3e4, skirt=0.0)
    posture, forces = posture_of(model, hung.state)
    moves = load_response(model, posture, forces, 0.2)
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


@pytest.mark.parametrize(
    ("stiffness", "value", "place", "size"),
    [
        ({}, 3.0, 7, 1.0),
        ({4: 0.02}, 2.0, 4, 10.0),  # of an angle: 0.02 N m on a strip 0.1 m wide
        ({4: 0.04}, 3.0, 7, 1.0),
        ({2: -6.0}, -6.0, 2, 1.0),
        ({4: -0.05}, -5.0, 4, 10.0),
    ],
)
def test_the_lowest_mode_is_that_of_least_stiffness_in_the_metric(
    monkeypatch, stiffness: dict[int, float], value: float, place: int, size: float
) -> None:
    """Twelve unknowns each for itself, of 10 N/m and more, the eighth of 3; the fifth an angle."""
    own = 10.0 + np.arange(12.0)
    own[7], own[4] = 3.0, 1.0
    for number, stiff in stiffness.items():
        own[number] = stiff
    metric = np.ones(12)
    metric[4] = 0.1**2
    factor = SimpleNamespace(solve=lambda right: right / own, negative=int((own < 0.0).sum()))
    monkeypatch.setattr(stability, "standing_at", lambda *_: SimpleNamespace(factor=factor))
    model: Any = SimpleNamespace(metric=metric, pattern=SimpleNamespace(size=12))
    found = lowest_mode(model, cast(Any, None), ())
    assert found.eigenvalue == pytest.approx(value, rel=1e-4)
    assert np.abs(found.mode[place]) == pytest.approx(size, rel=1e-3)
    assert np.abs(np.delete(found.mode, place)).max() < 0.05 * size
    assert found.negative == int(value < 0.0)
    assert found.stable is (value > 0.0)


def test_what_cannot_be_factorised_is_not_vouched_for(monkeypatch) -> None:
    whole = SimpleNamespace(hessian=None)
    monkeypatch.setattr(stability, "standing_at", lambda *_: SimpleNamespace(factor=None))
    monkeypatch.setattr(stability, "trial_at", lambda *_: SimpleNamespace(with_springs=lambda _spring: whole))
    monkeypatch.setattr(stability, "factorise", lambda _hessian: None)
    model: Any = SimpleNamespace(metric=np.ones(3), pattern=SimpleNamespace(size=3))
    found = lowest_mode(model, cast(Any, None), ())
    assert np.isnan(found.eigenvalue)
    assert not found.stable
    assert found.negative == 0
    assert load_response(model, cast(Any, None), (), 1.0) is None


@pytest.mark.parametrize(
    ("way", "middle"),
    [
        (None, [0.5, 0.0, 1.0]),
        ([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [1.0, 1.0, 0.0]], [1.0, 0.0, 0.0]),
        ([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [1.0, 1.0, 0.0], [1.0, 1.0, 1.0]], [1.0, 0.5, 0.0]),
    ],
)
def test_the_middle_of_a_line_straight_or_over_her(way, middle) -> None:
    """Of pieces alike: a node, or halfway between the two nodes about the middle."""
    ways = {} if way is None else {0: np.array(way)}
    joined = SimpleNamespace(pulls=np.array([[0, 1]]))
    places = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 1.0]])
    settled: Any = SimpleNamespace(
        state=SimpleNamespace(ways=ways), positions=places, cage=SimpleNamespace(connectivity=joined)
    )
    settled.pull_way = lambda row: SettledCage.pull_way(settled, row)
    assert SettledCage.pull_middle(settled, 0) == pytest.approx(middle)


def test_only_lines_that_pull_grow_with_their_numbers() -> None:
    """Under 10 N a line that gives a thousandth a newton is longer by a hundredth: a metre more of it is 1.01 m of
    excess less, and a newton's give more 10 times its 0.5 m. A slack one asks nothing.
    """
    cage = plumb()
    model = model_of(cage, 3e4)
    posture, _ = posture_of(model, settle(cage).state)
    (pulls,) = (term for term in model.terms if term.name == "pulls")
    told = pulls.at(posture)
    acting = np.array([10.0, 0.0])
    longer = told.excess_change(acting, ParameterChanges(pull_length=np.eye(2)))
    assert longer == pytest.approx(np.array([[-1.01, 0.0], [0.0, 0.0]]))
    softer = told.excess_change(acting, ParameterChanges(pull_give=np.eye(2)))
    assert softer == pytest.approx(np.array([[-5.0, 0.0], [0.0, 0.0]]), rel=1e-6)
    assert told.excess_change(acting, ParameterChanges(own_weight=np.ones((3, 1)))) is None


def test_ends_that_fall_together_leave_a_line_its_whole_length_and_no_direction() -> None:
    """Half a metre of string whose ends meet on the way to a rest hangs slack by all of it."""
    cage = weights_on_a_string([0.5, 0.5], [1.0], [0.0, 2.0], [0.4, 2.0])
    places = cage.positions.copy()
    places[0] = places[1]
    met = replace(cage, positions=places)
    pulls = pulls_of(met, unknowns_of(met.connectivity))
    reading = pulls.at(first_posture(met))
    assert reading.excess[0] == pytest.approx(-0.5)
    assert not reading.slopes(slice(None))[0].any()
