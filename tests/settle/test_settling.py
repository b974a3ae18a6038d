"""Balance, symmetry, and answers that stay where they are."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from rigs import BAND, STRIP_10, design_of, hard_cage, whole_cage, without_weight
from settled import sample_path

from cage3d.design.read import read
from cage3d.settle import settle
from cage3d.settle.hanging import SPRINGS
from cage3d.settle.model import model_of
from cage3d.settle.rest import FORCE_TOLERANCE, STILL, come_to_rest
from cage3d.settle.taking_up import posture_of
from cage3d.settle.tangent import Tangent
from cage3d.shape.changes import ParameterChanges
from cage3d.shape.lay_out import lay_out

SAMPLE = sample_path("a")


def skewed(**more):
    """A cage with nothing symmetric about it: oval, uneven drops, a slanting tie, an open hoop, a skirt."""
    drops = [[0.15 + 0.004 * tape, 0.18 - 0.002 * tape, 0.20 + 0.003 * (tape % 3)] for tape in range(7)]
    return design_of(
        waist=0.70, zero=1.05, drops=drops, lengths=[], steel=STRIP_10,
        hoops=[
            {"length": 1.45, "join": "none"},
            {"length": 1.75, "opening": "front"},
            {"length": 2.2, "join": {"overlap": 0.05}, "carries": 0.1},
        ],
        ties=[{"from": "hoop 3 tape 2", "to": "hoop 3 tape 5", "length": 0.5}],
        skirt={"weight": 0.6},
        **more,
    )  # fmt: skip


@pytest.fixture(name="settled", scope="module", params=[whole_cage, hard_cage, skewed])
def any_settled(request):
    settled = settle(lay_out(request.param()))
    assert settled.trusted, settled.notes
    return settled


def test_forces_and_moments_balance_over_the_whole_cage(settled):
    joined, state = settled.cage.connectivity, settled.state
    first, second = joined.pulls.T
    along = settled.positions[second] - settled.positions[first]
    pull = state.pull_force[:, None] * along / np.linalg.norm(along, axis=1)[:, None]
    from_band = np.isin(first, joined.anchors)
    weight = settled.cage.parameters.own_weight + settled.cage.parameters.skirt_weight
    hangs = np.column_stack([np.zeros((len(weight), 2)), -weight])
    # The band pulls up on each tape it holds.
    force = hangs.sum(axis=0) - pull[from_band].sum(axis=0)
    moment = np.cross(settled.positions, hangs).sum(axis=0)
    moment -= np.cross(settled.positions[first[from_band]], pull[from_band]).sum(axis=0)
    assert np.abs(force).max() < 1e-5 * weight.sum()
    assert np.abs(moment).max() < 1e-5 * weight.sum()


def test_nothing_stretches_and_nothing_pushes(settled):
    stretched = settled.pull_spans - settled.cage.parameters.pull_length
    assert stretched.max() < 0.05e-3
    assert settled.state.pull_force.min() >= 0.0
    slack = stretched < -1e-6
    assert (settled.state.pull_force[slack] == 0.0).all()


def test_settling_again_stays_put(settled):
    again = settle(settled.cage, start=settled)
    assert again.trusted
    assert np.abs(again.positions - settled.positions).max() < 1e-7


def test_rest_is_near_where_the_answer_says(settled):
    assert settled.distance <= STILL


def test_a_soft_cage_is_not_called_at_rest_far_from_it():
    """Where next to no weight holds a cage, 90 nN a node on one side shift it, though no force is above tolerance."""
    cage = without_weight(
        lay_out(design_of(waist=0.7, zero=1.2, drops=[[0.2]] * 3, lengths=[1.5], steel=STRIP_10), 24)
    )
    hung = settle(cage)
    assert hung.trusted
    more = np.where(cage.positions[:, 0] > 0.0, 9e-8, 0.0)
    assert more.max() < FORCE_TOLERANCE
    heavier = cage.with_parameters(own_weight=cage.parameters.own_weight + more)
    model = model_of(heavier, SPRINGS[-1])
    rest = come_to_rest(model, *posture_of(model, hung.state))
    assert rest.settled
    assert rest.distance <= STILL
    moved = np.abs(rest.posture.positions - hung.positions).max()
    told = Tangent(hung).moves(ParameterChanges(own_weight=more[:, None]))
    assert moved > 10.0 * STILL
    assert moved == pytest.approx(np.abs(told).max(), rel=0.1)


def test_the_same_cage_gives_the_same_digits(settled):
    again = settle(settled.cage)
    assert np.array_equal(again.positions, settle(settled.cage).positions)


def mirrored(design):
    """The design seen in a mirror: tapes counted the other way round."""
    drops = design.tapes.drops[::-1]
    count = design.tapes.count

    def turn(text):
        *words, tape = text.split()
        return " ".join([*words, str(count + 1 - int(tape))])

    ties = tuple(tie.model_copy(update={"from_": turn(tie.from_), "to": turn(tie.to)}) for tie in design.ties)
    return design.model_copy(update={"tapes": design.tapes.model_copy(update={"drops": drops}), "ties": ties})


def test_a_mirrored_design_hangs_mirrored():
    one, other = settle(lay_out(skewed())), settle(lay_out(mirrored(skewed())))
    for hoop in range(3):
        here = one.positions[one.cage.connectivity.crossing[hoop]]
        there = other.positions[other.cage.connectivity.crossing[hoop]][::-1]
        assert np.abs(here - there * [-1.0, 1.0, 1.0]).max() < 1e-6


def test_a_turned_design_hangs_turned():
    """On a round waist, moving every number on by two tapes turns the answer by a quarter."""
    drops = [[0.15 + 0.01 * (tape in (1, 2)), 0.18] for tape in range(8)]
    turned = drops[-2:] + drops[:-2]
    one, other = (
        settle(lay_out(design_of(waist=0.7, zero=1.05, drops=rows, lengths=[1.4, 1.8], steel=STRIP_10)))
        for rows in (drops, turned)
    )
    for hoop in range(2):
        here = one.positions[one.cage.connectivity.crossing[hoop]]
        there = np.roll(other.positions[other.cage.connectivity.crossing[hoop]], -2, axis=0)
        # A quarter turn by the wearer's left takes front (-y) to left (+x).
        quarter = np.column_stack([-here[:, 1], here[:, 0], here[:, 2]])
        assert np.abs(quarter - there).max() < 1e-6


def test_two_starts_reach_the_same_rest():
    cage = lay_out(whole_cage())
    oval = cage.positions.copy()
    hoops = ~np.isin(np.arange(len(oval)), cage.connectivity.anchors)
    oval[hoops] *= [1.2, 0.8, 0.97]
    one, other = settle(cage), settle(replace(cage, positions=oval))
    assert np.abs(one.positions - other.positions).max() < 1e-5


def test_a_hopeless_cage_says_so():
    """A hoop smaller than the hip, on tapes that draw it down there: no place for it."""
    design = read(SAMPLE)
    tight = design.hoops[0].model_copy(update={"length": 0.965})
    settled = settle(lay_out(design.model_copy(update={"hoops": (tight, *design.hoops[1:])}), 40))
    assert not settled.settled
    assert not settled.trusted
    assert settled.state.wearer_push[settled.cage.connectivity.hoop_nodes[0]].sum() > 1e4, (
        "N, as nothing bears"
    )
    assert settled.steps < 100, "it does not try for long"


def test_waistband_is_centred_on_the_waist():
    cage = lay_out(whole_cage())
    assert cage.positions[cage.connectivity.anchors, 2] == pytest.approx(1.05, abs=1e-12)
    assert cage.design.wearer.waist_height == pytest.approx(1.05 + BAND / 2)
