"""What the draper gets of a cloth over two baskets, by hand: belts round wheels, quarters, ways down."""

from __future__ import annotations

from math import asin, sqrt
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest
from two_baskets import hung

from cage3d.design.models import Design
from cage3d.settle import SettledCage
from cage3d.sheets import draper_beside
from cage3d.sheets.draper import length_of
from cage3d.sheets.draper_beside import draping_beside, ended_above, quarters_of, taut_round, within


def circle(middle: float, radius: float, height: float = 0.5) -> np.ndarray:
    turn = np.linspace(0.0, 2.0 * np.pi, 2001)
    return np.column_stack(
        [middle + radius * np.cos(turn), radius * np.sin(turn), np.full(len(turn), height)]
    )


def test_cloth_goes_round_both_baskets_as_a_belt_round_two_wheels(monkeypatch: pytest.MonkeyPatch) -> None:
    """Wheels of radius 0.1 m, 0.6 m from middle to middle: 2 pi 0.1 + 2 x 0.6 m; a quarter is a quarter of that."""
    curves = [type("Curve", (), {"points": circle(x, 0.1)}) for x in (0.3, -0.3)]
    monkeypatch.setattr(draper_beside, "hoop_curve", lambda _, hoop: curves[hoop])
    monkeypatch.setattr(draper_beside, "her_ring", lambda *_: circle(0.0, 0.05))
    loop = taut_round(None, (0, 1))  # type: ignore[arg-type]
    belt = 2.0 * np.pi * 0.1 + 1.2
    assert length_of(loop) == pytest.approx(belt, abs=1e-5)
    assert quarters_of(loop) == pytest.approx([belt / 4.0] * 4, abs=1e-5)
    monkeypatch.setattr(draper_beside, "her_ring", lambda *_: circle(0.0, 0.1))
    alone = taut_round(None, (0,))  # type: ignore[arg-type]
    assert length_of(alone) == pytest.approx(2.0 * np.pi * 0.1 + 0.6, abs=1e-5)


def test_below_a_basket_that_has_ended_cloth_hangs_straight_down_from_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Wheels of 0.2 m at 0.35 m to either side: 2 pi 0.2 + 4 * 0.35. Below, one of 0.3 m at her left alone: at her
    right the cloth hangs straight down from the smaller one, and the belt over unlike wheels, d = 0.7 m apart, is
    2 sqrt(d^2 - 0.1^2) + pi (0.3 + 0.2) + 2 * 0.1 asin(0.1 / d). A hoop that goes round her below them is met alone.
    """
    lines = [circle(0.35, 0.2, 0.8), circle(-0.35, 0.2, 0.8), circle(0.35, 0.3, 0.5), circle(0.0, 0.4, 0.2)]
    monkeypatch.setattr(draper_beside, "hoop_curve", lambda _, hoop: SimpleNamespace(points=lines[hoop]))
    monkeypatch.setattr(draper_beside, "her_ring", lambda _, level: circle(0.0, 0.15, level))
    hoops = [SimpleNamespace(beside=side) for side in ("left", "right", "left", None)]
    design, levels = cast(Design, SimpleNamespace(hoops=hoops)), [(0, 1), (2,), (3,)]
    ended = [ended_above(design, levels[:number]) for number in (1, 2, 3)]
    assert ended == [[], [1], []]
    settled = cast(SettledCage, None)
    upper, lower, lowest = (
        taut_round(settled, hoops, above) for hoops, above in zip(levels, ended, strict=True)
    )
    assert length_of(upper) == pytest.approx(0.4 * np.pi + 1.4, abs=1e-4)
    belt = 2 * sqrt(0.7**2 - 0.1**2) + 0.5 * np.pi + 0.2 * asin(0.1 / 0.7)
    assert length_of(lower) == pytest.approx(belt, abs=1e-4)
    assert set(lower[:, 2]) == {0.5}
    assert length_of(lowest) == pytest.approx(0.8 * np.pi, abs=1e-4)


def test_quarters_of_a_cloth_that_is_not_alike_all_round() -> None:
    """From 0.1 m at her right to 0.3 m at her left, from 0.2 m before her to 0.4 m behind, begun at any corner."""
    corners = np.array([[0.3, -0.2, 0.5], [0.3, 0.4, 0.5], [-0.1, 0.4, 0.5], [-0.1, -0.2, 0.5]])
    for first in range(4):
        turned = np.roll(corners, first, axis=0)
        loop = np.vstack([turned, turned[:1]])
        assert quarters_of(loop) == pytest.approx([0.5, 0.7, 0.5, 0.3])
        assert within(loop, np.array([0.25, 0.1, 0.5])) == pytest.approx(0.05)


def test_a_tape_under_the_cloth_is_told_with_its_way_to_its_own_basket_s_hem() -> None:
    settled, report = hung("left")
    falls = {row.place: row.to_hem for row in draping_beside(settled, report).falls}
    assert {"front", "her left", "back", "her right", "tape 2 L", "tape 7 R"} <= set(falls)
    # Half the band of 25 mm, then tapes of 250 and 100 mm; a taut cloth takes the straight over hoop 1, which lies in.
    assert 0.345 < falls["tape 2 L"] < 0.3625
