"""A fan: hoops that meet in one casing at the front, and fall apart towards the back.

By hand. Two rigid rings of radius r hinge on one place at the front. The lower hangs by its back from the back of
the upper, which four plumb tapes hold level, on a tape of length d: both backs lie 2 r from the hinge, so the angle
t between the rings has d = 4 r sin(t / 2). About the hinge the lower ring's weight W pulls with r cos t, and the tape
with 2 r cos(t / 2): its pull is W cos t / (2 cos(t / 2)).
"""

from __future__ import annotations

import numpy as np
import pytest
from rigs import design_of
from stiff_pair import STIFF

from cage3d.report import measure
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

ROUND, BELOW, APART = 1.2, 0.25, 0.2  # m: both rings, the drop to the upper, and from its back to the lower's
RADIUS = ROUND / (2.0 * np.pi)
ANGLE = 2.0 * np.arcsin(APART / (4.0 * RADIUS))


def fan(apart: float = APART) -> SettledCage:
    hoop = {"length": ROUND, "join": "none"}
    design = design_of(
        waist=ROUND, zero=1.2, drops=[[BELOW, 0.0], [BELOW], [BELOW, apart], [BELOW]], lengths=[], steel=STIFF,
        hoops=[hoop, hoop | {"tapes": [1, 3]}], tapes={"stations": "on"},
    )  # fmt: skip
    return settle(lay_out(design, 32))


FAN = fan()


def test_it_rests_with_the_rings_in_one_place_at_the_front() -> None:
    assert FAN.trusted
    upper, lower = FAN.positions[FAN.cage.connectivity.crossing[:, 0]]
    assert lower == pytest.approx(upper, abs=1e-7)


def test_the_lower_ring_leans_as_its_back_tape_lets_it() -> None:
    first, second = measure(FAN).hoops
    assert first.tilt_deg == pytest.approx(0.0, abs=0.05)
    assert second.tilt_deg == pytest.approx(np.degrees(ANGLE), abs=0.05)
    assert second.height_front_m == pytest.approx(1.2 - BELOW, abs=2e-4)
    assert second.height_back_m == pytest.approx(1.2 - BELOW - 2.0 * RADIUS * np.sin(ANGLE), abs=3e-4)


def test_its_back_tape_bears_what_turns_it_about_the_front() -> None:
    weight = FAN.cage.parameters.own_weight[FAN.cage.connectivity.hoop_nodes[1]].sum()
    tapes = measure(FAN).tapes
    back = tapes[2].to(2)
    assert back is not None
    assert back.tension_N == pytest.approx(weight * np.cos(ANGLE) / (2.0 * np.cos(ANGLE / 2.0)), rel=2e-3)
    # The casing at the front holds the rest of the weight, and the tape's pull towards it.
    slant = ANGLE / 2.0  # of the tape, off plumb
    up, forward = weight - back.tension_N * np.cos(slant), back.tension_N * np.sin(slant)
    front = tapes[0].to(2)
    assert front is not None
    assert front.length_m == front.slack_m == 0.0
    assert front.tension_N == pytest.approx(np.hypot(up, forward), rel=5e-3)


def test_settled_again_it_stays() -> None:
    again = settle(FAN.cage, FAN)
    assert again.steps <= 3
    assert np.abs(again.positions - FAN.positions).max() < 1e-6
