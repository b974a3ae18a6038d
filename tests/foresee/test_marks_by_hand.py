"""Slopes and slips of casing marks on answers put in by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from stiff_pair import moved, pair

from cage3d.foresee import slips
from cage3d.foresee.hem import quarter_nodes
from cage3d.foresee.sensitivity import mark_effects
from cage3d.foresee.slips import Slip, sewing_changes, slip
from cage3d.shape.cage import Connectivity


def test_the_hems_quarters_are_the_nearest_nodes_round_her() -> None:
    """Of hem nodes at 2, 20, 26, 49, 76 and 99 hundredths of the girth from centre front by her left."""
    fractions = np.array([0.0, 0.25, 0.5, 0.75, 0.02, 0.20, 0.26, 0.49, 0.76, 0.99])
    joined = SimpleNamespace(hoop_nodes=(np.arange(4), np.arange(4, 10)), node_fraction=fractions)
    assert quarter_nodes(cast(Connectivity, joined)) == [9, 6, 7, 8]


def test_effects_stand_in_the_order_of_their_strength() -> None:
    """Eight marks, two hoops on four tapes; the mark of hoop h and tape t is number 4 h + t. What moves the hem at
    centre back by 1, 2, ... is told the other way round; equal ones by tape and then hoop.
    """
    settled = pair()
    front, left, back, right = quarter_nodes(settled.cage.connectivity)
    told = np.zeros((settled.cage.connectivity.node_count, 3, 8))
    told[back, 2] = [1.0, -5.0, 3.0, 3.0, 3.0, 2.0, -0.5, 4.0]
    told[front, 2, 1], told[left, 2, 1], told[right, 2, 1] = 0.1, 0.2, 0.3
    told[:, 0] = 99.0  # sideways is no height
    effects = mark_effects(settled, told)
    assert [(effect.tape, effect.hoop, effect.back) for effect in effects] == [
        (1, 0, -5.0), (3, 1, 4.0), (0, 1, 3.0), (2, 0, 3.0), (3, 0, 3.0), (1, 1, 2.0), (0, 0, 1.0), (2, 1, -0.5),
    ]  # fmt: skip
    assert (effects[0].front, effects[0].left, effects[0].right) == (0.1, 0.2, 0.3)


def test_a_mark_that_sits_low_makes_the_drop_over_it_longer(monkeypatch) -> None:
    """3 mm on tape 2 of hoop 1: the first drop longer, the second shorter by as much, all others as they are."""
    settled = pair()
    quarters = quarter_nodes(settled.cage.connectivity)
    asked: list[Any] = []

    def places(_settled, changed):
        asked.append(changed.parameters.pull_length - settled.cage.parameters.pull_length)
        rises = {f"n{node}": (0.5, 0.5, 0.001 * n) for n, node in enumerate(quarters, start=1)}
        return moved(settled, **rises).positions

    monkeypatch.setattr(slips, "places_of", places)
    assert slip(settled, 1, 0, 0.003) == Slip(*(pytest.approx(0.001 * n) for n in (1, 2, 3, 4)))
    slip(settled, 3, 1, -0.002)
    assert asked == [
        pytest.approx([0, 0.003, 0, 0, 0, -0.003, 0, 0]), pytest.approx([0, 0, 0, 0, 0, 0, 0, -0.002]),
    ]  # fmt: skip
    monkeypatch.setattr(slips, "places_of", lambda *_: None)
    assert slip(settled, 1, 0, 0.003) is None


@pytest.mark.parametrize(
    ("near", "trusted", "wanted"), [(True, False, "near"), (False, True, "anew"), (False, False, None)]
)
def test_a_cage_near_rest_will_do_and_else_it_is_settled(monkeypatch, near, trusted, wanted) -> None:
    """Within 20 um of rest, on springs of 10 kN; where it is not, the whole of settling is asked."""
    settled = pair()
    asked: list[Any] = []
    here = SimpleNamespace(settled=near, posture=SimpleNamespace(positions="near"))
    monkeypatch.setattr(
        slips,
        "come_near_rest",
        lambda model, _posture, _forces, off: asked.append((model.spring, off)) or here,
    )
    monkeypatch.setattr(
        slips,
        "settle",
        lambda _cage, start: SimpleNamespace(trusted=trusted and start is settled, positions="anew"),
    )
    assert slips.places_of(settled, settled.cage) == wanted
    assert asked == [(10000.0, 2e-5)]


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
