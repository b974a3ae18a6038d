"""How the settled cage goes with its numbers, against settling again: the remainder falls with the square of the step.

Steps are taken to one side only. A difference to both sides through tapes that only pull would hide
a tape that goes slack on one of them; so the same tapes must pull before and after.
"""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest
from rigs import STRIP_10, design_of, ring_on_tapes

from cage3d.settle import settle
from cage3d.settle.tangent import Tangent
from cage3d.shape.cage import Parameters
from cage3d.shape.changes import ParameterChanges, difference, side_by_side
from cage3d.shape.form import Form, Oval
from cage3d.shape.lay_out import lay_out
from cage3d.shape.parameters import parameters_of

NODES = 32


def slanting():
    """Nothing symmetric: uneven drops, a tie, a hoop with an overlap, a skirt; every tape pulls."""
    drops = [[0.16 + 0.002 * tape, 0.19 - 0.001 * tape, 0.21] for tape in range(6)]
    return design_of(
        waist=0.70, zero=1.05, drops=drops, lengths=[], steel=STRIP_10,
        hoops=[
            {"length": 1.45, "join": "none"},
            {"length": 1.75, "opening": "front"},
            {"length": 2.1, "join": {"overlap": 0.08}},
        ],
        ties=[{"from": "hoop 3 tape 2", "to": "hoop 3 tape 5", "length": 0.55}],
        skirt={"weight": 0.8},
    )  # fmt: skip


@pytest.fixture(name="hung", scope="module")
def settled_cage():
    hung = settle(lay_out(slanting(), NODES))
    assert hung.trusted
    return hung


def remainders(hung, changes, steps):
    """(largest move, m of the remainder) for each step along one change, settled again."""
    told = Tangent(hung).moves(changes)[:, :, 0]
    found = []
    for step in steps:
        numbers = changes.added_to(hung.cage.parameters, np.array([step]))
        again = settle(replace(hung.cage, parameters=numbers), start=hung)
        assert again.trusted
        assert np.array_equal(again.state.pull_force > 0.0, hung.state.pull_force > 0.0)
        moved = again.positions - hung.positions
        found.append((np.abs(moved).max(), np.abs(moved - step * told).max()))
    return np.array(found).T


def one_change(hung, name):
    """Every entry of one of the cage's numbers grows by a share of its own, drawn by lot."""
    lot = np.random.default_rng(4)
    value = getattr(hung.cage.parameters, name)
    if name == "pull_length":
        taut = hung.state.pull_force > 1e-3
        return ParameterChanges(pull_length=(0.02 * lot.uniform(size=len(value)) * taut)[:, None])
    share = lot.uniform(0.0, 1.0, size=len(value))
    if name == "pull_give":  # up to 1.6 % at 10 N in the longest step
        return ParameterChanges(pull_give=(2e-2 * lot.uniform(size=len(value)))[:, None])
    if name == "set_curvature":  # up to a curve of 25 cm radius, uneven, or a ring would hardly feel it
        return ParameterChanges(set_curvature=(4.0 * share)[:, None])
    if name == "stiff":  # hoops that hang nearly flat hardly feel it
        share = 6.0 * share
    if name == "edge_length":  # a little on one hoop: steel that does not stretch takes it at once
        share = 0.2 * (hung.cage.connectivity.edge_hoop == 0)
    return ParameterChanges(**{name: (share * value)[:, None]})


@pytest.mark.parametrize(
    "name",
    [
        "edge_length",
        "bend_length",
        "easy",
        "stiff",
        "torsion",
        "set_curvature",
        "pull_length",
        "pull_give",
        "own_weight",
        "skirt_weight",
    ],
)
def test_remainder_falls_with_the_square_of_the_step(hung, name):
    steps = 0.08 * 2.0 ** -np.arange(3)
    moved, left = remainders(hung, one_change(hung, name), steps)
    assert moved[0] > 2e-5, "the change must do something"
    assert np.log2(left[:-1] / left[1:]) == pytest.approx(2.0, abs=0.25), left


@pytest.fixture(name="slid", scope="module")
def sliding_cages():
    """By friction."""
    design = slanting()
    return {
        friction: settle(lay_out(design.model_copy(update={"skirt": skirt}), 24))
        for friction in (0.0, 0.3)
        for skirt in [
            design.skirt.model_copy(update={"slides": True, "friction": friction, "below_hem": 0.1})
        ]
    }


@pytest.mark.parametrize("friction", [0.0, 0.3])
@pytest.mark.parametrize("name", ["cloth_weight", "cloth_length", "easy", "pull_length"])
def test_cloth_that_slides_moves_as_told(slid, name, friction):
    """Left fixed, friction would be 0.2 % of what a mark does, and 18 % of what longer cloth does."""
    hung = slid[friction]
    moved, left = remainders(hung, one_change(hung, name), 0.08 * 2.0 ** -np.arange(3))
    assert moved[0] > 2e-5, "the change must do something"
    assert np.log2(left[:-1] / left[1:]) == pytest.approx(2.0, abs=0.25), left


