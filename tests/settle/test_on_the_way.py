"""The skirt put on in steps: which step is taken again, and what counts as a snap; by hand.

The cage itself stands still here: what a step of load ends in is put in by hand.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from rests import rest_of

from cage3d.settle import hanging, snaps
from cage3d.settle.hanging import Progress, hang, loose_force, put_skirt_on
from cage3d.settle.model import Model, model_of
from cage3d.settle.snaps import followed, snap_between, step_on, strays, travel_of
from cage3d.settle.state import Snap


def moves(*ways: float) -> np.ndarray:
    return np.array([[way, 0.0, 0.0] for way in ways])


@pytest.mark.parametrize(
    ("made", "foreseen", "said"),
    [
        (moves(0.010, 0.0), None, False),  # a centimetre nobody sees
        (moves(0.0101, 0.0), None, True),
        (moves(0.020, 0.0), moves(0.0101, 0.0), False),  # 9.9 mm off, under half of 20
        (moves(0.020, 0.0), moves(0.0099, 0.0), True),
        (moves(0.020, 0.0), moves(0.020, 0.0101), True),  # another node than foreseen
        (np.array([[0.006, 0.0, 0.0085]]), None, True),  # 10.4 mm aslant
    ],
)
def test_what_is_a_move_to_elsewhere(made, foreseen, said) -> None:
    assert strays(made, foreseen) is said
    assert travel_of(np.array([[3.0, 4.0, 12.0]])) == pytest.approx([13.0])


def weight_of(model: Model) -> float:
    return float(model.weight.sum())


def test_a_step_of_load_is_the_skirts_and_is_foreseen_from_the_rest_before(hung, model, monkeypatch) -> None:
    asked: list[Any] = []
    before, after = rest_of(hung), rest_of(hung, 0.02)

    def response(more, posture, forces, share):
        asked.append((weight_of(more), posture, forces, share))
        return np.zeros_like(hung.positions)

    monkeypatch.setattr(snaps, "load_response", response)
    monkeypatch.setattr(
        snaps,
        "come_to_rest",
        lambda more, posture, _forces, most: asked.append((more, posture, most)) or after,
    )
    assert step_on(model, before, 0.5, 0.25) == (after, True)
    own = hung.cage.parameters.own_weight.sum()
    ((weight, posture, forces, more), (loaded, start, most)) = asked
    assert weight == weight_of(loaded) == pytest.approx(own + 0.75 * 9.81)
    assert (posture, forces, start, most) == (before.posture, before.forces, before.posture, 120)
    assert more == pytest.approx(0.25)


@pytest.mark.parametrize(
    ("back", "settled", "snap"), [(0.0099, True, False), (0.0101, True, True), (0.0, False, True)]
)
def test_a_snap_does_not_come_back(hung, model, monkeypatch, back, settled, snap) -> None:
    """Within a centimetre it has; what finds no way back counts as gone. Told is how far it went, and which node."""
    asked: list[Any] = []
    before, after = rest_of(hung), rest_of(hung, 0.05, 6)
    found = rest_of(hung, back, reason="at rest" if settled else "steps ran out")
    monkeypatch.setattr(snaps, "come_to_rest", lambda *told: asked.append(told) or found)
    said = snap_between(model, 0.5, before, after)
    (more, start, _, most) = asked[0]
    assert weight_of(more) == pytest.approx(hung.cage.parameters.own_weight.sum() + 0.5 * 9.81)
    assert (start, most) == (after.posture, 400)
    assert said == (Snap(0.5, 6, pytest.approx(0.05)) if snap else None)


def way(monkeypatch, hung, model, *, breaks: float, rests: bool = True, snaps_there: bool = True):
    """(what `followed` finds, every (load, step, steps of Newton's allowed)); a step past `breaks` goes elsewhere."""
    steps: list[tuple[float, float, int]] = []

    def stepped(_model, rest, factor, step, most):
        steps.append((factor, step, most))
        past = factor < breaks < factor + step
        return (rest if rests or not past else replace(rest, reason="steps ran out")), past and rests

    told = Snap(breaks, 3, 0.05)
    monkeypatch.setattr(snaps, "step_on", stepped)
    monkeypatch.setattr(snaps, "snap_between", lambda *_: told if snaps_there else None)
    return followed(model, rest_of(hung)), steps


def test_a_smooth_way_is_taken_in_quarters(monkeypatch, hung, model) -> None:
    found, steps = way(monkeypatch, hung, model, breaks=9.0)
    assert found is not None
    assert found[1] == ()
    assert steps == [(share, 0.25, 120) for share in (0.0, 0.25, 0.5, 0.75)]


def test_a_step_that_goes_elsewhere_is_taken_in_thirds_down_to_a_hundredth(monkeypatch, hung, model) -> None:
    """Elsewhere at 0.3: 0.25 to it is a third, 0.0833, a ninth, 0.0278, and then 0.01, a hundredth; the steps up to it
    stay so short, and after it they are twice as long each time up to a quarter.
    """
    found, steps = way(monkeypatch, hung, model, breaks=0.301)
    assert found is not None
    assert len(found[1]) == 1
    lengths = [step for _, step, _ in steps]
    assert lengths[:6] == pytest.approx([0.25, 0.25, 0.25 / 3, 0.25 / 9, 0.25 / 9 * 2, 0.25 / 9 * 2 / 3])
    assert min(lengths) == pytest.approx(0.01)
    at = next(n for n, (load, step, _) in enumerate(steps) if step < 0.0101 and load < 0.301 < load + step)
    assert steps[at][2] == 400, "the smallest step may take as long as it takes"
    assert all(most == (400 if step <= 0.0100001 else 120) for _, step, most in steps)
    assert lengths[at + 1 : at + 6] == pytest.approx([0.02, 0.04, 0.08, 0.16, 0.25])
    assert steps[-1][0] + steps[-1][1] == pytest.approx(1.0)
    unsnapped, _ = way(monkeypatch, hung, model, breaks=0.301, snaps_there=False)
    assert unsnapped is not None
    assert unsnapped[1] == ()
    assert way(monkeypatch, hung, model, breaks=0.301, rests=False)[0] is None


def put_on(monkeypatch, hung, model, strays_at: float, strays_after: float = 9.0):
    """(whether in doubt, every (share, step)) where each step past `strays_at`, or from `strays_after` on, ends
    elsewhere.
    """
    steps: list[tuple[float, float]] = []
    own, skirt = hung.cage.parameters.own_weight.sum(), 9.81
    looses: list[float] = []

    def rests(loaded, _posture, _forces, loose):
        steps.append(((weight_of(loaded) - own) / skirt, 0.0))
        looses.append(loose)
        return rest_of(hung)

    def response(_loaded, _posture, _forces, share):
        asked.append(share)
        return np.zeros(3)

    asked: list[float] = []
    monkeypatch.setattr(hanging, "load_response", response)
    monkeypatch.setattr(hanging, "come_to_rest", rests)

    def elsewhere(*_):
        begun, ended = steps[-1][0] - asked[-1], steps[-1][0]
        return begun < strays_at < ended or begun >= strays_after - 1e-12

    monkeypatch.setattr(hanging, "strays", elsewhere)
    progress = Progress(0, [])
    _, doubtful = put_skirt_on(model, rest_of(hung), progress)
    ends = [end for end, _ in steps]
    assert progress.steps == 7 * len(ends), "every trial counts"
    # Two thousandths of the whole weight may be left over.
    assert looses == pytest.approx([0.002 * (own + skirt)] * len(ends))
    return doubtful, list(zip(ends, asked, strict=True))


def test_a_doubtful_step_is_halved_down_to_a_fiftieth(monkeypatch, hung, model) -> None:
    smooth, steps = put_on(monkeypatch, hung, model, 9.0)
    assert not smooth
    assert steps == [(pytest.approx(end), step) for end, step in ((0.25, 0.25), (0.75, 0.5), (1.0, 0.25))]
    doubtful, steps = put_on(monkeypatch, hung, model, 0.26)
    assert doubtful
    # 0.75, 0.5, 0.375, 0.3125, 0.28125 and then 0.015625 over 0.25, which is short enough; then a quarter again.
    assert steps[1:7] == [(pytest.approx(0.25 + 2.0**-n), pytest.approx(2.0**-n)) for n in range(1, 7)]
    assert steps[7][1] == pytest.approx(0.25)
    assert steps[-1][0] == pytest.approx(1.0)


def test_a_skirt_that_goes_elsewhere_all_the_way_is_put_on_as_it_comes(monkeypatch, hung, model) -> None:
    """From the first quarter on: 1/2, 1/4, 1/8, 1/16, 1/32 and 1/64, which is short enough, are six; the seventh is a
    quarter from there, halved once more, and then 0.125 of it, a quarter and the rest, as they come.
    """
    doubtful, steps = put_on(monkeypatch, hung, model, 9.0, strays_after=0.25)
    assert doubtful
    lengths = [step for _, step in steps]
    assert lengths == pytest.approx(
        [0.25, 0.5, 0.25, 0.125, 0.0625, 0.03125, 0.015625, 0.25, 0.125, 0.25, 1.0 - 0.640625]
    )
    assert steps[-1][0] == pytest.approx(1.0)


def test_good_enough_on_the_way_is_two_thousandths_of_the_weight(model) -> None:
    assert loose_force(model) == pytest.approx(0.002 * weight_of(model))
    none = replace(model, weight=np.zeros_like(model.weight))
    assert loose_force(none) == 1e-7


def hangings(monkeypatch, hung, *, doubtful: bool, off: float):
    """What `hang` asks, where the loose rest lies `off` m from the exact one: (springs, whether exact steps follow)."""
    asked: list[Any] = []
    begun: list[Any] = []

    def rests(model, _posture, _forces, loose=None):
        asked.append((model.spring, loose is not None))
        return rest_of(hung)

    monkeypatch.setattr(hanging, "come_to_rest", rests)
    monkeypatch.setattr(
        hanging,
        "put_skirt_on",
        lambda model, _rest, _progress: (asked.append(model.spring), (rest_of(hung, off), doubtful))[1],
    )
    monkeypatch.setattr(hanging, "step_by_step", lambda *told: begun.append(told) or told[3])
    progress = Progress(0, [])
    hang(model_of(hung.cage, 30000.0), progress)
    assert progress.steps == 7 * 3
    return asked, bool(begun)


@pytest.mark.parametrize(
    ("doubtful", "off", "stepwise"), [(False, 0.02, False), (False, 0.0201, True), (True, 0.0, True)]
)
def test_softer_springs_first_and_exact_steps_where_there_is_doubt(
    monkeypatch, hung, doubtful, off, stepwise
) -> None:
    asked, begun = hangings(monkeypatch, hung, doubtful=doubtful, off=off)
    assert asked == [(300.0, True), (3000.0, True), 3000.0, (30000.0, False)]
    assert begun is stepwise


def test_a_bare_cage_takes_three_springs_and_no_steps_of_load(monkeypatch, hung) -> None:
    asked: list[Any] = []
    monkeypatch.setattr(
        hanging,
        "come_to_rest",
        lambda model, *_, loose=None: asked.append((model.spring, loose is None)) or rest_of(hung),
    )
    monkeypatch.setattr(hanging, "put_skirt_on", None)
    bare = hung.cage.with_parameters(skirt_weight=0.0 * hung.cage.parameters.skirt_weight)
    hang(model_of(bare, 30000.0), Progress(0, []))
    assert asked == [(300.0, False), (3000.0, False), (30000.0, True)]


def test_exact_steps_tell_their_snaps_or_lead_nowhere(monkeypatch, hung, model) -> None:
    node = int(hung.cage.connectivity.crossing[0, 2])
    last, rest = rest_of(hung), rest_of(hung, 0.01, steps=20)
    monkeypatch.setattr(hanging, "come_to_rest", lambda *_, **__: rest_of(hung))
    for way_found, wanted, steps, notes in (
        (
            (rest, (Snap(0.314, node, 0.0519),)),
            rest,
            27,
            [SNAPPED],
        ),
        ((rest, ()), rest, 27, []),
        (None, last, 7, ["the skirt could not be put on step by step: trust the shape less than usual"]),
    ):
        monkeypatch.setattr(hanging, "followed", lambda *_, told=way_found: told)
        progress = Progress(0, [])
        assert hanging.step_by_step(model, model, rest_of(hung), last, progress) is wanted
        assert (progress.steps, progress.notes) == (steps, notes)
    monkeypatch.setattr(hanging, "come_to_rest", lambda *_, **__: rest_of(hung, reason="steps ran out"))
    monkeypatch.setattr(hanging, "followed", None)
    assert hanging.step_by_step(model, model, rest_of(hung), last, Progress(0, [])) is last


SNAPPED = (
    "hoop 1 at tape 3 moved 52 mm at once when the skirt's load passed 31%: it snapped to another shape, and may hang"
    " in either"
)
