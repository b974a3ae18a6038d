"""Skirts that slide, as lines of cloth over rings of eight nodes: where they run, what they weigh, what they touch."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hand.cage import GRAVITY, PLAIN, RING, changed

from cage3d.design.models import Hoop, Skirt
from cage3d.design.read import read_data
from cage3d.shape.cage import Cage
from cage3d.shape.cloth import hangs_inside, outermost
from cage3d.shape.cloth_lines import cloth_places, heaviness, on_hoop, shares_of_lines
from cage3d.shape.lay_out import lay_out
from cage3d.shape.lines import closed_line, open_line
from cage3d.shape.skirts import skirt_mass

ON, BETWEEN = np.arange(4) / 4, (np.arange(4) + 0.5) / 4
OPEN = open_line(Hoop(length=0.9, opening="front", overhang=0.0), BETWEEN, 8)
EIGHTHS = np.arange(8) / 8
# Hoops of 1, 1.2 and 0.8 m, tapes of 200, 100 and 150 mm.
THREE: dict[str, Any] = {
    "hoops": [RING, RING | {"length": 1200}, RING | {"length": 800}],
    "tapes": {"drops": [200, 100, 150]},
}


def sliding(*skirts: dict[str, Any], **more: Any) -> Cage:
    written = [skirt | {"slides": True} for skirt in skirts]
    return lay_out(read_data(changed(changed(PLAIN, THREE | {"skirt": written}), more)), 8)


def test_lines_run_at_the_nodes_of_a_ring_and_over_an_opening() -> None:
    """Of open hoops alone: the opening of a quarter is divided as the steel is, so one line hangs in its middle."""
    uneven = closed_line(2.0, np.array([0.1, 0.3, 0.6, 0.9]), 10)
    assert cloth_places((OPEN, uneven)) == pytest.approx(np.arange(10) / 10)
    assert cloth_places((OPEN,)) == pytest.approx(EIGHTHS)


def test_what_each_line_bears() -> None:
    """An eighth of an even skirt; of one that lies unevenly what lies half way to its neighbours, as on a ring."""
    assert shares_of_lines(Skirt(weight=1.0), EIGHTHS, ON) == pytest.approx([0.125] * 8)
    lies = Skirt.model_validate({"weight": 1, "lies": {"front": 0.2, "sides": 0.4, "back": 0.4}})
    assert shares_of_lines(lies, EIGHTHS, ON) == pytest.approx([0.1, 0.1, 0.1, 0.15, 0.2, 0.15, 0.1, 0.1])


def test_where_a_line_crosses_a_hoop() -> None:
    """At a node, half way to the next, and half way from the last to the first; over an opening straight across."""
    joined = sliding({"weight": "1 kg"}).connectivity
    nodes, shares = on_hoop(joined, 1, np.array([0.25, 0.0625, 0.9375, 0.15625]))
    assert nodes.tolist() == [[10, 11], [8, 9], [15, 8], [9, 10]]
    assert shares == pytest.approx(np.array([[1, 0], [0.5, 0.5], [0.5, 0.5], [0.75, 0.25]]))
    gap = {
        "hoops": [{"length": 1000, "opening": "front", "overhang": 0}],
        "tapes": {"stations": "between", "drops": [200]},
    }
    nodes, shares = on_hoop(
        sliding({"weight": "1 kg"}, **gap).connectivity, 0, np.array([0.0, 0.1875, 0.125])
    )
    assert nodes.tolist() == [[6, 0], [0, 1], [0, 1]]
    assert shares == pytest.approx(np.array([[0.5, 0.5], [0.5, 0.5], [1, 0]]))


def test_cloth_is_as_heavy_as_it_is_wide() -> None:
    """1.2, 2 and 2.4 m wide at 0, 200 and 300 mm, and 2.4 for 100 more: half of 1.6, a quarter of 2.2 and of 2.4."""
    along = heaviness(np.array([0.0, 0.2, 0.3]), np.array([1.2, 2.0, 2.4]), 0.1)
    assert along(np.array([0.0, 0.25, 0.5, 0.625, 0.9])) == pytest.approx(
        np.array([1.2, 1.6, 2.0, 2.2, 2.4]) / 1.95
    )
    assert float(along.integrate(0.0, 1.0)) == pytest.approx(1.0)
    short = heaviness(np.array([0.0, 0.2]), np.array([1.0, 3.0]), 0.0)
    assert short(np.array([0.0, 1.0])) == pytest.approx([0.5, 1.5])


def test_a_cloth_weighs_all_its_area() -> None:
    """1.6 x 0.2 + 2.2 x 0.1 + 2.4 x 0.05 m2 of two layers of 100 g/m2, half of it on the cage."""
    cloth = Skirt.model_validate({"cloth": 0.1, "layers": 2, "on_cage": 0.5, "below_hem": 0.05})
    assert skirt_mass(cloth, np.array([1.0, 1.2]), np.array([0.2, 0.1]), 0.6) == pytest.approx(
        0.1 * (0.32 + 0.22 + 0.12)
    )
    weight = Skirt(weight=3.0, on_cage=0.5)
    assert skirt_mass(weight, np.array([1.0]), np.array([0.2]), 0.6) == pytest.approx(1.5)


def test_lines_of_two_skirts() -> None:
    """The first over all hoops, as long as its tapes (250 in front, else 200, then 100 and 150 mm) and 50 more, the
    second over the upper two. Each begins on the band's lower edge."""
    drops = [[250, 100, 150], [200, 100, 150], [200, 100, 150], [200, 100, 150]]
    cage = sliding(
        {"weight": "1 kg", "below_hem": 50},
        {"weight": "2 kg", "hoops": [1, 2], "friction": 0.1},
        tapes={"drops": drops},
    )
    first, second = cage.cloths
    assert (first.rows, second.rows) == (slice(0, 8), slice(8, 16))
    assert (first.friction, second.friction) == (0.3, 0.1)
    assert cage.parameters.cloth_weight == pytest.approx([GRAVITY / 8] * 8 + [2 * GRAVITY / 8] * 8)
    beside = [0.05, 0.025, 0, 0, 0, 0, 0, 0.025]
    assert cage.parameters.cloth_length == pytest.approx(
        [*(0.5 + np.array(beside)), *(0.3 + np.array(beside))]
    )
    assert first.nodes[:, :, 0].tolist() == [[node, 8 + node, 16 + node] for node in range(8)]
    assert second.nodes[:, :, 0].tolist() == [[node, 8 + node] for node in range(8)]
    assert first.shares[:, :, 0] == pytest.approx(np.ones((8, 3)))
    assert first.tops[[0, 2]] == pytest.approx(
        0.6 / (2 * np.pi) * np.array([[0, -1, 0], [1, 0, 0]]) + [0, 0, 0.990], abs=1e-7
    )
    assert cage.parameters.skirt_weight.tolist() == [0.0] * 28


