"""A skirt taken the other way: which hoops its cloth touches, and what the report tells of it."""

from __future__ import annotations

import numpy as np
import pytest
from rigs import whole_cage

from cage3d.foresee.sliding import both_ways
from cage3d.report import measure, with_certainty
from cage3d.settle import settle
from cage3d.settle.tangent import Tangent
from cage3d.shape.changes import ParameterChanges
from cage3d.shape.cloth import outermost
from cage3d.shape.lay_out import lay_out


@pytest.fixture(name="hung", scope="module")
def settled_cage():
    return settle(lay_out(whole_cage(skirt={"weight": 1.2}), 48))


@pytest.mark.parametrize(
    ("out", "touched"),
    [
        ([0.1, 0.3, 0.42, 0.45], [True, True, True]),  # a dome
        ([0.1, 0.2, 0.42, 0.45], [False, True, True]),  # the first hoop under the straight way past it
        (
            [0.1, 0.3, 0.42, 0.30],
            [True, True, False],
        ),  # a lantern: what hangs from the third is clear of the fourth
        ([0.1, 0.2666, 0.42, 0.45], [True, True, True]),  # 1 mm under that way, which nobody sees
    ],
)
def test_cloth_touches_what_lies_outermost(out: list[float], touched: list[bool]) -> None:
    assert outermost(np.array(out), np.array([1.0, 0.78, 0.55, 0.3])).tolist() == touched


def test_forces_move_the_cage_as_a_change_of_weight_does(hung) -> None:
    weight = hung.cage.parameters.skirt_weight
    forces = np.zeros((len(weight), 3, 1))
    forces[:, 2, 0] = -weight
    told = Tangent(hung).moves(ParameterChanges(skirt_weight=weight[:, None]))
    assert Tangent(hung).moves_under(forces) == pytest.approx(told, abs=1e-9)


def test_the_report_tells_it(hung) -> None:
    """Eight tapes alike under an even skirt: the hem goes down or up the same all round, and stays round."""
    told = with_certainty(measure(hung), hung).sliding
    found = both_ways(hung)
    assert told is not None
    assert found is not None
    assert told.hem_front_m == pytest.approx(told.hem_back_m, abs=1e-6)
    assert told.wide_m == pytest.approx(told.deep_m, abs=1e-6)
    assert told.band_kg * 9.81 == pytest.approx(-found.slides.state.cloth_on_band[2])
    last = hung.cage.connectivity.crossing[-1, 0]
    rise = found.slides.positions[last, 2] - hung.positions[last, 2]
    assert told.hoops[-1].height_front_m == pytest.approx(rise, abs=2e-4)


def test_a_bare_cage_has_nothing_to_slide() -> None:
    bare = settle(lay_out(whole_cage(), 32))
    assert both_ways(bare) is None
    assert with_certainty(measure(bare), bare).sliding is None
