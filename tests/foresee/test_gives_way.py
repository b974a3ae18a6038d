"""How much a cage carries before it gives way: what is too much at a rest, and how the load is raised to it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from two_hoops import two_hoops

from cage3d.foresee import capacity as capacity_module
from cage3d.foresee.capacity import (
    Capacity,
    carries,
    fault_of,
    hoop_of_node,
    tried,
)
from cage3d.settle import settle
from cage3d.settle.model import model_of
from cage3d.settle.rest import Rest
from cage3d.settle.stability import Lowest
from cage3d.settle.state import Snap
from cage3d.settle.taking_up import posture_of
from cage3d.shape.lay_out import lay_out


@pytest.fixture(name="hung", scope="module")
def settled_pair():
    return settle(lay_out(two_hoops(skirt={"weight": 0.05}), 16))


def test_nodes_are_told_by_their_hoop(hung) -> None:
    first, second = hung.cage.connectivity.hoop_nodes
    asked = [first[0], first[-1], second[0], second[-1]]
    assert [hoop_of_node(hung.cage, int(node)) for node in asked] == [0, 0, 1, 1]


def rest_of(settled, **more: Any) -> Rest:
    model = model_of(settled.cage, 3e4)
    posture, forces = posture_of(model, settled.state)
    return replace(Rest(posture, forces, 0.0, 0.0, 0.0, 0, 0, "at rest"), **more)


def test_what_is_too_much_at_a_rest(hung, monkeypatch) -> None:
    """Strain in a ring is t / 2R over yield stress / E: hoop 1 (R = 159.15 mm) reaches it at 376.99 MPa. A cage at rest
    in a valley has no fault; one that finds no rest is told by where forces are left over.
    """
    model, good = model_of(hung.cage, 3e4), rest_of(hung)
    assert fault_of(model, good) is None
    unrest = replace(good, reason="out of steps", worst_node=int(hung.cage.connectivity.hoop_nodes[1][3]))
    assert not unrest.settled
    assert fault_of(model, unrest) == (1, "loses its shape")
    for stress, fault in ((376e6, (0, "bends beyond its yield")), (420e6, None)):
        bent = settle(lay_out(two_hoops(steel={"yield_stress": stress}), 16))
        assert fault_of(model_of(bent.cage, 3e4), rest_of(bent)) == fault, stress
    # The mode that falls moves hoop 2 most, though both move.
    mode = np.zeros(model.unknowns.size)
    mode[3 * int(hung.cage.connectivity.hoop_nodes[0][2]) + 1] = 0.7
    mode[3 * int(hung.cage.connectivity.hoop_nodes[1][5])] = -0.9
    mode[3 * model.free_nodes + 2] = 5.0  # an angle, and no way
    for negative, stable in ((1, False), (0, True)):
        lowest = Lowest(-1.0 if negative else 1.0, mode, negative)
        assert lowest.stable == stable
        monkeypatch.setattr(capacity_module, "lowest_mode", lambda *_, told=lowest: told)
        assert fault_of(model, good) == (None if stable else (1, "loses its shape"))


def test_of_two_places_that_fall_alike_the_first_is_told(hung, monkeypatch) -> None:
    """Alike means within a thousandth of the largest motion: either may come out of the same stiffness."""
    model, good = model_of(hung.cage, 3e4), rest_of(hung)
    nodes = hung.cage.connectivity.hoop_nodes
    for less, hoop in ((0.0009, 0), (0.0012, 1)):
        mode = np.zeros(model.unknowns.size)
        mode[3 * int(nodes[0][2])], mode[3 * int(nodes[1][5])] = 2.0 * (1.0 - less), 2.0
        monkeypatch.setattr(capacity_module, "lowest_mode", lambda *_, told=mode: Lowest(-1.0, told, 1))
        assert fault_of(model, good) == (hoop, "loses its shape"), less


def broken_at(
    monkeypatch, hung, limit: float, start: float = 0.0
) -> tuple[Capacity, list[tuple[float, float]]]:
    """The capacity of a cage that gives way past `limit`, and every (load, step) tried."""
    steps: list[tuple[float, float]] = []

    def step_by(_model, good, factor, step):
        steps.append((factor, step))
        return good, (1, "snaps") if factor + step > limit else None

    monkeypatch.setattr(capacity_module, "tried", step_by)

    def begun(model, settled):
        assert model.spring == 30000.0, "the stiffest of those that settling ends with"
        return start, rest_of(settled)

    monkeypatch.setattr(capacity_module, "where_to_begin", begun)
    monkeypatch.setattr(capacity_module, "fault_of", lambda *_: None)
    found = carries(hung)
    assert found is not None
    return found, steps


@pytest.mark.parametrize("limit", [0.3, 1.0, 3.33, 9.99])
def test_a_load_that_breaks_is_told_to_a_few_hundredths(hung, monkeypatch, limit) -> None:
    """The last load that held: under the limit by less than the last step, a third of which is less than a hundredth
    of the load, or of a quarter of the skirt.
    """
    found, steps = broken_at(monkeypatch, hung, limit)
    finest = 0.01 * max(found.factor, 0.25)
    assert limit - 3 * finest < found.factor <= limit
    assert (found.reached, found.hoop, found.how) == (True, 1, "snaps")
    assert steps[-1][1] / 3 < finest <= steps[-1][1]


def test_steps_of_load_grow_with_the_load(hung, monkeypatch) -> None:
    """A quarter first, each longer by six tenths but no longer than half of the load that held, a quarter at least;
    at ten times the skirt nothing more is asked.

    By hand: 0.25, then min(0.4, max(0.25, 0)) = 0.25; min(0.4, max(0.25, 0.125)) = 0.25 to 0.75; then half of what
    held before: 0.25, 0.375, 0.5 and so on.
    """
    found, steps = broken_at(monkeypatch, hung, 1e9)
    assert found == Capacity(10.0, False, -1, "")
    loads, lengths = zip(*steps, strict=True)
    assert lengths[:7] == pytest.approx([0.25, 0.25, 0.25, 0.25, 0.375, 0.5, 0.6875])
    assert loads[:7] == pytest.approx([0, 0.25, 0.5, 0.75, 1.0, 1.375, 1.875])
    assert loads[-1] + lengths[-1] == pytest.approx(10.0)


def test_a_step_that_breaks_is_taken_in_thirds(hung, monkeypatch) -> None:
    _, steps = broken_at(monkeypatch, hung, 0.6)
    # To 0.5833 a third held; the next step is longer by six tenths, and breaks.
    assert [step for _, step in steps[:6]] == pytest.approx(
        [0.25, 0.25, 0.25, 0.25 / 3, 1.6 * 0.25 / 3, 1.6 * 0.25 / 9]
    )


def test_where_the_bare_cage_does_not_rest_the_load_grows_from_the_planned_one(hung, monkeypatch) -> None:
    monkeypatch.setattr(capacity_module, "settle", lambda _cage: replace(hung, stable=False))
    model = model_of(hung.cage, 3e4)
    factor, rest = capacity_module.where_to_begin(model, hung)
    assert factor == 1.0
    assert np.array_equal(rest.posture.positions, hung.positions)
    assert (rest.settled, rest.residual, rest.distance) == (True, hung.residual, hung.distance)
    monkeypatch.setattr(capacity_module, "settle", lambda cage: replace(hung, cage=cage))
    assert capacity_module.where_to_begin(model, hung)[0] == 0.0


def test_a_cage_broken_from_the_start_and_one_that_snapped(hung, monkeypatch) -> None:
    """What gives way under the load it begins with has that factor; a snap on the way is the first to give way."""
    monkeypatch.setattr(capacity_module, "fault_of", lambda *_: (1, "bends beyond its yield"))
    assert carries(hung) == Capacity(0.0, True, 1, "bends beyond its yield")
    node = int(hung.cage.connectivity.hoop_nodes[1][2])
    snapped = replace(hung, snaps=(Snap(0.4, node, 0.05), Snap(0.7, 0, 0.1)))
    assert carries(snapped) == Capacity(0.4, True, 1, "snaps")


@pytest.mark.parametrize(
    ("elsewhere", "fault", "step", "goes_back", "wanted"),
    [
        (False, None, 0.25, False, None),
        (False, (1, "loses its shape"), 0.25, False, (1, "loses its shape")),
        (True, (1, "loses its shape"), 0.25, True, (1, "loses its shape")),
        (True, None, 0.25, True, (0, "snaps")),  # too long a step to know
        (True, None, 0.02, True, None),  # at twice the skirt a hundredth of it is short enough
        (True, None, 0.021, True, (0, "snaps")),
        (True, None, 0.02, False, (0, "snaps")),
    ],
)
def test_a_step_that_ends_elsewhere_is_a_snap_unless_it_goes_back(
    hung, monkeypatch, elsewhere, fault, step, goes_back, wanted
) -> None:
    good = rest_of(hung)
    moved = good.posture.positions.copy()
    moved[hung.cage.connectivity.hoop_nodes[0][4]] += [0.03, 0.0, 0.0]
    moved[hung.cage.connectivity.hoop_nodes[1][4]] += [0.0, 0.02, 0.01]
    after = replace(good, posture=replace(good.posture, positions=moved))
    monkeypatch.setattr(capacity_module, "step_on", lambda *_: (after, elsewhere))
    asked: list[float] = []
    monkeypatch.setattr(
        capacity_module, "fault_of", lambda more, _after: asked.append(more.weight.sum()) or fault
    )
    monkeypatch.setattr(capacity_module, "snap_between", lambda *_: None if goes_back else Snap(2.0, 0, 0.03))
    assert tried(model_of(hung.cage, 3e4), good, 2.0, step) == (after, wanted)
    own, skirt = hung.cage.parameters.own_weight.sum(), hung.cage.parameters.skirt_weight.sum()
    assert asked == pytest.approx([own + (2.0 + step) * skirt]), "under the load of the step"
