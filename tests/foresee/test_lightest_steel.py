"""The lightest strip that carries enough: in which order strips are tried, and when a cage holds."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from rigs import STRIP_10, ring_on_tapes
from two_hoops import two_hoops

from cage3d.design import stock
from cage3d.foresee import capacity as capacity_module
from cage3d.foresee.capacity import (
    Capacity,
    holds,
    lightest_steel,
    with_steel,
)

SIZES = [(0.012, 0.0005), (0.006, 0.0010), (0.005, 0.0004), (0.010, 0.0005)]  # 6, 6, 2 and 5 mm2


@pytest.mark.parametrize(
    ("least", "chosen"), [(1.0, (0.005, 0.0004)), (4.0, (0.010, 0.0005)), (6.0, (0.006, 0.0010)), (7.0, None)]
)
def test_strips_are_tried_from_the_lightest_and_of_equal_ones_the_narrower_first(
    monkeypatch, least, chosen
) -> None:
    """A cage that holds with so many mm2 of steel or more. 2.5 m of two hoops."""
    monkeypatch.setattr(stock, "STRIPS", [stock.Strip(*size) for size in SIZES])
    asked = []

    def holds_with(design, wanted):
        asked.append(design.steel.width * design.steel.thickness)
        assert wanted == 3.0
        return design.steel.width * design.steel.thickness >= least * 1e-6 - 1e-12

    monkeypatch.setattr(capacity_module, "holds", holds_with)
    found = lightest_steel(two_hoops(skirt={"weight": 0.5}, steel={"density": 8000}), 3.0)
    assert asked == sorted(asked)
    if chosen is None:
        assert found is None
        assert len(asked) == 4
        return
    assert found is not None
    assert (found.width, found.thickness, found.factor) == (*chosen, 3.0)
    assert found.mass == pytest.approx(2.5 * chosen[0] * chosen[1] * 8000)


def test_without_a_skirt_no_steel_is_looked_for(monkeypatch) -> None:
    monkeypatch.setattr(capacity_module, "holds", lambda *_: True)
    assert lightest_steel(two_hoops(), 1.0) is None


def test_another_strip_is_bare_and_single_and_in_every_hoop() -> None:
    design = with_steel(two_hoops((0.0005, 0.0007), steel={"coating": 0.006, "strands": 2}), 0.008, 0.0004)
    for hoop in (0, 1):
        steel = design.steel_of(hoop)
        assert (steel.width, steel.thickness, steel.strands, steel.coating) == (0.008, 0.0004, 1, 0.0)


@pytest.mark.parametrize(
    ("trusted", "factor", "wanted", "said"),
    [(False, 9.0, 3.0, False), (True, None, 3.0, False), (True, 2.99, 3.0, False), (True, 3.0, 3.0, True)],
)
def test_a_cage_holds_what_it_carries(monkeypatch, trusted, factor, wanted, said) -> None:
    monkeypatch.setattr(capacity_module, "settle", lambda _cage: SimpleNamespace(trusted=trusted))
    told = None if factor is None else Capacity(factor, True, 0, "snaps")
    monkeypatch.setattr(capacity_module, "carries", lambda _settled: told)
    assert holds(ring_on_tapes(1.0, 4, STRIP_10), wanted) is said
