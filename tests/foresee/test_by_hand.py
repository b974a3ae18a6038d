"""Slopes, slips, a hand's push and a skirt that slides, each on answers put in by hand."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from rigs import STRIP_6, STRIP_10, design_of

from cage3d.design.models import Design
from cage3d.foresee import sensitivity, slips, stiffness
from cage3d.foresee.sensitivity import mark_effects, quarter_nodes
from cage3d.foresee.sliding import add_sliding, on_hoop, sliding
from cage3d.foresee.slips import Slip, sewing_changes, slip
from cage3d.foresee.stiffness import Give, droop, give, gives, hem_node
from cage3d.settle import SettledCage, settle
from cage3d.settle.tangent import Tangent
from cage3d.shape.cage import Connectivity
from cage3d.shape.changes import ParameterChanges
from cage3d.shape.lay_out import lay_out

STIFF = STRIP_10 | {"modulus": 1e12, "yield_stress": 1e12, "thickness": 0.002}
G = 9.81  # m/s2
PUSH = 0.2 * G  # N, 200 g


@cache
def pair(opening: str = "none") -> SettledCage:
    """Two stiff hoops of 1 and 1.5 m on four tapes at front, left, back and right; 1 kg of skirt."""
    hoops = [{"length": 1.0, "join": "none"}, {"length": 1.5, "opening": opening, "join": "none"}]
    design = design_of(
        waist=1.0, zero=1.2, drops=[[0.3, 0.3]] * 4, lengths=[], hoops=hoops, steel=STIFF,
        tapes={"stations": "on" if opening == "none" else "between"}, skirt={"weight": 1.0},
    )  # fmt: skip
    return settle(lay_out(design, 24))


def moved(settled: SettledCage, **nodes: Any) -> SettledCage:
    """The cage with nodes put elsewhere: n12=(x, y, z) m of shift."""
    places = settled.positions.copy()
    for name, shift in nodes.items():
        places[int(name[1:])] += shift
    return replace(settled, state=replace(settled.state, positions=places))


def test_the_hems_quarters_are_the_nearest_nodes_round_her() -> None:
    """Of hem nodes at 2, 20, 26, 49, 76 and 99 hundredths of the girth from centre front by her left."""
    fractions = np.array([0.0, 0.25, 0.5, 0.75, 0.02, 0.20, 0.26, 0.49, 0.76, 0.99])
    joined = SimpleNamespace(hoop_nodes=(np.arange(4), np.arange(4, 10)), node_fraction=fractions)
    assert quarter_nodes(cast(Connectivity, joined)) == [9, 6, 7, 8]


def test_effects_stand_in_the_order_of_their_strength(monkeypatch) -> None:
    """Eight marks, two hoops on four tapes; the mark of hoop h and tape t is number 4 h + t. What moves the hem at
    centre back by 1, 2, ... is told the other way round; equal ones by tape and then hoop.
    """
    settled = pair()
    front, left, back, right = quarter_nodes(settled.cage.connectivity)
    told = np.zeros((settled.cage.connectivity.node_count, 3, 8))
    told[back, 2] = [1.0, -5.0, 3.0, 3.0, 3.0, 2.0, -0.5, 4.0]
    told[front, 2, 1], told[left, 2, 1], told[right, 2, 1] = 0.1, 0.2, 0.3
    told[:, 0] = 99.0  # sideways is no height
    monkeypatch.setattr(sensitivity, "Tangent", lambda _settled: SimpleNamespace(moves=lambda _changes: told))
    effects = mark_effects(settled)
    assert [(effect.tape, effect.hoop, effect.back) for effect in effects] == [
        (1, 0, -5.0), (3, 1, 4.0), (0, 1, 3.0), (2, 0, 3.0), (3, 0, 3.0), (1, 1, 2.0), (0, 0, 1.0), (2, 1, -0.5),
    ]  # fmt: skip
    assert (effects[0].front, effects[0].left, effects[0].right) == (0.1, 0.2, 0.3)


def test_a_mark_that_sits_low_makes_the_drop_over_it_longer(monkeypatch) -> None:
    """3 mm on tape 2 of hoop 1: the first drop longer, the second shorter by as much, all others as they are."""
    settled = pair()
    quarters = quarter_nodes(settled.cage.connectivity)
    asked: list[Any] = []

    def settle_shifted(cage, start):
        asked.append((cage.parameters.pull_length - settled.cage.parameters.pull_length, start))
        rises = {f"n{node}": (0.5, 0.5, 0.001 * n) for n, node in enumerate(quarters, start=1)}
        return moved(settled, **rises)

    monkeypatch.setattr(slips, "settle", settle_shifted)
    assert slip(settled, 1, 0, 0.003) == Slip(*(pytest.approx(0.001 * n) for n in (1, 2, 3, 4)))
    ((longer, start),) = asked
    assert longer == pytest.approx([0, 0.003, 0, 0, 0, -0.003, 0, 0])
    assert start is settled
    slip(settled, 3, 1, -0.002)
    assert asked[1][0] == pytest.approx([0, 0, 0, 0, 0, 0, 0, -0.002])
    monkeypatch.setattr(slips, "settle", lambda *_: replace(settled, stable=False))
    assert slip(settled, 1, 0, 0.003) is None


def test_what_is_sewn_off_is_every_mark_and_every_hoops_length() -> None:
    """One sigma of a sixteenth of an inch for marks and an eighth for hoops (common practice); a metre more of a hoop
    is a metre more of its own edges, arcs and bends, in the shares that they have of it.
    """
    settled = pair("front")
    changes, sigmas = sewing_changes(settled)
    assert sigmas == pytest.approx([0.0015875] * 8 + [0.003175] * 2)
    joined, numbers = settled.cage.connectivity, settled.cage.parameters
    for hoop, length in enumerate((1.0, 1.5)):
        column = 8 + hoop
        edges, bends = joined.edge_hoop == hoop, joined.bend_hoop == hoop
        for grown, parts, own in (
            (changes.edge_length, numbers.edge_length, edges),
            (changes.arc_length, numbers.arc_length, edges),
            (changes.bend_length, numbers.bend_length, bends),
        ):
            assert grown is not None
            assert grown[own, column] == pytest.approx(parts[own] / length, rel=1e-6)
            assert not grown[~own, column].any()
            assert not grown[:, :8].any()
    assert changes.pull_length is not None
    assert not changes.pull_length[:, 8:].any()


SIDES = {"front": (0, -1), "left": (1, 0), "back": (0, 1), "right": (-1, 0)}  # x to her left, y to her back


@pytest.mark.parametrize("side", SIDES)
def test_a_push_points_inwards_at_its_side(monkeypatch, side) -> None:
    settled = pair()
    node = hem_node(settled, side)
    out = np.array([*SIDES[side], 0.0])
    assert settled.positions[node] @ out == pytest.approx(1.5 / (2 * np.pi), rel=0.01)
    assert node in settled.cage.connectivity.hoop_nodes[-1]
    pushes: list[Any] = []
    monkeypatch.setattr(stiffness, "pushed", lambda model, force: pushes.append(force) or model)
    give(settled, side)
    (force,) = pushes
    assert force[node] == pytest.approx(-PUSH * out, rel=1e-3)
    assert np.count_nonzero(np.delete(force, node, axis=0)) == 0


def pushed_to(
    monkeypatch, inward: float, across: float, residual: float = 0.0
) -> tuple[Give, tuple[Any, ...]]:
    """What is told of the left side where it goes in by `inward` and the right side goes by `across`, both to -x."""
    settled = pair()
    asked: list[Any] = []
    ends = {
        f"n{hem_node(settled, 'left')}": (-inward, 0.3, 0.3),
        f"n{hem_node(settled, 'right')}": (-across, 0, 0),
    }
    rest = SimpleNamespace(
        residual=residual, posture=SimpleNamespace(positions=moved(settled, **ends).positions)
    )

    def rests(_model, _posture, _forces, most_steps, loose):
        asked.append((most_steps, loose))
        return rest

    monkeypatch.setattr(stiffness, "come_to_rest", rests)
    return give(settled, "left"), asked[0]


def test_what_the_hoop_gives_is_what_its_two_sides_near(monkeypatch) -> None:
    """30.4 mm in, of which the other side makes 10.1 itself: told to the millimetre."""
    found, asked = pushed_to(monkeypatch, 0.0304, 0.0101)
    assert found == Give("left", 0.030, 0.020)
    assert asked == (200, pytest.approx(0.002 * PUSH, rel=1e-3))


@pytest.mark.parametrize(
    ("dent", "residual", "told"),
    [(0.1523, 0.0, True), (0.1525, 0.0, False), (0.01, 0.0039, True), (0.01, 0.0040, False)],
)
def test_a_hem_that_folds_or_finds_no_rest_is_not_told(monkeypatch, dent, residual, told) -> None:
    """6 in at most; 0.2 % of the push (3.92 mN) may be left over."""
    found, _ = pushed_to(monkeypatch, dent + 0.05, 0.05, residual)
    assert (found.dent is not None, found.inward is not None) == (told, told)


def test_three_sides_are_asked_and_only_of_a_settled_cage(monkeypatch) -> None:
    monkeypatch.setattr(stiffness, "give", lambda _settled, side: Give(side, 0.0, 0.0))
    assert [found.side for found in gives(pair())] == ["front", "left", "back"]
    with pytest.raises(ValueError, match="settled"):
        gives(replace(pair(), stable=False))


def test_what_a_hoop_that_gives_is_called() -> None:
    """As README has it, in inches to an eighth: under 3/4 stiff, to 2 usual, over 3 1/8 limp."""
    limits = (stiffness.STIFF, stiffness.USUAL, stiffness.LIMP)
    assert [round(limit / 0.0254 * 8) / 8 for limit in limits] == [0.75, 2.0, 3.125]


def flat(opening: str) -> tuple[SettledCage, np.ndarray, np.ndarray]:
    """The pair with its hem level at 0.5 m; the hem's nodes, and places of its tapes among them."""
    settled = pair(opening)
    nodes = settled.cage.connectivity.hoop_nodes[1]
    places = settled.positions.copy()
    places[nodes, 2] = 0.5
    at = np.searchsorted(nodes, settled.cage.connectivity.crossing[1])
    return replace(settled, state=replace(settled.state, positions=places)), nodes, np.sort(at)


