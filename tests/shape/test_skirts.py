"""Skirts that lie unevenly, hang from chosen hoops, or are several: by hand on rings of 1 m and 1.2 m.

Waist 600 mm round, four tapes at centre front, left, back and right; drops of 200 and 100 mm.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hand.cage import GRAVITY, PLAIN, changed, laid_out, skirt, two_hoops

from cage3d.design.models import Hoop, Skirt
from cage3d.design.read import read_data
from cage3d.report import measure
from cage3d.settle import settle
from cage3d.shape.cage import Cage
from cage3d.shape.lay_out import lay_out
from cage3d.shape.lines import closed_line, open_line
from cage3d.shape.skirts import cloth_widths, heaped, hoop_masses, laid_between, shares_of_cells


def with_skirt(*written: dict[str, Any], **more: Any) -> Cage:
    return laid_out(two_hoops() | more | {"skirt": written[0] if len(written) == 1 else list(written)})


def about(cage: Cage, hoop: int, tapes: list[int]) -> float:
    """kg of skirt within an eighth of the girth of these tapes, nodes half way counted half."""
    nodes = cage.connectivity.hoop_nodes[hoop]
    kilos = cage.parameters.skirt_weight[nodes] / GRAVITY
    fractions = cage.connectivity.node_fraction[nodes]
    away = np.abs(np.mod(fractions[:, None] - np.array(tapes) / 4.0 + 0.5, 1.0) - 0.5).min(axis=1)
    return float(kilos @ np.where(away < 0.124, 1.0, np.where(away < 0.126, 0.5, 0.0)))


def test_sides_get_their_shares() -> None:
    """12 kg hang by area: bands of 0.8 x 0.2 = 0.16 m2 and 1.1 x 0.1 = 0.11 m2, halves 0.135 and 0.055: 8.526 and
    3.474 kg. A quarter is four cells of a sixteenth: three whole ones, and the halves of two that are shared."""
    lies = {"front": "10 %", "sides": "40 %", "back": "50 %"}
    cage = with_skirt({"weight": "12 kg", "lies": lies})
    assert skirt(cage) == pytest.approx([12 * 0.135 / 0.19, 12 * 0.055 / 0.19])
    whole = skirt(cage)[0]
    assert about(cage, 0, [0]) == pytest.approx(whole * (0.1 * 3 / 4 + (0.1 + 0.2) / 2 / 4))
    assert about(cage, 0, [2]) == pytest.approx(whole * (0.5 * 3 / 4 + (0.5 + 0.2) / 2 / 4))
    assert about(cage, 0, [1]) == pytest.approx(about(cage, 0, [3]))


def test_even_shares_are_an_even_skirt() -> None:
    even = with_skirt({"weight": "2 kg"}).parameters.skirt_weight
    for lies in ({"front": "25 %", "sides": "50 %", "back": "25 %"}, ["25 %"] * 4):
        assert with_skirt({"weight": "2 kg", "lies": lies}).parameters.skirt_weight == pytest.approx(even)


def test_a_share_for_each_tape_lies_half_way_to_its_neighbours() -> None:
    """Tapes at 10, 40, 60 and 90 %: the first's stretch goes from 0 to 25 %, the last's from 75 to 100 %."""
    cage = laid_out(
        {
            "tapes": {"stations": [0.1, 0.4, 0.6, 0.9]},
            "skirt": {"weight": "1 kg", "lies": ["10 %", "20 %", "30 %", "40 %"]},
        }
    )
    nodes = cage.connectivity.hoop_nodes[0]
    kilos = cage.parameters.skirt_weight[nodes] / GRAVITY
    fractions = np.mod(cage.connectivity.node_fraction[nodes], 1.0)
    middle = {
        place: float(kilos[np.argmin(np.abs(fractions - place))]) for place in (0.1, 0.4, 0.6, 0.9)
    }  # each node's cell lies within its tape's quarter
    widths = {place: cell(fractions, place) for place in middle}
    for place, share in zip(middle, (0.1, 0.2, 0.3, 0.4), strict=True):
        assert middle[place] == pytest.approx(share * widths[place] / 0.25)
    assert kilos.sum() == pytest.approx(1.0)


def cell(fractions: np.ndarray, place: float) -> float:
    """Share of the girth half way to both neighbours."""
    around = np.sort(np.concatenate([fractions - 1.0, fractions, fractions + 1.0]))
    at = int(np.argmin(np.abs(around - place)))
    return float(around[at + 1] - around[at - 1]) / 2.0


def test_chosen_hoops_bear_it_alone() -> None:
    assert skirt(with_skirt({"weight": "2 kg", "hoops": [2]})) == pytest.approx([0.0, 2.0])


def test_a_cloth_from_the_waist_to_the_lower_hoop() -> None:
    """One band of (0.6 + 1.2) / 2 x 0.3 = 0.27 m2, half on the hoop, and 1.2 x 0.05 m2 below; 100 g/m2 twice."""
    written = {"cloth": "100 g/m2", "fullness": 2, "below_hem": 50, "hoops": [2]}
    assert skirt(with_skirt(written)) == pytest.approx([0.0, 0.2 * (0.135 + 0.06)])


def test_a_gathered_cloth_weighs_its_hem_width_by_its_length() -> None:
    """2 x 1.2 m of cloth, 0.3 m down the tapes and 0.05 m below: 0.84 m2. The band bears half of the first
    stretch, which is 0.3 m here, and the hoop the rest: 0.84 less 2.4 x 0.15 m2.
    """
    written = {"cloth": "100 g/m2", "cut": "gathered", "fullness": 2, "below_hem": 50, "hoops": [2]}
    assert skirt(with_skirt(written)) == pytest.approx([0.0, 0.1 * (0.84 - 0.36)])


def test_several_add_up() -> None:
    """A petticoat of 1 kg on the upper hoop and an overskirt of 2 kg on the lower one."""
    cage = with_skirt({"weight": "1 kg", "hoops": [1]}, {"weight": "2 kg", "hoops": [2]})
    assert skirt(cage) == pytest.approx([1.0, 2.0])
    assert measure(settle(cage)).skirt_kg == pytest.approx(3.0)


def test_a_train_tips_a_stiff_ring_as_the_lever_says() -> None:
    """A ring too stiff to bend on four upright tapes of 0.2 m, 1 kg of skirt: the quarter about the back holds
    half of it. Moments about the left-right axis: front and back tapes pull as the weight lies, so that the
    back tape less the front one bears the first moment over the radius.

    First moment over the radius of a quarter arc: its share times sin(45)/(pi/4) = 0.9003; front 0.1, back 0.5.
    """
    stiff = {"modulus": "20000 GPa", "thickness": 3, "density": 100}
    written = {
        "wearer": {"waist": 1000, "waist_breadth": 318, "waist_depth": 318},
        "steel": stiff,
        "skirt": {"weight": "1 kg", "lies": {"front": "10 %", "sides": "40 %", "back": "50 %"}},
    }
    cage = lay_out(read_data(changed(PLAIN, written)), 96)
    front, _, back, _ = settle(cage).state.pull_force[:4]
    lever = (0.5 - 0.1) * np.sin(np.pi / 4) / (np.pi / 4)
    assert back - front == pytest.approx(lever * GRAVITY, rel=2e-3)


def test_shares_of_tapes_that_stand_unevenly() -> None:
    """Tapes at 0.2, 0.3, 0.6 and 0.9 of the girth part it at 0.25, 0.45, 0.75 and 0.05: the last one's tenth lies from
    0.75 to 1.05, five sixths of it before centre front."""
    skirt = Skirt(weight=1.0, lies=(0.4, 0.3, 0.2, 0.1))
    heap = heaped(skirt, np.array([0.2, 0.3, 0.6, 0.9]))
    assert heap is not None
    assert heap[0] == pytest.approx([0.0, 0.05, 0.25, 0.45, 0.75, 1.0])
    assert heap[1] == pytest.approx([0.1 / 6, 0.4, 0.3, 0.2, 0.5 / 6])


def test_cells_of_an_open_hoop_end_where_it_ends() -> None:
    """Seven nodes from an eighth of the girth to seven eighths. A side quarter is two cells, and so is the one behind;
    the first node has half a cell, the third half of either quarter."""
    line = open_line(
        Hoop(length=0.9, opening="front", overhang=0.0), np.array([0.125, 0.375, 0.625, 0.875]), 8
    )
    heap = heaped(
        Skirt.model_validate({"weight": 1, "lies": {"front": 0.2, "sides": 0.4, "back": 0.4}}), np.zeros(4)
    )
    assert heap is not None
    shares = shares_of_cells(line, *heap)
    assert shares == pytest.approx([0.05, 0.1, 0.15, 0.2, 0.15, 0.1, 0.05])


def test_cells_of_a_ring_reach_half_way_to_their_neighbours() -> None:
    """Eight nodes: the one in front lies in the front quarter alone, its neighbours half in it and half at the side."""
    heap = heaped(
        Skirt.model_validate({"weight": 1, "lies": {"front": 0.2, "sides": 0.4, "back": 0.4}}), np.zeros(4)
    )
    assert heap is not None
    shares = shares_of_cells(closed_line(1.0, np.arange(4) / 4, 8), *heap)
    assert shares == pytest.approx([0.1, 0.1, 0.1, 0.15, 0.2, 0.15, 0.1, 0.1])


GIRTHS, DEPTHS = np.array([0.6, 1.0, 1.2]), np.array([0.0, 0.2, 0.3])


@pytest.mark.parametrize(
    ("cut", "fullness", "widths"),
    [
        ("gored", 2, [1.2, 2.0, 2.4]),
        ("gathered", 2, [2.4, 2.4, 2.4]),
        # From once the waist to twice the hem: 5/3 of the girth, or of the way, at two thirds down.
        ("gored", {"top": 1, "hem": 2}, [0.6, 5 / 3, 2.4]),
        ("gathered", {"top": 1, "hem": 2}, [0.6, 1.8, 2.4]),
    ],
)
def test_widths_of_cloth(cut: str, fullness: Any, widths: list[float]) -> None:
    skirt = Skirt.model_validate({"cloth": 0.1, "cut": cut, "fullness": fullness})
    assert cloth_widths(skirt, GIRTHS, DEPTHS) == pytest.approx(widths)


@pytest.mark.parametrize(
    ("written", "masses"),
    [
        # Bands of 1.6 x 0.2 and 2.2 x 0.1 m2; the upper hoop has half of both, the lower half of one and 2.4 x 0.05.
        ({"cloth": 0.1, "layers": 2, "on_cage": 0.5, "below_hem": 0.05}, [0.1 * 0.27, 0.1 * 0.23]),
        ({"weight": 3, "on_cage": 0.5, "below_hem": 0.05}, [1.5 * 0.27 / 0.5, 1.5 * 0.23 / 0.5]),
        # One band of 1.8 x 0.3 m2 from the waist to the lower hoop.
        ({"cloth": 0.1, "hoops": [2], "below_hem": 0.05}, [0.0, 0.1 * (0.27 + 0.12)]),
        ({"cloth": 0.1, "hoops": [1]}, [0.1 * 0.16, 0.0]),
    ],
)
def test_masses_on_hoops(written: dict[str, Any], masses: list[float]) -> None:
    found = hoop_masses(Skirt.model_validate(written), GIRTHS[1:], np.array([0.2, 0.1]), 0.6)
    assert found == pytest.approx(masses)


def test_what_lies_between_shares_of_the_girth() -> None:
    """Three, one and two to places at a quarter, a half and the whole; what goes round twice meets the first again."""
    places, weights = np.array([0.0, 0.25, 0.5, 1.0]), np.array([3.0, 1.0, 2.0])
    edges = np.array([-0.25, 0.125, 0.5, 1.25])
    assert laid_between(edges, places, weights) == pytest.approx([1.0 + 1.5, 1.5 + 1.0, 2.0 + 3.0])
