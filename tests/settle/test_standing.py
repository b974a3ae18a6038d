"""How a cage stands is worked out once, and to the last bit the same for whoever is given its state."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from rests import ring_in_a_skirt

from cage3d.design.read import read
from cage3d.settle import SettledCage, settle, standing
from cage3d.settle.model import model_of
from cage3d.settle.posture import squared
from cage3d.settle.standing import KEPT, standing_of
from cage3d.settle.taking_up import posture_of, state_of
from cage3d.shape.lay_out import lay_out

SAMPLE = Path(__file__).parents[2] / "samples" / "a-short-petticoat.yaml"  # four strings lie on her


@pytest.fixture(name="hung", scope="module")
def hung_over_her() -> SettledCage:
    settled = settle(lay_out(read(SAMPLE), 24))
    assert settled.state.ways
    return settled


@pytest.fixture(name="forgotten")
def nothing_kept(monkeypatch) -> None:
    monkeypatch.setattr(standing, "kept", standing.deque(maxlen=KEPT))


def told_again(settled: SettledCage) -> SettledCage:
    """The same from arrays alone, as it comes from another process."""
    state = settled.state
    arrays = {name: np.array(getattr(state, name)) for name in ("positions", "angles", "normals", "twists")}
    ways = {row: np.array(way) for row, way in state.ways.items()}
    return replace(settled, state=replace(state, **arrays, ways=ways))


@pytest.mark.usefixtures("forgotten")
def test_what_is_kept_is_what_the_state_alone_would_give(hung: SettledCage) -> None:
    fresh = settle(hung.cage)
    own, other = standing_of(fresh), standing_of(told_again(fresh))
    assert own is standing_of(fresh)
    assert own is not other
    assert np.array_equal(own.trial.hessian.upper, other.trial.hessian.upper)
    assert np.array_equal(own.trial.gradient, other.trial.gradient)


def test_a_state_taken_up_and_told_again_is_the_same(hung: SettledCage) -> None:
    model = model_of(hung.cage, 3e4)
    state = state_of(model, *posture_of(model, hung.state))
    for name in ("positions", "angles", "normals", "twists", "spans"):
        assert np.array_equal(getattr(state, name), getattr(hung.state, name)), name
    assert all(np.array_equal(state.ways[row], way) for row, way in hung.state.ways.items())
    assert all(np.array_equal(state.forces[name], force) for name, force in hung.state.forces.items())


@pytest.mark.usefixtures("forgotten")
def test_a_cage_settles_from_a_stored_state_as_from_its_own(hung: SettledCage) -> None:
    longer = hung.cage.with_parameters(pull_length=hung.cage.parameters.pull_length + 0.003)
    own, stored = settle(longer, settle(hung.cage)), settle(longer, told_again(hung))
    assert own.trusted
    assert np.array_equal(own.positions, stored.positions)
    assert np.array_equal(own.state.pull_force, stored.state.pull_force)


def test_forces_that_act_there_act_whatever_the_springs(hung: SettledCage) -> None:
    """Springs of a million newtons a unit strain would make much of a few nanometres."""
    model = model_of(hung.cage, 3e4)
    held = standing_of(hung).trial
    for term, acting in zip(model.terms, held.acting, strict=True):
        assert acting == pytest.approx(hung.state.force_of(term.name, term.held), abs=1e-6), term.name


def test_frames_that_rounding_has_turned_are_made_normal_again(hung: SettledCage) -> None:
    """A millionth along the strip and a millionth longer; those of a settled cage stay as they are."""
    joined = hung.cage.connectivity
    posture, _ = posture_of(model_of(hung.cage, 3e4), hung.state)
    assert squared(joined, posture) is posture
    off = posture.rod.references + 1e-6 * (posture.rod.tangents + posture.rod.references)
    square = squared(joined, replace(posture, rod=replace(posture.rod, references=off)))
    assert square.rod.references == pytest.approx(posture.rod.references, abs=1e-12)


@pytest.mark.usefixtures("forgotten")
def test_only_the_last_few_are_kept() -> None:
    ring = ring_in_a_skirt()
    told = [replace(ring, state=replace(ring.state)) for _ in range(KEPT + 1)]
    first = standing_of(told[0])
    assert standing_of(told[0]) is first
    for one in told[1:]:
        standing_of(one)
    assert len(standing.kept) == KEPT
    assert standing_of(told[0]) is not first


def test_a_pivot_that_vanishes_is_told(monkeypatch) -> None:
    monkeypatch.setattr(standing, "factorise", lambda _hessian: None)
    trial: Any = SimpleNamespace(hessian=None)
    assert standing.Standing(trial).factor is None
