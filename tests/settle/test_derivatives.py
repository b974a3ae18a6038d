"""Gradients and Hessians of every energy term, proved by the slope of the Taylor remainder.

With the gradient alone the remainder falls with the square of the step, with the Hessian with
its cube; a wrong entry anywhere flattens the slope.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from rigs import hard_cage

from cage3d.settle import bending
from cage3d.settle.contact import FormGap
from cage3d.settle.model import Forces, derivatives, energy, first_posture, model_of, moved, no_forces
from cage3d.shape.form import Form, Section
from cage3d.shape.lay_out import lay_out

STEPS = 2.0 ** -np.arange(2, 7)


def slopes(remainders: np.ndarray) -> np.ndarray:
    """Exponents of the step between neighbouring remainders."""
    return np.log2(np.abs(remainders[:-1]) / np.abs(remainders[1:]))


@pytest.fixture(name="rig")
def bent_cage():
    """A cage shaken out of its circles, and a direction to step in, both far from any special shape."""
    cage = lay_out(hard_cage(), 24)
    chance = np.random.default_rng(7)
    model = model_of(cage, 300.0)
    shake = 0.004 * chance.normal(size=model.pattern.size)
    shake[3 * model.free_nodes :] *= 50.0
    posture = moved(model, first_posture(cage), shake)
    direction = 2e-4 * chance.normal(size=model.pattern.size)
    direction[3 * model.free_nodes :] *= 50.0
    return model, posture, direction, chance


def check(value_at, gradient, hessian, direction):
    """Slopes 2 and 3 of the Taylor remainder along one direction."""
    start = value_at(0.0)
    first = np.array([value_at(step) - start - step * (gradient @ direction) for step in STEPS])
    second = first - np.array([0.5 * step**2 * (direction @ (hessian @ direction)) for step in STEPS])
    assert slopes(first) == pytest.approx(2.0, abs=0.1)
    assert slopes(second) == pytest.approx(3.0, abs=0.25)


@pytest.mark.parametrize("term", ["easy", "stiff", "torsion"])
def test_each_rod_energy(rig, term):
    model, posture, direction, _ = rig
    joined = model.cage.connectivity
    silent = {name: np.zeros(len(joined.bends)) for name in ("easy", "stiff", "torsion") if name != term}
    numbers = replace(model.cage.parameters, **silent)
    gradient, hessian = bending.derivatives(joined, numbers, posture.angles, posture.rod)
    stencil = model.pattern.stencils.bends
    whole_gradient = np.zeros(model.pattern.size)
    np.add.at(whole_gradient, stencil, gradient)

    def value_at(step: float) -> float:
        there = moved(model, posture, step * direction)
        return bending.energy(joined, numbers, there.angles, there.rod)

    class Product:
        """The sum of the blocks as an operator."""

        def __matmul__(self, vector: np.ndarray) -> np.ndarray:
            out = np.zeros(model.pattern.size)
            np.add.at(out, stencil, np.einsum("bij,bj->bi", hessian, vector[stencil]))
            return out

    check(value_at, whole_gradient, Product(), direction)


def test_whole_energy_with_forces_on_tapes_ties_and_steel(rig):
    model, posture, direction, chance = rig
    joined = model.cage.connectivity
    # Every tape taut by force, so that no one-way constraint changes side within the steps.
    forces = replace(
        no_forces(model),
        edges=chance.normal(size=len(joined.edges)),
        pulls=1e3 + chance.normal(size=len(joined.pulls)),
    )
    gradient, hessian, _ = derivatives(model, posture, forces)
    check(
        lambda step: energy(model, moved(model, posture, step * direction), forces),
        gradient,
        hessian,
        direction,
    )
    assert abs(hessian - hessian.T).max() < 1e-9 * abs(hessian).max()


def test_slack_tapes_do_nothing(rig):
    model, posture, _, _ = rig
    cage = model.cage.with_parameters(pull_length=10.0 * model.cage.parameters.pull_length)
    loose, gone = replace(model, cage=cage), no_forces(model)
    _, with_tapes, _ = derivatives(loose, posture, gone)
    assert energy(loose, posture, gone) == pytest.approx(
        energy(loose, posture, replace(gone, pulls=np.zeros_like(gone.pulls)))
    )
    shorter = replace(loose, cage=cage.with_parameters(pull_length=9.0 * model.cage.parameters.pull_length))
    assert abs(derivatives(shorter, posture, gone)[1] - with_tapes).max() == 0.0


FORM = Form((
    Section(1.00, 0.12, 0.09, 2.2),
    Section(0.90, 0.15, 0.11, 2.4),
    Section(0.80, 0.17, 0.12, 2.7),
    Section(0.40, 0.13, 0.10, 2.7),
    Section(0.00, 0.10, 0.07, 2.7),
))  # fmt: skip


def test_gap_to_the_form():
    gap = FormGap(FORM)
    chance = np.random.default_rng(5)
    points = chance.normal(size=(40, 3)) * [0.12, 0.1, 0.15] + [0.0, 0.0, 0.7]
    direction = 1e-2 * chance.normal(size=points.shape)
    value, gradient, hessian = gap.derivatives(points)
    assert value == pytest.approx(gap.gaps(points))
    slope = np.einsum("ni,ni->n", gradient, direction)
    curve = np.einsum("ni,nij,nj->n", direction, hessian, direction)
    first = [gap.gaps(points + step * direction) - value - step * slope for step in STEPS]
    second = [row - 0.5 * step**2 * curve for row, step in zip(first, STEPS, strict=True)]
    # Sums over many points: a single remainder may pass through zero.
    assert slopes(np.abs(first).sum(axis=1))[2:] == pytest.approx(2.0, abs=0.15)
    assert slopes(np.abs(second).sum(axis=1))[2:] == pytest.approx(3.0, abs=0.4)


def test_gap_is_zero_on_the_form_and_negative_inside():
    gap = FormGap(FORM)
    ring = FORM.ring(0.85, 64)
    assert np.abs(gap.gaps(ring)).max() < 1e-4
    assert gap.gaps(ring * [0.5, 0.5, 1.0]).max() < -0.05


def test_contact_pushes_out_of_the_form_and_off_the_floor(rig):
    model, posture, direction, _ = rig
    sunk = moved(replace(model), posture, np.zeros(model.pattern.size))
    down = replace(sunk, positions=sunk.positions - [0.0, 0.0, 0.5])
    touching = replace(
        model, gap=FormGap(Form(tuple(replace(s, height=s.height - 0.1) for s in FORM.sections)))
    )
    forces = no_forces(model)
    gradient, hessian, excess = derivatives(touching, down, forces)
    assert (excess.floor > 0).any()
    fine = 0.1 * direction
    check(lambda step: energy(touching, moved(touching, down, step * fine), forces), gradient, hessian, fine)


def test_forces_are_never_negative_where_nothing_can_push():
    cage = lay_out(hard_cage(), 24)
    model = model_of(cage, 300.0)
    forces = no_forces(model)
    assert isinstance(forces, Forces)
    assert min(forces.pulls.min(), forces.floor.min(), forces.body.min()) >= 0.0