@pytest.mark.parametrize("name", ["arc_length", "strip_width"])
def test_numbers_without_a_part_in_the_mechanics_move_nothing(hung, name):
    value = getattr(hung.cage.parameters, name)
    assert np.abs(Tangent(hung).moves(ParameterChanges(**{name: value[:, None]}))).max() == 0.0


def test_what_keeps_the_steel_off_her_moves_it():
    """A ring about an oval that presses it apart in one place on either side: thicker tapes press it wider."""
    ring = lay_out(ring_on_tapes(2.0, 4, STRIP_10, tapes={"stations": "between"}), 64)
    breadth, depth = 1.05 * 2.0 / (2.0 * np.pi), 0.18
    form = Form(tuple(Oval(height, breadth, depth, 2.0) for height in (1.3, 0.8, 0.0)))
    hung = settle(replace(ring, form=form))
    assert hung.trusted
    assert (hung.state.wearer_push > 0.0).any()
    change = ParameterChanges(stand_off=np.ones((ring.connectivity.node_count, 1)))
    moved, left = remainders(hung, change, 4e-3 * 2.0 ** -np.arange(3))
    assert moved[0] > 4e-3
    assert np.log2(left[:-1] / left[1:]) == pytest.approx(2.0, abs=0.25), left


def test_every_number_has_its_change():
    assert [field.name for field in fields(ParameterChanges)] == [field.name for field in fields(Parameters)]


def test_changes_side_by_side_are_those_one_by_one(hung):
    kinds = [one_change(hung, name) for name in ("pull_length", "easy", "skirt_weight")]
    together = Tangent(hung).moves(side_by_side(kinds))
    for column, change in enumerate(kinds):
        alone = Tangent(hung).moves(change)[:, :, 0]
        assert np.abs(together[:, :, column] - alone).max() < 1e-9 * np.abs(alone).max()


def test_steel_and_tapes_stay_as_long_as_their_numbers_say(hung):
    """The moves of a change keep every edge and every taut tape at its length, to first order."""
    change = one_change(hung, "pull_length")
    moves = Tangent(hung).moves(change)[:, :, 0]
    joined = hung.cage.connectivity

    def growth(pairs):
        along = hung.positions[pairs[:, 1]] - hung.positions[pairs[:, 0]]
        apart = moves[pairs[:, 1]] - moves[pairs[:, 0]]
        return (along * apart).sum(axis=1) / np.linalg.norm(along, axis=1)

    taut = hung.state.pull_force > 0.0
    assert np.abs(growth(joined.edges)).max() < 1e-8
    assert growth(joined.pulls)[taut] == pytest.approx(change.pull_length[taut, 0], abs=1e-8)


@pytest.mark.parametrize(
    "changed",
    [
        lambda d, step: {"hoops": (d.hoops[0].model_copy(update={"length": d.hoops[0].length + step}), *d.hoops[1:])},
        lambda d, step: {"skirt": d.skirt.model_copy(update={"weight": d.skirt.weight + 20 * step})},
        lambda d, step: {"steel": d.steel.model_copy(update={"thickness": d.steel.thickness + 0.01 * step})},
        lambda d, step: {"ties": (d.ties[0].model_copy(update={"length": d.ties[0].length + step}),)},
    ],
    ids=["hoop", "skirt", "thickness", "tie"],
)  # fmt: skip
def test_a_number_of_the_design_through_the_whole_tool(hung, changed):
    """From the written number to the nodes: laid out anew and settled, against numbers alone and the tangent."""
    design = slanting()

    def longer(step):
        return design.model_copy(update=changed(design, step))

    fine = 1e-6
    numbers = [parameters_of(longer(sign * fine), NODES) for sign in (1.0, -1.0)]
    change = difference(*numbers, 2.0 * fine)
    told = Tangent(hung).moves(change)[:, :, 0]
    left = []
    for step in (8e-3, 4e-3, 2e-3):
        again = settle(lay_out(longer(step), NODES))
        left.append(np.abs(again.positions - hung.positions - step * told).max())
    assert np.log2(np.array(left[:-1]) / left[1:]) == pytest.approx(2.0, abs=0.3), left


def test_an_unsettled_cage_has_no_tangent(hung):
    with pytest.raises(ValueError, match="settled"):
        Tangent(replace(hung, settled=False))


def test_fields_of_different_widths_are_refused():
    with pytest.raises(ValueError, match="different numbers"):
        _ = ParameterChanges(easy=np.zeros((3, 1)), stiff=np.zeros((3, 2))).count