def test_a_droop_in_any_gap_of_a_closed_hoop() -> None:
    """4 mm under the line at one node: in the first gap, and in the last one that ends where the hoop began."""
    settled, nodes, at = flat("none")
    for place in (at[0] + 1, at[1] - 1, (at[3] + 1) % len(nodes), (at[0] - 1) % len(nodes)):
        assert droop(moved(settled, **{f"n{nodes[place]}": (0, 0, -0.004)}), 1) == pytest.approx(0.004)
    # Where one tape is 10 mm up, its neighbours in the gap lie under the line by their share.
    wide = (at[1] - at[0]) if at[0] + 1 < len(nodes) else 1
    raised = moved(settled, **{f"n{nodes[at[1]]}": (0, 0, 0.010)})
    assert droop(raised, 1) == pytest.approx(0.010 * (wide - 1) / wide)


def test_the_free_ends_of_an_open_hoop_are_no_droop() -> None:
    settled, nodes, at = flat("front")
    assert at[0] > 0, "the steel passes its last tapes"
    ends = {f"n{nodes[0]}": (0, 0, -0.05), f"n{nodes[-1]}": (0, 0, -0.05)}
    assert droop(moved(settled, **ends), 1) == pytest.approx(0.0, abs=1e-12)
    for place in (at[0] + 1, at[-1] - 1):
        assert droop(moved(settled, **ends, **{f"n{nodes[place]}": (0, 0, -0.003)}), 1) == pytest.approx(
            0.003
        )


