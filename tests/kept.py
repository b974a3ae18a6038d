"""Answers kept between commands: what one test has settled and foreseen of a cage, the next need not work out anew.

Only for tests of what is said and written: that the same design gives the same answer again is proved where nothing
is kept (tests/settle/, and processes of their own in tests/cli/ and tests/test_same_everywhere.py).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import astuple
from typing import Any, TypeVar

import numpy as np
import pytest
from kept_errors import kept_errors

import cage3d.settle
from cage3d import backward, flow
from cage3d.design.models import Design
from cage3d.foresee.capacity import Capacity
from cage3d.report import Report, outlook
from cage3d.settle import SettledCage
from cage3d.shape.cage import Cage
from cage3d.study.truing.signatures import Signatures

Answer = TypeVar("Answer")
KEPT: dict[object, Any] = {}
SETTLE, FORETOLD, CARRIES, SECOND_WAY, WORKED = (
    cage3d.settle.settle, flow.foretold, outlook.carries, outlook.second_way, backward.worked
)  # fmt: skip


def kept(key: object, work: Callable[[], Answer]) -> Answer:
    if key not in KEPT:
        KEPT[key] = work()
    answer: Answer = KEPT[key]
    return answer


def told_apart(cage: Cage) -> object:
    """All that settling reads of a cage: its design, where it begins and every number."""
    numbers = (value for value in astuple(cage.parameters) if value is not None)
    return (
        cage.design.model_dump_json(), cage.positions.tobytes(), *(np.asarray(value).tobytes() for value in numbers)
    )  # fmt: skip


def settle(cage: Cage, *start: Any, **more: Any) -> SettledCage:
    if start or more:
        return SETTLE(cage, *start, **more)
    return kept(told_apart(cage), lambda: SETTLE(cage))


def foretold(settled: SettledCage) -> Report:
    return kept(("foretold", told_apart(settled.cage)), lambda: FORETOLD(settled))


def carries(settled: SettledCage) -> Capacity | None:
    return kept(("carries", told_apart(settled.cage)), lambda: CARRIES(settled))


def second_way(settled: SettledCage) -> str:
    return kept(("second way", told_apart(settled.cage)), lambda: SECOND_WAY(settled))


def worked(design: Design, told: Callable[[str], object] = lambda _what: None) -> Signatures:
    return kept(("worked", design.model_dump_json()), lambda: kept_errors(design) or WORKED(design, told))


def keep_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    """From here to the end of the test the commands ask first what is kept."""
    monkeypatch.setattr(cage3d.settle, "settle", settle)
    for module in (flow, backward):
        monkeypatch.setattr(module, "settle", settle)
    monkeypatch.setattr(flow, "foretold", foretold)
    monkeypatch.setattr(backward, "worked", worked)
    monkeypatch.setattr(outlook, "carries", carries)
    monkeypatch.setattr(outlook, "second_way", second_way)
