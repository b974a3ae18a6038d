"""The table of stock against figures worked out by hand."""

from __future__ import annotations

import pytest

from cage3d.design import stock
from cage3d.units import INCH, UnitError


def test_strips_run_from_the_lightest() -> None:
    assert stock.STRIPS[0] == stock.Strip(0.005, 0.0004)
    assert len(set(stock.STRIPS)) == len(stock.STRIPS) == 28


def test_a_doubled_inch_tape() -> None:
    assert stock.tape_weight(INCH) == pytest.approx(0.0142, abs=1e-4)
    assert stock.tape_weight(INCH, doubled=False) == pytest.approx(stock.tape_weight(INCH) / 2)


def test_a_tube_is_its_wall() -> None:
    """A wide thin tube is two flat walls: 2 x length x width x wall x density."""
    assert stock.tube_mass(0.03, 1.0, 0.0) == pytest.approx(2 * 0.03 * 1.0 * 0.0004 * 8000, rel=0.001)


def test_cloths() -> None:
    assert stock.cloth_weight(0.12) == 0.12
    assert stock.cloth_weight(" Silk  Taffeta") == 0.095
    with pytest.raises(UnitError) as caught:
        stock.cloth_weight("velvett")
    assert "Did you mean velvet" in caught.value.try_this