@pytest.mark.parametrize(
    ("out", "heights", "touched"),
    [
        # Straight out from 100 mm; a hoop that hangs straight under the band; one 3 mm inside of a line at 45 degrees.
        ([0.1, 0.2, 0.3, 0.4], [1.0, 0.9, 0.8, 0.7], [True, True, True]),
        ([0.1, 0.1, 0.3], [1.0, 0.9, 0.8], [False, True]),
        ([0.1, 0.1959, 0.3], [1.0, 0.9, 0.8], [True, True]),
        ([0.1, 0.1956, 0.3], [1.0, 0.9, 0.8], [False, True]),
        # Drawn in below: what hangs from the hoop above falls outside of it.
        ([0.1, 0.3, 0.25], [1.0, 0.8, 0.6], [True, False]),
        ([0.1, 0.3, 0.298], [1.0, 0.8, 0.6], [True, True]),
        # Two in a row inside of the line to the third.
        ([0.1, 0.12, 0.14, 0.4], [1.0, 0.9, 0.8, 0.7], [False, False, True]),
        ([0.1, 0.25, 0.24, 0.4], [1.0, 0.9, 0.8, 0.7], [True, False, True]),
    ],
)
def test_hoops_that_a_line_touches(out: list[float], heights: list[float], touched: list[bool]) -> None:
    assert outermost(np.array(out), np.array(heights)).tolist() == touched


def test_inside_of_a_slope() -> None:
    """3 in 4: a place 100 mm along and 5 mm inside of it."""
    out, heights = np.array([0.0, 0.060 - 0.004, 0.120]), np.array([1.0, 0.920 - 0.003, 0.840])
    assert hangs_inside(out, heights, 0, 1, 2)
    assert not hangs_inside(out + np.array([0.0, 0.003, 0.0]), heights, 0, 1, 2)


def test_cloth_laid_over_hoops_that_have_moved() -> None:
    """The lower two on circles of 300 and 200 mm, 100 mm below each other: cloth passes from the middle one outside of
    the lowest; drawn in to 100 mm at its front, the middle one is passed there."""
    cage = sliding({"weight": "1 kg"})
    turn = np.arange(8) * np.pi / 4
    circle = np.column_stack([np.sin(turn), -np.cos(turn), np.zeros(8)])
    positions = np.vstack([
        circle * 0.2 + [0, 0, 0.9], circle * 0.3 + [0, 0, 0.8], circle * 0.2 + [0, 0, 0.7], cage.positions[24:],
    ])  # fmt: skip
    (cloth,) = cage.cloths
    assert cloth.laid_over(positions).over.tolist() == [[True, True, False]] * 8
    positions[8] *= [1 / 3, 1 / 3, 1.0]
    laid = cloth.laid_over(positions)
    assert laid.over.tolist() == [[True, False, True], *[[True, True, False]] * 7]
    nodes, shares = laid.touched
    # The last that is touched stands for those that are not.
    assert nodes[0, :, 0].tolist() == [0, 16, 16]
    assert nodes[1, :, 0].tolist() == [1, 9, 9]
    assert shares[0] == pytest.approx(np.array([[1, 0]] * 3))