@pytest.mark.parametrize(
    ("place", "beside", "parts", "at"),
    [
        (0.10, (5, 6), (1.0, 0.0), (0.0, 1.0)),
        (0.225, (5, 6), (0.5, 0.5), (0.5, 1.5)),
        (0.80, (7, 8), (0.2, 0.8), (2.8, 3.8)),
        (0.975, (8, 5), (0.5, 0.5), (1.5, 2.5)),  # across the seam at 1.1
        (0.05, (8, 5), (0.2, 0.8), (0.6, 1.6)),
    ],
)
def test_a_place_on_a_hoop_lies_between_its_two_nodes(place, beside, parts, at) -> None:
    """Nodes 5 to 8 at 0.10, 0.35, 0.60 and 0.85 of the girth, at x = 0, 1, 2, 3 and y = 1, 2, 3, 4."""
    fractions = np.full(9, np.nan)
    fractions[5:] = [0.10, 0.35, 0.60, 0.85]
    positions = np.zeros((9, 3))
    positions[5:, 0], positions[5:, 1] = range(4), range(1, 5)
    joined = SimpleNamespace(hoop_nodes=(np.arange(5), np.arange(5, 9)), node_fraction=fractions)
    settled = SimpleNamespace(cage=SimpleNamespace(connectivity=joined), positions=positions)
    found, nodes, shares = on_hoop(cast(SettledCage, settled), 1, np.array([place]))
    assert found[0] == pytest.approx([*at, 0.0])
    assert tuple(nodes[0]) == beside
    assert shares[0] == pytest.approx(parts)


