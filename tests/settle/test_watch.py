"""Settling that is stopped: after so many steps, or because who asked no longer wants an answer."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from rigs import whole_cage

import cage3d
from cage3d.errors import CancelledError
from cage3d.report import why_not
from cage3d.settle import SettledCage, settle
from cage3d.settle.watch import Watch
from cage3d.shape.lay_out import lay_out

NODES = 16
SAMPLE = Path(__file__).parents[2] / "samples" / "a-short-petticoat.yaml"


@pytest.fixture(name="hung", scope="module")
def hung_cage() -> SettledCage:
    return settle(lay_out(whole_cage(), NODES))


def test_steps_are_counted_and_end() -> None:
    watch = Watch(2)
    assert [watch.may_step() for _ in range(4)] == [True, True, False, False]
    assert watch.steps == 2
    assert all(Watch().may_step() for _ in range(3))


def test_enough_steps_change_nothing(hung: SettledCage) -> None:
    again = settle(hung.cage, most_steps=hung.steps)
    assert again.trusted
    assert np.array_equal(again.positions, hung.positions)


def test_too_few_are_told_and_no_answer(hung: SettledCage) -> None:
    few = settle(hung.cage, most_steps=hung.steps - 1)
    assert not few.trusted
    assert (few.steps, few.given_up) == (hung.steps - 1, True)
    assert few.residual > 1e-7
    said = why_not(few, "petticoat.yaml")
    assert f"in {few.steps} steps, after which it was given up" in str(said)
    assert not hung.given_up


def test_settling_again_is_counted_too(hung: SettledCage) -> None:
    longer = hung.cage.with_parameters(pull_length=1.01 * hung.cage.parameters.pull_length)
    assert settle(longer, hung, most_steps=0).given_up
    assert settle(longer, hung).trusted


def test_a_cancelled_settling_stops_before_its_next_step(hung: SettledCage) -> None:
    asked: list[None] = []

    def fifth() -> bool:
        asked.append(None)
        return len(asked) == 5

    with pytest.raises(CancelledError):
        settle(hung.cage, cancel=fifth)
    assert len(asked) == 5
    # What was begun leaves nothing behind that would spoil the next.
    assert np.array_equal(settle(hung.cage, cancel=lambda: False).positions, hung.positions)


def test_both_from_python() -> None:
    cage = cage3d.read(SAMPLE)
    assert not cage.settle(24, most_steps=3).trusted
    with pytest.raises(cage3d.CancelledError):
        cage.settle(24, cancel=lambda: True)
