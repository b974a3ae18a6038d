"""A skirt that slides: ropes over pulleys without friction (statics), and what the cage makes of it."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from rigs import whole_cage

from cage3d.foresee.sliding import pushes_of_ropes, sliding
from cage3d.report import measure, with_sliding
from cage3d.settle import settle
from cage3d.settle.tangent import Tangent
from cage3d.shape.changes import ParameterChanges
from cage3d.shape.lay_out import lay_out

BELOW = 0.2
# The band, and three pulleys that a profile bends over: a dome's.
LINE = np.array([[0.10, 0.0, 1.00], [0.30, 0.02, 0.80], [0.42, 0.0, 0.55], [0.45, -0.03, 0.30]])


def height_energy(line: np.ndarray, weight: float, whole: float) -> float:
    """J of a rope of `whole` m over the places: what is not between them hangs straight down from the last."""
    each, total, used = weight / whole, 0.0, 0.0
    for first, second in pairwise(line):
        span = float(np.linalg.norm(second - first))
        total += each * span * (first[2] + second[2]) / 2.0
        used += span
    left = whole - used
    return total + each * left * (line[-1, 2] - left / 2.0)


def test_pushes_are_the_slopes_of_the_ropes_energy() -> None:
    """A rope that slides gives way where a pulley moves: its energy of height knows nothing of pulls."""
    spans = float(np.linalg.norm(np.diff(LINE, axis=0), axis=1).sum())
    pushes = pushes_of_ropes(LINE[:, None, :], np.array([3.0]), BELOW)[:, 0]
    step = 1e-6
    for place in range(1, len(LINE)):
        for axis in range(3):
            there, back = LINE.copy(), LINE.copy()
            there[place, axis] += step
            back[place, axis] -= step
            slope = (height_energy(there, 3.0, spans + BELOW) - height_energy(back, 3.0, spans + BELOW)) / (
                2 * step
            )
            assert pushes[place, axis] == pytest.approx(-slope, abs=1e-7)


def test_all_of_the_rope_hangs_somewhere() -> None:
    pushes = pushes_of_ropes(LINE[:, None, :], np.array([3.0]), BELOW)[:, 0]
    assert pushes.sum(axis=0) == pytest.approx([0.0, 0.0, -3.0])


def test_a_rope_over_one_pulley_by_hand() -> None:
    """Band at (0, 1), pulley at (0.3, 0.6), 0.2 m below; 0.7 N on 0.7 m. The stretch of 0.5 m has the pull of its
    middle, 0.8 - 0.4 = 0.4 N, towards (0.6, -0.8): the pulley gets (-0.24, 0.32), 0.25 and 0.20 N down."""
    line = np.array([[0.0, 0.0, 1.0], [0.3, 0.0, 0.6]])
    band, pulley = pushes_of_ropes(line[:, None, :], np.array([0.7]), 0.2)[:, 0]
    assert pulley == pytest.approx([-0.24, 0.0, 0.32 - 0.25 - 0.20])
    assert band == pytest.approx([0.24, 0.0, -0.32 - 0.25])


def test_a_straight_drop_hangs_on_the_band_alone() -> None:
    line = np.array([[0.3, 0.0, 1.0], [0.3, 0.0, 0.6]])
    band, pulley = pushes_of_ropes(line[:, None, :], np.array([0.6]), 0.2)[:, 0]
    assert pulley == pytest.approx([0.0, 0.0, 0.0])
    assert band == pytest.approx([0.0, 0.0, -0.6])


@pytest.fixture(name="hung", scope="module")
def settled_cage():
    return settle(lay_out(whole_cage(skirt={"weight": 1.2}), 48))


def test_forces_move_the_cage_as_a_change_of_weight_does(hung) -> None:
    weight = hung.cage.parameters.skirt_weight
    forces = np.zeros((len(weight), 3, 1))
    forces[:, 2, 0] = -weight
    told = Tangent(hung).moves(ParameterChanges(skirt_weight=weight[:, None]))
    assert Tangent(hung).moves_under(forces) == pytest.approx(told, abs=1e-9)


def test_hoops_and_band_share_the_skirt(hung) -> None:
    found = sliding(hung)
    assert found is not None
    assert found.on_hoops.sum() + found.on_band == pytest.approx(1.2 * 9.81)
    assert found.on_band > 0.3 * 1.2 * 9.81, "what slides hangs on the waist"


def test_the_report_tells_it(hung) -> None:
    """Eight tapes alike under an even skirt: the hem goes down or up the same all round, and stays round."""
    told = with_sliding(measure(hung), hung).sliding
    assert told is not None
    assert told.hem_front_m == pytest.approx(told.hem_back_m, abs=1e-6)
    assert told.wide_m == pytest.approx(told.deep_m, abs=1e-6)
    assert told.band_kg * 9.81 == pytest.approx(sliding(hung).on_band)


def test_a_bare_cage_has_nothing_to_slide() -> None:
    bare = settle(lay_out(whole_cage(), 32))
    assert sliding(bare) is None
    assert with_sliding(measure(bare), bare).sliding is None