@cache
def cone(below_hem: float) -> SettledCage:
    """One stiff hoop of 1.5 m under a waist of 1 m, 2 kg of skirt."""
    return settle(lay_out(cone_design(below_hem=below_hem), 48))


def cone_design(**skirt: Any) -> Design:
    return design_of(
        waist=1.0, zero=1.2, drops=[[0.4]] * 8, lengths=[1.5], steel=STIFF, skirt={"weight": 2.0} | skirt
    )


def test_a_cone_shares_its_skirt_between_hoop_and_band_by_hand() -> None:
    """Radii 159.15 and 238.73 mm, tapes of 0.4 m: 392 mm down. 2 kg on 400 mm and 100 mm below the hem, so 39.2 N/m;
    the pull at half height, over an edge 100 mm under the hoop, is w (0.196 + 0.1), steep by 392 / 400.
    """
    found = sliding(cone(0.1))
    assert found is not None
    drop = np.sqrt(0.4**2 - (0.5 / (2 * np.pi)) ** 2)
    each = 2.0 * G / 0.5
    steep = each * (drop / 2 + 0.1) * drop / 0.4
    assert found.on_band == pytest.approx(steep + each * 0.2, rel=2e-3)
    assert found.on_hoops == pytest.approx([2.0 * G - steep - each * 0.2], rel=2e-2)


def test_a_skirt_lies_on_its_own_hoops_alone() -> None:
    """Only on the second hoop: nothing on the first; and of what lies half at her left, half of the load is there."""
    settled = pair()
    design = settled.cage.design
    (skirt,) = design.skirts
    forces = np.zeros_like(settled.positions)
    band = add_sliding(settled, skirt.model_copy(update={"hoops": (2,)}), forces)
    upper, lower = (forces[nodes, 2].sum() for nodes in settled.cage.connectivity.hoop_nodes)
    assert upper == 0.0
    assert band - lower == pytest.approx(G, rel=1e-3)


def test_a_skirt_that_is_heaped_presses_where_it_lies() -> None:
    """15 % about centre front, 45 at both sides, 40 about centre back, each within a quarter of the way round."""
    settled = cone(0.1)
    (skirt,) = cone_design(lies={"front": 0.15, "sides": 0.45, "back": 0.40}).skirts
    forces = np.zeros_like(settled.positions)
    add_sliding(settled, skirt, forces)
    nodes = settled.cage.connectivity.hoop_nodes[0]
    fractions = settled.cage.connectivity.node_fraction[nodes]
    quarter = np.floor(np.mod(fractions + 0.125, 1.0) * 4).astype(int)
    inward = np.linalg.norm(forces[nodes, :2], axis=1)
    told = np.array([inward[quarter == n].sum() for n in range(4)]) / inward.sum()
    assert told == pytest.approx([0.15, 0.225, 0.40, 0.225], abs=0.012)


def test_what_hangs_straight_down_leaves_the_hoops_as_if_it_were_not_there() -> None:
    """A hoop as wide as the waist: nothing presses on it, so it goes where the loss of the skirt lets it go."""
    design = design_of(
        waist=1.5, zero=1.2, drops=[[0.4]] * 4, lengths=[1.5], steel=STRIP_6,
        skirt=[{"weight": 0.06}, {"weight": 0.04}],
    )  # fmt: skip
    settled = settle(lay_out(design, 24))
    found = sliding(settled)
    assert found is not None
    assert found.on_hoops == pytest.approx([0.0], abs=0.005)
    assert found.on_band == pytest.approx(0.1 * G, rel=5e-3)
    lighter = Tangent(settled).moves(
        ParameterChanges(skirt_weight=-settled.cage.parameters.skirt_weight[:, None])
    )
    most = np.abs(lighter).max()
    assert most > 1e-4
    assert found.moves == pytest.approx(lighter[:, :, 0], abs=0.05 * most)
