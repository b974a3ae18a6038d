"""What Newton's method calls rest, and what it does where there is none; worked by hand."""

from __future__ import annotations

from dataclasses import dataclass, field
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from rigs import whole_cage

from cage3d.settle import rest as rest_module
from cage3d.settle.model import Model, Trial, model_of
from cage3d.settle.rest import come_to_rest, longest_way, step_to_rest
from cage3d.shape.lay_out import lay_out


@pytest.fixture(name="model", scope="module")
def small_model() -> Model:
    return model_of(lay_out(whole_cage(), 16), 300.0)


@dataclass
class Told:
    """What a trial tells of its constraints, in turn; remembers how it was held and moved."""

    broken_in_turn: list[float]
    spring: float = 300.0
    held: list[float] = field(default_factory=list)
    moves: int = 0

    def __post_init__(self) -> None:
        self.posture, self.acting = "here", ()

    @property
    def model(self) -> Any:
        return SimpleNamespace(spring=self.spring)

    @property
    def broken(self) -> float:
        return self.broken_in_turn.pop(0) if len(self.broken_in_turn) > 1 else self.broken_in_turn[0]

    def held_by(self, _forces: Any, times: float) -> Told:
        self.held.append(times)
        self.spring *= times
        return self

    def moved(self, _step: Any) -> Told:
        self.moves += 1
        return self


def rested(
    monkeypatch, told: Told, *, residual: float = 0.0, ways: list[float] | None = None, **more: Any
) -> Any:
    """come_to_rest over what is told: every descent takes 3 steps and leaves `residual`; `ways` lie ahead in turn."""
    left = ways or [0.0]
    monkeypatch.setattr(rest_module, "trial_at", lambda *_: told)
    monkeypatch.setattr(rest_module, "minimise", lambda trial, _tolerance, most, _kept: (trial, min(3, most)))
    monkeypatch.setattr(rest_module, "unbalanced", lambda _trial: residual)
    monkeypatch.setattr(rest_module, "force_tolerance", lambda _model: 1e-7)
    monkeypatch.setattr(rest_module, "step_to_rest", lambda *_: 0.0)
    monkeypatch.setattr(rest_module, "bounded", lambda _model, step: step)
    monkeypatch.setattr(rest_module, "longest_way", lambda *_: left.pop(0) if len(left) > 1 else left[0])
    monkeypatch.setattr(rest_module, "worst_node", lambda _trial: 4)
    return come_to_rest(cast(Model, None), cast(Any, None), (), **more)


@pytest.mark.parametrize(
    ("residual", "broken", "way", "reason"),
    [
        (1e-7, 1e-8, 1e-5, "at rest"),
        (1.01e-7, 0.0, 0.0, "steps ran out"),
        (0.0, 1.01e-8, 0.0, "steps ran out"),
        (0.0, 0.0, 1.01e-5, "rest is further off than the forces tell"),
    ],
)
def test_rest_is_force_and_length_and_stillness(monkeypatch, residual, broken, way, reason) -> None:
    """0.1 uN, 10 nm, and 10 um to where one more step would lead."""
    found = rested(monkeypatch, Told([broken]), residual=residual, ways=[way])
    assert found.reason == reason
    assert found.settled is (reason == "at rest")
    assert found.worst_node == 4


def test_a_rest_further_off_is_walked_to_in_ten_steps(monkeypatch) -> None:
    """Ten steps at most; each counts, with the three of the descent that follows it."""
    for ahead, moves, reason in (
        ([1e-3] * 10 + [1e-6], 10, "at rest"),
        ([1e-3] * 11 + [1e-6], 10, "rest is further off than the forces tell"),
        ([1e-3, 1e-6], 1, "at rest"),
    ):
        told = Told([0.0])
        found = rested(monkeypatch, told, ways=list(ahead))
        assert (told.moves, found.reason) == (moves, reason)
        assert found.steps == 3 + moves * 4
        assert found.distance == (1e-6 if reason == "at rest" else 1e-3)


def test_a_loose_rest_asks_nothing_of_lengths(monkeypatch) -> None:
    found = rested(monkeypatch, Told([0.5]), residual=0.1, loose=0.2)
    assert (found.reason, found.steps, found.broken, found.residual) == ("at rest", 3, 0.5, 0.1)
    assert np.isnan(found.distance)


@pytest.mark.parametrize(
    ("broken", "spring", "times"),
    [
        ([1e-2, 2.4e-3, 5e-4, 0.0], 300.0, [1.0, 1.0, 1.0]),  # each under a quarter of the last
        ([1e-2, 2.6e-3, 5e-4, 0.0], 300.0, [1.0, 10.0, 1.0]),
        ([1e-2, 1e-2, 1e-2, 0.0], 3e5, [1.0, 10.0, 1.0]),  # 3e6 is over the million
        ([1e-2, 1e-2, 0.0], 1e6, [1.0, 1.0]),
        ([1e-2, 1e-2, 0.0], 9.9e5, [1.0, 10.0]),
    ],
)
def test_forces_brought_up_to_date_in_vain_get_stiffer_springs(monkeypatch, broken, spring, times) -> None:
    told = Told(list(broken), spring)
    assert rested(monkeypatch, told).reason == "at rest"
    assert told.held == times


def test_the_budget_of_steps_ends_it(monkeypatch) -> None:
    """Three a descent: with seven allowed, the third descent has one."""
    told = Told([1.0])
    assert (rested(monkeypatch, told, most_steps=7).steps, told.held[:2]) == (7, [1.0, 10.0])
    nearing = [0.85**n for n in range(80)]
    assert rested(monkeypatch, Told(nearing)).steps == 200, "where nothing else is said"


@pytest.mark.parametrize(
    ("broken", "spring", "descents", "reason"),
    [
        # Springs of 3e3, 3e4, 3e5 and 3e6 after the second to the fifth descent; in vain after the next three.
        ([5e-3], 300.0, 8, "cannot be held"),
        ([5e-3], 1e6, 4, "cannot be held"),  # nothing is known of the first
        ([5e-3, 5e-3, 5e-3, 4.4e-3, 4e-3, 4e-3, 4e-3], 1e6, 7, "cannot be held"),  # under nine tenths once
        ([9.9e-5], 1e6, 67, "steps ran out"),  # a tenth of a millimetre may be a slow way to rest
    ],
)
def test_what_stays_apart_under_the_stiffest_springs_cannot_be_held(
    monkeypatch, broken, spring, descents, reason
) -> None:
    found = rested(monkeypatch, Told(list(broken), spring))
    assert (found.steps, found.reason) == (min(3 * descents, 200), reason)


def test_the_last_step_is_newtons_and_none_on_a_saddle(monkeypatch) -> None:
    trial = cast(
        Trial,
        SimpleNamespace(
            hessian=None,
            gradient=np.array([2.0, -4.0]),
            model=SimpleNamespace(unknowns=SimpleNamespace(size=2)),
        ),
    )
    half = SimpleNamespace(negative=0, solve=lambda right: 0.5 * right)
    for factor, step in ((half, [-1.0, 2.0]), (SimpleNamespace(negative=1), [0.0, 0.0]), (None, [0.0, 0.0])):
        monkeypatch.setattr(rest_module, "factorise", lambda _hessian, told=factor: told)
        assert step_to_rest(trial) == pytest.approx(step)


def test_how_far_a_step_goes_is_the_way_of_its_farthest_node(model: Model) -> None:
    step = np.zeros(model.unknowns.size)
    step[3:6], step[9], step[-1] = [0.003, 0.004, 0.0], 0.0045, 7.0
    assert longest_way(model, step) == pytest.approx(0.005)
