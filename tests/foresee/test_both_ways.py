"""Which of the two ways of a skirt is settled anew, and when there is no answer, put in by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest

from cage3d.foresee import sliding
from cage3d.foresee.sliding import both_ways
from cage3d.settle import SettledCage

LIES, FREE, DRAGS = (False, 0.3), (True, 0.0), (True, 0.3)


def hung(
    *skirts: tuple[bool, float], trusted: bool = True, hangs: bool = True, beside: str | None = None
) -> SettledCage:
    """A cage of one hoop, round her or beside her, whose skirts slide or not, with this friction."""
    hoops = (SimpleNamespace(beside=beside),)
    own = tuple(SimpleNamespace(slides=slides, friction=friction) for slides, friction in skirts)
    cage = SimpleNamespace(
        design=SimpleNamespace(skirts=own, hoops=hoops), parameters=SimpleNamespace(skirt_hangs=hangs)
    )
    return cast(SettledCage, SimpleNamespace(cage=cage, trusted=trusted))


@pytest.mark.parametrize(
    ("skirts", "lies", "slides"),
    [
        ([LIES], "as it hangs", "slides"),
        ([LIES, LIES], "as it hangs", "slides"),
        ([FREE], "lies", "as it hangs"),
        ([FREE, FREE], "lies", "as it hangs"),
        ([DRAGS], "lies", "slides"),
        ([FREE, DRAGS], "lies", "slides"),
        ([FREE, LIES], "lies", "slides"),
    ],
)
def test_only_what_is_not_written_is_settled_anew(monkeypatch, skirts, lies, slides) -> None:
    """Cloth that slides with friction is neither of the two."""
    settled = hung(*skirts)
    others: dict[bool, Any] = {way: SimpleNamespace(trusted=True) for way in (False, True)}
    monkeypatch.setattr(sliding, "taken", lambda _settled, slides: others[slides])
    told = {"as it hangs": settled, "lies": others[False], "slides": others[True]}
    found = both_ways(settled)
    assert found is not None
    assert found.lies is told[lies]
    assert found.slides is told[slides]


def test_without_a_rest_either_way_or_a_skirt_there_is_no_answer(monkeypatch) -> None:
    for way in (False, True):
        monkeypatch.setattr(
            sliding, "taken", lambda _settled, slides, bad=way: SimpleNamespace(trusted=slides is not bad)
        )
        assert both_ways(hung(DRAGS)) is None
    monkeypatch.setattr(sliding, "taken", lambda _settled, slides: SimpleNamespace(trusted=True))  # noqa: ARG005
    assert both_ways(hung(LIES)) is not None
    assert both_ways(hung(LIES, trusted=False)) is None
    assert both_ways(hung(LIES, hangs=False)) is None
    assert both_ways(hung(LIES, beside="left")) is None, "how cloth slides is worked out round her alone"
