"""A push on the hem and the droop of steel, against figures worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from models import sample
from rigs import STRIP_10, design_of, whole_cage

from cage3d.foresee import stiffness
from cage3d.foresee.stiffness import droop, gives, hem_node, pushed
from cage3d.settle import settle
from cage3d.settle.model import model_of, trial_at
from cage3d.settle.rest import come_to_rest
from cage3d.settle.taking_up import posture_of
from cage3d.shape.lay_out import lay_out


def upright(thickness: float, **more):
    """A ring of 1.5 m on eight upright tapes of 0.5 m, 2 kg with what it carries."""
    steel = STRIP_10 | {"modulus": 1e12, "yield_stress": 1e12, "thickness": thickness}
    hoops = [{"length": 1.5, "join": "none", "carries": 2.0 - 7850 * 0.010 * thickness * 1.5}]
    return settle(
        lay_out(
            design_of(waist=1.5, zero=1.2, drops=[[0.5]] * 8, lengths=[], hoops=hoops, steel=steel, **more),
            48,
        )
    )


def test_a_stiff_ring_swings_as_a_pendulum_and_gives_nothing() -> None:
    """On upright parallel tapes it moves without turning: tan = 200 g over its 2 kg, 0.5 m of tape; no dent."""
    for found in gives(upright(0.004)):
        assert found.inward == pytest.approx(0.5 * np.sin(np.arctan(0.1)), rel=0.02)
        assert found.dent == pytest.approx(0.0, abs=0.002)


def test_thinner_steel_gives_more_and_swings_alike() -> None:
    thick, thin = (gives(upright(thickness), ("front",))[0] for thickness in (0.0008, 0.0004))
    assert thin.dent > 2.0 * thick.dent
    assert thin.inward - thin.dent < thick.inward


def test_a_push_pulls_where_it_points() -> None:
    """The energy falls by force times way: 2 N over 3 mm."""
    cage = lay_out(whole_cage(), 24)
    force = np.zeros_like(cage.positions)
    force[5] = [0.0, 2.0, 0.0]
    settled = settle(cage)
    model = pushed(model_of(cage, 1e4), force, settled.positions)
    bare = model_of(cage, 1e4)
    along = np.array([0.0, 0.003, 0.0])
    here, there = settled.state, replace(settled.state, positions=settled.positions + along)
    gain = [
        trial_at(model, *posture_of(model, at)).energy - trial_at(bare, *posture_of(bare, at)).energy
        for at in (here, there)
    ]
    assert gain[1] - gain[0] == pytest.approx(-0.006, abs=1e-12)
    rest = come_to_rest(model, *posture_of(model, here))
    assert rest.settled
    assert rest.posture.positions[5, 1] > settled.positions[5, 1]


def test_a_push_keeps_to_its_line() -> None:
    """3 mm aside of the line: 1000 N/m times half their square more energy, and 3 N back."""
    cage = lay_out(whole_cage(), 24)
    force = np.zeros_like(cage.positions)
    force[5] = [0.0, 2.0, 0.0]
    state = settle(cage).state
    model = pushed(model_of(cage, 1e4), force, state.positions)
    aside = np.zeros_like(cage.positions)
    aside[5] = [0.003, 0.004, 0.0]
    own = model.place("push")
    there = trial_at(model, *posture_of(model, replace(state, positions=state.positions + aside)))
    reading, none = there.readings[own], np.zeros(0)
    assert reading.energy(none, 0.0) == pytest.approx(500 * 0.003**2 - 2.0 * 0.004, abs=1e-15)
    assert reading.gradient(none, 0.0).values[5] == pytest.approx([3.0, -2.0, 0.0], abs=1e-12)
    blocks = reading.hessian(none, 0.0)
    assert blocks.rows.tolist() == [5]
    assert blocks.values[0] == pytest.approx(np.diag([1000.0, 0.0, 0.0]), abs=1e-9)


def test_a_soft_hem_gives_the_same_pressed_in_smaller_parts(monkeypatch) -> None:
    """Pushed at once the wide oval's front ended in another shape, a hand's breadth of its dent away."""
    settled = sample("e")
    (once,) = gives(settled, ("front",))
    monkeypatch.setattr(stiffness, "PARTS", 12)
    (slowly,) = gives(settled, ("front",))
    assert once.dent == pytest.approx(slowly.dent, abs=0.002)
    assert once.inward == pytest.approx(slowly.inward, abs=0.002)


def test_droop_is_below_the_line_between_two_tapes() -> None:
    """Lowered by hand: 4 mm in one gap, and a whole slope that is no droop."""
    settled = settle(lay_out(whole_cage(), 48))
    joined, places = settled.cage.connectivity, settled.positions.copy()
    nodes = joined.hoop_nodes[3]
    places[nodes, 2] = 0.5 + 0.01 * np.sin(2 * np.pi * joined.node_fraction[nodes])
    level = replace(settled, state=replace(settled.state, positions=places))
    assert droop(level, 3) < 0.0015  # what a sine of 10 mm bulges over an eighth of its round: 0.8 mm
    lowered = places.copy()
    lowered[nodes, 2] = 0.5
    lowered[joined.crossing[3, 2] + 2, 2] -= 0.004
    assert droop(replace(settled, state=replace(settled.state, positions=lowered)), 3) == pytest.approx(0.004)


def test_the_hem_is_pushed_where_it_says() -> None:
    settled = settle(lay_out(whole_cage(), 48))
    front, left = (settled.positions[hem_node(settled, side)] for side in ("front", "left"))
    assert front[1] < -0.3
    assert left[0] > 0.3
