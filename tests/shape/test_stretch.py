"""Tapes that stretch, by Hooke's law: a rigid ring on upright tapes."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hand.cage import GRAVITY, PLAIN, changed

from cage3d.design.read import read_data
from cage3d.report import measure
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

STRETCH = {"by": "2 %", "at": "1 kg"}
# Next to no weight of its own and too stiff to bend, under a waistband of its own size.
RIGID = {
    "wearer": {"waist": 1000, "waist_breadth": 318, "waist_depth": 318},
    "steel": {"modulus": "20000 GPa", "thickness": 3, "density": 100},
}


def hung(**written: Any) -> SettledCage:
    settled = settle(lay_out(read_data(changed(PLAIN, RIGID | written)), 96))
    assert settled.trusted
    return settled


def test_each_tape_grows_by_what_it_bears() -> None:
    """2 kg on four tapes of 200 mm and the ring's own 3 g: 0.5 kg each stretch them by 1 %, 2 mm."""
    settled = hung(tapes={"stretch": STRETCH}, skirt={"weight": "2 kg"})
    each = float(settled.state.pull_force[:4].mean()) / GRAVITY
    assert each == pytest.approx((2.0 + 100 * 0.010 * 0.003) / 4)
    assert settled.pull_spans[:4] == pytest.approx(0.2 * (1 + 0.02 * each), abs=1e-7)
    assert measure(settled).tapes[0].segments[0].stretched_m == pytest.approx(0.2 * 0.02 * each, abs=1e-7)


def test_four_tapes_share_a_train_as_a_plane_does() -> None:
    """A rigid ring on springs stays a plane: front and back bear half together, and differ by the lever.

    The first moment of a quarter arc over the radius is sin(45)/(pi/4) of its weight.
    """
    lies = {"front": "10 %", "sides": "40 %", "back": "50 %"}
    settled = hung(tapes={"stretch": {"by": "0.5 %", "at": "1 kg"}}, skirt={"weight": "1 kg", "lies": lies})
    front, left, back, right = settled.state.pull_force[:4]
    whole = (1.0 + 100 * 0.010 * 0.003) * GRAVITY
    assert left == pytest.approx(right, rel=1e-5)
    assert front + back == pytest.approx(whole / 2, rel=1e-3)
    assert left + right == pytest.approx(whole / 2, rel=1e-3)
    assert back - front == pytest.approx(0.4 * np.sin(np.pi / 4) / (np.pi / 4) * GRAVITY, rel=2e-3)


def test_a_ribbon_by_name_is_that_of_the_table() -> None:
    """Cotton twill tape: 2 % under 1 kg, from memory."""
    named = hung(tapes={"stretch": "Twill tape"}).cage.parameters.pull_give
    assert named[:4] == pytest.approx(0.02 / GRAVITY)


def test_ties_and_unwritten_tapes_do_not_stretch() -> None:
    tie = [{"from": "hoop 1 tape 1", "to": "hoop 1 tape 3", "length": 300}]
    written = changed(PLAIN, {"ties": tie})
    assert lay_out(read_data(written)).parameters.pull_give.max() == 0.0
    stretching = lay_out(read_data(changed(written, {"tapes": {"stretch": STRETCH}}))).parameters.pull_give
    assert (stretching[:4] > 0.0).all()
    assert stretching[4] == 0.0
