"""Newton's method step by step: what it shifts, and where it ends; worked by hand."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest
from rigs import whole_cage

from cage3d.settle import newton
from cage3d.settle.model import Model, Trial, model_of
from cage3d.settle.newton import Kept, Shift, bounded, minimise, positive_factor, unbalanced
from cage3d.settle.rest import force_tolerance, worst_node
from cage3d.settle.watch import Watch
from cage3d.shape.lay_out import lay_out


@pytest.fixture(name="model", scope="module")
def small_model() -> Model:
    return model_of(lay_out(whole_cage(), 16), 300.0)


def test_a_shift_grows_fourfold_and_shrinks_eightfold() -> None:
    """From 1 mN/m, below which it is nothing."""
    shift, grown = Shift(), []
    for _ in range(4):
        shift.grow()
        grown.append(shift.value)
    assert grown == pytest.approx([0.001, 0.004, 0.016, 0.064])
    shrunk = []
    for _ in range(4):
        shift.shrink()
        shrunk.append(shift.value)
    assert shrunk == pytest.approx([0.008, 0.001, 0.0, 0.0])


@pytest.mark.parametrize(
    ("move", "turn", "share"),
    [
        (0.02, 0.4, 1.0),
        (0.03, 0.8, 1.0),
        (0.06, 0.4, 0.5),
        (0.02, -1.6, 0.5),
        (-0.12, 1.6, 0.25),
        (0.06, 3.2, 0.25),
    ],
)
def test_a_step_goes_three_centimetres_and_rolls_eight_tenths_at_most(
    model: Model, move: float, turn: float, share: float
) -> None:
    step = np.zeros(model.unknowns.size)
    step[7], step[-3] = move, turn
    short = bounded(model, step)
    assert (short[7], short[-3]) == pytest.approx((share * move, share * turn))
    assert np.count_nonzero(short) == 2


def stub(gradient: list[float], width: float = 0.01) -> Trial:
    """Three free nodes and two edges of a strip this wide; edge 1 begins at node 2."""
    model = SimpleNamespace(
        metric=np.array([1.0] * 9 + [width**2] * 2), free_nodes=3, watch=Watch(),
        cage=SimpleNamespace(connectivity=SimpleNamespace(edges=np.array([[0, 1], [2, 0]]))),
    )  # fmt: skip
    return cast(Trial, SimpleNamespace(gradient=np.array(gradient), model=model))


@pytest.mark.parametrize(
    ("place", "size", "force", "node"),
    [(5, -1.9, 1.9, 1), (0, 0.5, 0.5, 0), (8, 0.5, 0.5, 2), (10, 0.02, 2.0, 2), (9, 0.02, 2.0, 0)],
)
def test_a_moment_counts_as_a_force_at_the_strips_width(
    place: int, size: float, force: float, node: int
) -> None:
    gradient = [0.0] * 11
    gradient[place] = size
    assert unbalanced(stub(gradient)) == pytest.approx(force)
    assert worst_node(stub(gradient)) == node


def test_where_nodes_lie_close_rounding_is_allowed_for(model: Model) -> None:
    """A tenth of a micronewton; or 20 roundings (2.2204e-16 m) of 1 N m2 over 1 mm cubed, 1e9 N/m: 4.44 uN."""
    assert force_tolerance(model) == 1e-7
    numbers = replace(
        model.cage.parameters,
        stiff=np.full_like(model.cage.parameters.stiff, 1.0),
        bend_length=np.full_like(model.cage.parameters.bend_length, 0.001),
    )
    close = replace(model, cage=replace(model.cage, parameters=numbers))
    assert force_tolerance(close) == pytest.approx(20 * 2.220446e-16 * 1e9)


class Plain:
    """A Hessian that is known by its name and its shift."""

    def __init__(self, name: str) -> None:
        self.name = name

    def shifted(self, shift: float, _metric: None) -> tuple[str, float]:
        return self.name, shift


def factors(monkeypatch: pytest.MonkeyPatch, falls: Any) -> list[tuple[str, float]]:
    """Names and shifts of the Hessians tried, in `falls(name, shift)` directions of which the energy falls."""
    asked: list[tuple[str, float]] = []

    def factorised(named: tuple[str, float]) -> Any:
        asked.append(named)
        negative = falls(*named)
        return None if negative is None else SimpleNamespace(negative=negative)

    monkeypatch.setattr(newton, "factorise", factorised)
    return asked


HAIR = [("whole", 0.0), ("whole", 0.001), ("whole", 0.004)]  # N/m


@pytest.mark.parametrize(
    ("falls", "shift", "tried"),
    [
        (lambda _name, _shift: 0, 0.0, [("whole", 0.0)]),
        # One direction that falls by little is outdone, a vanishing pivot too.
        (lambda _name, s: int(s < 0.004), 0.0, [("whole", 0.0), ("whole", 0.001), ("whole", 0.004)]),
        (lambda _name, s: None if s == 0.0 else 0, 0.0, [("whole", 0.0), ("whole", 0.001)]),
        # So are two that fall by a hair, as on a saddle that has two ways down.
        (lambda _name, s: 2 * (s < 0.001), 0.0, [("whole", 0.0), ("whole", 0.001)]),
        # Two that fall by more are tamed, from 0.1 N/m fourfold, or from the shift there is.
        (lambda name, _s: 2 * (name == "whole"), 0.0, [*HAIR, ("tamed", 0.1)]),
        (lambda name, s: 2 if name == "whole" else int(s < 1.0), 0.0,
         [*HAIR, ("tamed", 0.1), ("tamed", 0.4), ("tamed", 1.6)]),
        (lambda name, _s: 2 * (name == "whole"), 0.5, [("whole", 0.5), ("tamed", 0.5)]),
        # So is one that falls by more than a newton a metre.
        (lambda name, _s: int(name == "whole"), 0.25, [("whole", 0.25), ("whole", 1.0), ("tamed", 4.0)]),
        (lambda name, _s: int(name == "whole"), 2.0, [("tamed", 2.0)]),
    ],
)  # fmt: skip
def test_where_the_hessian_falls_it_is_shifted_or_tamed(monkeypatch, falls, shift, tried) -> None:
    trial = cast(
        Trial,
        SimpleNamespace(hessian=Plain("whole"), tamed=Plain("tamed"), model=SimpleNamespace(metric=None)),
    )
    asked = factors(monkeypatch, falls)
    assert positive_factor(trial, Shift(shift)) is not None
    assert [name for name, _ in asked] == [name for name, _ in tried]
    assert [value for _, value in asked] == pytest.approx([value for _, value in tried])
    # None up to 1e9: a tenth times four sixteen times is 4.29e8.
    for never in (2, None):
        asked = factors(monkeypatch, lambda _name, _shift, told=never: told)
        assert positive_factor(trial, Shift()) is None
        assert asked[-1][1] == pytest.approx(0.1 * 4.0**16 if never else 4.096 * 4.0**13)


def descents(monkeypatch, taken: list[float]) -> list[float]:
    """The shifts with which `minimise` asks, where its searches take these shares of their steps."""
    shares, shifts = iter(taken), []

    def factor(_trial: Trial, shift: Shift) -> Any:
        shifts.append(shift.value)
        return SimpleNamespace(solve=lambda gradient: gradient)

    monkeypatch.setattr(newton, "positive_factor", factor)
    monkeypatch.setattr(newton, "search_along", lambda trial, _step: (next(shares), trial))
    monkeypatch.setattr(newton, "bounded", lambda _model, step: step)
    return shifts


def test_refused_steps_shift_more_and_whole_ones_less(monkeypatch) -> None:
    """Refused: twice fourfold, from nothing 1 and then 4 mN/m. Whole: an eighth. Half: as it was."""
    shifts = descents(monkeypatch, [0.0, 0.5, 0.0, 1.0, 1.0, 1.0, 1.0])
    trial, steps = minimise(stub([1.0] * 11), 1e-7, 7)
    assert shifts == pytest.approx([0.0, 0.004, 0.004, 0.064, 0.008, 0.001, 0.0])
    assert steps == 7
    assert trial.gradient[0] == 1.0


@pytest.mark.parametrize(("tolerance", "most", "steps"), [(1.0, 9, 0), (0.999, 9, 9), (0.5, 0, 0)])
def test_descent_ends_at_rest_or_with_the_budget(
    monkeypatch, tolerance: float, most: int, steps: int
) -> None:
    descents(monkeypatch, [0.5] * 20)
    assert minimise(stub([1.0] + [0.0] * 10), tolerance, most)[1] == steps


def test_descent_ends_where_no_shift_helps(monkeypatch) -> None:
    """Steps refused at ever larger shifts: up to 1e9 / 16, beyond which it is given up."""
    shifts = descents(monkeypatch, [0.0] * 40)
    _, steps = minimise(stub([1.0] * 11), 1e-7, 40)
    assert shifts[-1] == pytest.approx(0.004 * 16.0 ** (len(shifts) - 2))
    assert shifts[-2] <= 1e9 / 16 < shifts[-1]
    assert steps == len(shifts) - 1
    monkeypatch.setattr(newton, "positive_factor", lambda *_: None)
    assert minimise(stub([1.0] * 11), 1e-7, 40)[1] == 0


@pytest.mark.parametrize(
    ("forces", "taken", "asked"),
    [
        ([1.0, 0.1, 0.01, 0.001], [1.0, 1.0, 1.0], 1),  # a tenth is left each time: one factor serves
        ([1.0, 0.11, 0.0121, 0.001331], [1.0, 1.0, 1.0], 3),  # more than that
        ([1.0, 0.1, 0.05, 0.005, 0.0005], [1.0, 1.0, 1.0, 1.0], 2),  # the second step left a half
        ([1.0, 0.1, 0.01, 0.001], [0.5, 1.0, 1.0], 2),  # the first was shortened
        ([1.0, 0.1, 0.1, 0.01], [1.0, 0.0, 1.0], 2),  # the second refused: no shift for that
    ],
)
def test_a_factor_serves_for_as_long_as_its_steps_are_as_good_as_newtons(
    monkeypatch, forces, taken, asked
) -> None:
    shifts = descents(monkeypatch, taken)
    shares, left = iter(taken), iter(forces[1:])

    def searched(_trial: Trial, _step: np.ndarray) -> tuple[float, Trial]:
        return next(shares), stub([next(left)] + [0.0] * 10)

    monkeypatch.setattr(newton, "search_along", searched)
    kept = Kept()
    minimise(stub([forces[0]] + [0.0] * 10), 1e-7, len(taken), kept)
    assert shifts == [0.0] * asked
