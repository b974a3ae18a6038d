"""From the first rest to the answer: when a saddle is left, what proves it, how it is settled again; by hand."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest
from rests import rest_of

from cage3d.settle import again, settle, settling
from cage3d.settle.hanging import Progress
from cage3d.settle.model import Model, model_of
from cage3d.settle.settling import along_mode, fall_to_stable, finished
from cage3d.settle.stability import Lowest
from cage3d.settle.state import Snap


def weight_of(model: Model) -> float:
    return float(model.weight.sum())


def falls(monkeypatch, hung, model, lowests: list[Lowest], settled: bool = True):
    """(rest, lowest, progress) of a fall in which these lowest modes are met in turn."""
    left = list(lowests)
    monkeypatch.setattr(settling, "lowest_mode", lambda *_: left.pop(0) if len(left) > 1 else left[0])
    monkeypatch.setattr(settling, "along_mode", lambda *_: None)
    monkeypatch.setattr(settling, "come_to_rest", lambda *_: rest_of(hung, 0.012))
    progress = Progress(0, [])
    start = rest_of(hung, reason="at rest" if settled else "steps ran out")
    return *fall_to_stable(model, start, progress), progress


def lowest(value: float, negative: int) -> Lowest:
    return Lowest(value, np.zeros(3), negative)


@pytest.mark.parametrize(
    ("first", "settled", "fell"),
    [
        (lowest(-1.0, 1), True, True),
        (lowest(-1.0, 1), False, False),
        (lowest(0.5, 0), True, False),
        (lowest(-1.0e-7, 1), True, True),
        (lowest(-0.9e-7, 1), True, False),  # neither rises nor falls
    ],
)
def test_only_a_real_saddle_is_left(monkeypatch, hung, model, first, settled, fell) -> None:
    rest, last, progress = falls(monkeypatch, hung, model, [first, lowest(0.5, 0)], settled)
    assert progress.steps == (7 if fell else 0)
    assert last.eigenvalue == (0.5 if fell else first.eigenvalue)
    assert len(progress.notes) == int(fell)
    if fell:
        assert "(by 12 mm)" in progress.notes[0]
        assert rest.posture.positions[3, 0] == pytest.approx(hung.positions[3, 0] + 0.012)


def test_a_cage_falls_eight_times_at_most(monkeypatch, hung, model) -> None:
    _, last, progress = falls(monkeypatch, hung, model, [lowest(-1.0, 1)])
    assert len(progress.notes) == 8
    assert not last.stable


@pytest.mark.parametrize(
    ("value", "negative", "stable"),
    [(1.01e-7, 0, True), (1e-7, 0, False), (1.0, 1, False), (float("nan"), 0, False)],
)
def test_what_counts_as_a_valley(value, negative, stable) -> None:
    assert lowest(value, negative).stable is stable


def test_a_mode_is_followed_by_five_millimetres_of_its_farthest_node(hung, model) -> None:
    mode = np.zeros(model.unknowns.size)
    mode[9], mode[13], mode[-1] = -4.0, 2.0, 100.0
    posture = along_mode(model, rest_of(hung), mode)
    moved = posture.positions - hung.positions
    assert moved[3] == pytest.approx([-0.005, 0.0, 0.0])
    assert moved[4] == pytest.approx([0.0, 0.0025, 0.0])
    assert posture.angles[-1] - hung.state.angles[-1] == pytest.approx(0.125)


def test_the_answer_carries_its_proof(hung, model) -> None:
    node = int(hung.cage.connectivity.crossing[0, 1])
    rest = rest_of(hung, residual=2e-8, distance=3e-6, worst_node=node)
    told = finished(model, rest, lowest(0.25, 0), Progress(31, ["one", "two", "one"], (Snap(0.5, 3, 0.05),)))
    assert (told.residual, told.distance, told.lowest_eigenvalue, told.steps) == (2e-8, 3e-6, 0.25, 31)
    assert (told.settled, told.stable, told.trusted) == (True, True, True)
    assert (told.notes, told.worst_node) == (("one", "two"), "hoop 1 at tape 2")
    unstable = finished(model, rest, lowest(-0.25, 1), Progress(0, []))
    unsettled = finished(model, replace(rest, reason="steps ran out"), lowest(0.25, 0), Progress(0, []))
    assert [(one.settled, one.stable, one.trusted) for one in (unstable, unsettled)] == [
        (True, False, False), (False, True, False),
    ]  # fmt: skip


def test_a_start_that_leads_nowhere_is_left_for_a_cage_hung_anew(hung, monkeypatch) -> None:
    anew, near = rest_of(hung, 0.01), rest_of(hung, 0.02)
    monkeypatch.setattr(settling, "fall_to_stable", lambda _model, rest, _progress: (rest, lowest(1.0, 0)))
    monkeypatch.setattr(settling, "hang", lambda *_: anew)
    for reason, wanted in (("at rest", near), ("steps ran out", anew)):
        rest = replace(near, reason=reason)
        monkeypatch.setattr(settling, "settle_again", lambda *_, rest=rest: rest)
        found = settle(hung.cage, hung)
        assert found.positions[3, 0] == pytest.approx(wanted.posture.positions[3, 0])
    told = settle(hung.cage)
    assert told.positions[3, 0] == pytest.approx(anew.posture.positions[3, 0])
    assert told.steps == 0, "only what is taken here counts, and all of that stands still"


def test_settling_again_begins_softer_and_ends_exact(hung, model, monkeypatch) -> None:
    asked: list[Any] = []
    monkeypatch.setattr(
        again,
        "come_to_rest",
        lambda model, *_, loose=None, **_more: asked.append((model.spring, loose)) or rest_of(hung),
    )
    monkeypatch.setattr(again, "predicted", lambda *_: (None, ()))
    progress = Progress(5, [])
    again.settle_again(model, hung, progress)
    softly = (3000.0, pytest.approx(0.002 * weight_of(model)))
    assert asked == [softly, softly, (30000.0, None)], (
        "the forces are brought up to date once among soft springs"
    )
    assert progress.steps == 5 + 21


def test_a_changed_number_is_foreseen_to_first_order(hung, model) -> None:
    """Tapes a millimetre shorter lift the ring, level and round, by about as much: the start is there at once, or where
    it was if the old cage was no rest.
    """
    shorter = hung.cage.with_parameters(pull_length=hung.cage.parameters.pull_length - 0.001)
    changed = model_of(shorter, model.spring)
    posture, _ = again.predicted(changed, hung)
    nodes = hung.cage.connectivity.hoop_nodes[0]
    risen = posture.positions[nodes, 2] - hung.positions[nodes, 2]
    # The tape is 0.3 m long and 0.2894 m of it upright: a millimetre less is 1.037 mm up.
    drop = np.sqrt(0.3**2 - (0.5 / (2 * np.pi)) ** 2)
    assert risen.mean() == pytest.approx(0.001 * 0.3 / drop, rel=0.01)
    still, _ = again.predicted(changed, replace(hung, settled=False))
    assert np.array_equal(still.positions, hung.positions)


@dataclass(frozen=True)
class Sheet:
    """Cloth that touches other hoops each time it is laid, until it has been laid `changes` times."""

    changes: int
    laid: int = 0

    @property
    def over(self) -> np.ndarray:
        return np.array([min(self.laid, self.changes)])

    def laid_over(self, _positions: Any) -> Sheet:
        return replace(self, laid=self.laid + 1)


@pytest.mark.parametrize(
    ("changes", "reason", "again"),
    [(0, "at rest", 0), (1, "at rest", 1), (3, "at rest", 3), (9, "at rest", 4), (9, "steps ran out", 0)],
)
def test_cloth_is_laid_anew_until_it_touches_the_same_hoops(
    monkeypatch, hung, changes, reason, again
) -> None:
    """Four times at most, and not over a cage that has found no rest."""
    model = model_of(hung.cage, 30000.0)
    model = replace(model, cage=replace(model.cage, cloths=(Sheet(changes),)))
    monkeypatch.setattr(settling, "model_of", lambda cage, *_, **_more: replace(model, cage=cage))
    monkeypatch.setattr(settling, "come_to_rest", lambda *_: rest_of(hung))
    progress = Progress(0, [])
    last, _ = settling.cloth_laid(model, rest_of(hung, reason=reason), progress)
    assert progress.steps == 7 * again
    assert last.cage.cloths[0].laid == again
