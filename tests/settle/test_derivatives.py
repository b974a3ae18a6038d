"""Gradients and Hessians of every energy term, proved by the slope of the Taylor remainder.

With the gradient alone the remainder falls with the square of the step, with the Hessian with
its cube; a wrong entry anywhere flattens the slope.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from rigs import STRIP_10, design_of, hard_cage

from cage3d.settle.assembly import pattern_of
from cage3d.settle.contact import FormGap
from cage3d.settle.model import model_of, no_forces, trial_at
from cage3d.settle.posture import Posture, first_posture
from cage3d.settle.terms.strip import STIFFNESSES
from cage3d.settle.terms.term import Blocks
from cage3d.settle.terms.wearer import BETWEEN
from cage3d.shape.form import Form, Oval
from cage3d.shape.lay_out import lay_out
from cage3d.shape.padding import Pad

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
    shake = 0.004 * chance.normal(size=model.unknowns.size)
    shake[3 * model.free_nodes :] *= 50.0
    trial = trial_at(model, first_posture(cage), no_forces(model)).moved(shake)
    direction = 2e-4 * chance.normal(size=model.unknowns.size)
    direction[3 * model.free_nodes :] *= 50.0
    return trial, direction, chance


def check(trial, direction):
    """Slopes 2 and 3 of the Taylor remainder of the energy along one direction."""
    slope, curve = trial.gradient @ direction, direction @ (trial.hessian.whole @ direction)
    energies = np.array([trial.moved(step * direction).energy for step in STEPS])
    first = energies - trial.energy - STEPS * slope
    assert slopes(first) == pytest.approx(2.0, abs=0.1)
    assert slopes(first - 0.5 * STEPS**2 * curve) == pytest.approx(3.0, abs=0.25)


def with_numbers(trial, **numbers):
    """The same posture of a cage with other numbers."""
    model = model_of(trial.model.cage.with_parameters(**numbers), trial.model.spring)
    return trial_at(model, trial.posture, no_forces(model))


def with_forces(trial, **forces):
    """The same posture with these forces known so far, by the term's name."""
    known = [forces.get(term.name, none) for term, none in zip(trial.model.terms, trial.forces, strict=True)]
    return trial.held_by(tuple(known))


@pytest.mark.parametrize("term", STIFFNESSES)
def test_each_rod_energy(rig, term):
    """One stiffness alone: nothing else of the energy is left that could hide a fault in it."""
    trial, direction, _ = rig
    bends = np.zeros(len(trial.model.cage.connectivity.bends))
    silent = with_numbers(trial, **{name: bends for name in STIFFNESSES if name != term})
    strip = [part for part in silent.model.terms if part.name == "strip"]
    alone = replace(silent.model, terms=tuple(strip), pattern=only_strip(silent.model))
    check(trial_at(alone, silent.posture, no_forces(alone)), direction)


def test_steel_that_lies_free_in_a_curve(rig):
    """A free curve adds to the energy what is linear in the angle between the edges."""
    trial, direction, chance = rig
    curves = chance.uniform(-8.0, 8.0, size=len(trial.model.cage.connectivity.bends))
    check(with_numbers(trial, set_curvature=curves), direction)


def test_tapes_that_stretch(rig):
    """Lines that give have a spring of their own and no force known so far; the others hold beside them."""
    trial, direction, chance = rig
    lengths = trial.model.cage.parameters.pull_length
    give = chance.uniform(1e-4, 5e-3, size=len(lengths)) * (np.arange(len(lengths)) % 2)
    stretched = with_numbers(trial, pull_give=give, pull_length=0.6 * lengths)
    pulls = stretched.model.place("pulls")
    assert (stretched.acting[pulls] > 0.0).all()
    known = with_forces(stretched, pulls=chance.uniform(1.0, 2.0, size=len(lengths)))
    check(known, direction)
    assert known.acting[pulls][1::2] == pytest.approx(stretched.acting[pulls][1::2])


def only_strip(model):
    return pattern_of([part.stencil for part in model.terms if part.name == "strip"], model.unknowns.size)


def test_whole_energy_with_forces_on_tapes_ties_and_steel(rig):
    trial, direction, chance = rig
    joined = trial.model.cage.connectivity
    # Every tape taut by force, so that no one-way constraint changes side within the steps.
    held = with_forces(
        trial,
        edges=chance.normal(size=len(joined.edges)),
        pulls=1e3 + chance.normal(size=len(joined.pulls)),
    )
    check(held, direction)
    # Of every block the upper half alone is assembled.
    for reading, known in zip(held.readings, held.forces, strict=True):
        block = reading.hessian(known, held.model.spring)
        if isinstance(block, Blocks):
            skew = block.values - block.values.transpose(0, 2, 1)
            assert abs(skew).max(initial=0.0) <= 1e-9 * abs(block.values).max(initial=0.0)


def test_a_tamed_hessian_falls_nowhere(rig):
    """Steel under pressure and sharply bent: the true one falls in many directions."""
    trial, _, _ = rig
    pressed = with_forces(trial, edges=np.full(len(trial.model.cage.connectivity.edges), -50.0))
    true, tamed = (np.linalg.eigvalsh(matrix.whole.toarray()) for matrix in (pressed.hessian, pressed.tamed))
    assert (true < -1.0).sum() > 50
    assert tamed.min() > -1e-9 * tamed.max()


def test_only_what_can_fall_is_tamed(rig):
    """Steel that is pulled keeps its whole stiffness, pressed it keeps its springs; straight steel all of bending."""
    trial, _, _ = rig
    edges = trial.model.place("edges")
    reading, spring = trial.readings[edges], trial.model.spring
    pull = np.full(len(reading.excess), 1e4)
    assert reading.tamed(pull, spring).values == pytest.approx(reading.hessian(pull, spring).values)
    slopes = reading.slopes(slice(None))
    springs = (spring / reading.spans)[:, None, None] * slopes[:, :, None] * slopes[:, None, :]
    assert reading.tamed(-pull, spring).values == pytest.approx(springs)
    straight = Posture(trial.posture.positions, 0.0 * trial.posture.angles, straight_rod(trial.posture.rod))
    strip = trial.model.terms[trial.model.place("strip")].at(straight)
    known = np.zeros(0)
    assert strip.tamed(known, spring).values == pytest.approx(strip.hessian(known, spring).values)


def straight_rod(rod):
    """Every edge along x with its frame upright, and no twist: nothing is sprung."""
    x, y, z = (np.tile(axis, (len(rod.lengths), 1)) for axis in np.eye(3))
    return replace(rod, tangents=x, references=z, twists=0.0 * rod.twists, normals=z, widths=-y)


def test_slack_tapes_do_nothing(rig):
    trial, _, _ = rig
    lengths = trial.model.cage.parameters.pull_length
    loose, looser = (with_numbers(trial, pull_length=factor * lengths) for factor in (9.0, 10.0))
    assert loose.energy == looser.energy
    assert np.array_equal(loose.gradient, looser.gradient)
    assert np.array_equal(loose.hessian.upper, looser.hessian.upper)
    # Nor do tapes that are not there at all.
    joined = trial.model.cage.connectivity
    none = replace(joined, pulls=joined.pulls[:0], pull_names=())
    cut = replace(trial.model.cage, connectivity=none).with_parameters(pull_length=lengths[:0])
    model = model_of(cut, trial.model.spring)
    assert trial_at(model, trial.posture, no_forces(model)).energy == loose.energy


FORM = Form((
    Oval(1.00, 0.12, 0.09, 2.2),
    Oval(0.90, 0.15, 0.11, 2.4),
    Oval(0.80, 0.17, 0.12, 2.7),
    Oval(0.40, 0.13, 0.10, 2.7),
    Oval(0.00, 0.10, 0.07, 2.7),
))  # fmt: skip

PADS = (Pad(0.25, 0.17, 0.75, 0.12, 0.3), Pad(0.5, 1e6, 0.85, 0.1, 0.2))


@pytest.mark.parametrize("form", [FORM, replace(FORM, pads=PADS)], ids=["bare", "padded"])
def test_gap_to_the_form(form):
    gap = FormGap(form)
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
    trial, direction, _ = rig
    wide = [Oval(s.height - 0.1, 2.0 * s.half_breadth, 2.5 * s.half_depth, s.power) for s in FORM.sections]
    form = Form(tuple(wide))
    # Without tapes, whose ways over so wide a form would be no ways at all.
    joined = replace(trial.model.cage.connectivity, pulls=np.zeros((0, 2), dtype=np.intp), pull_names=())
    bare = replace(trial.model.cage, form=form, connectivity=joined).with_parameters(pull_length=np.zeros(0))
    model = model_of(bare, 300.0)
    posture = replace(trial.posture, positions=trial.posture.positions - [0.0, 0.0, 0.5])
    touching = trial_at(model, posture, no_forces(model))
    for name in ("floor", "wearer", BETWEEN):
        assert (touching.acting[model.place(name)] > 0.0).any(), name
    check(touching, 0.1 * direction)


def test_one_way_forces_are_never_negative(rig):
    trial, _, _ = rig
    for term, acting in zip(trial.model.terms, trial.acting, strict=True):
        if term.name != "edges":
            assert acting.min(initial=0.0) >= 0.0


def test_other_springs_with_the_same_forces_have_the_same_gradient(rig):
    trial, _, _ = rig
    stiff = trial.with_springs(3e5)
    assert stiff.gradient == pytest.approx(trial.gradient, abs=1e-9 * np.abs(trial.gradient).max())
    for one, other in zip(trial.acting, stiff.acting, strict=True):
        assert one == pytest.approx(other, abs=1e-9)


def test_cloth_that_slides():
    """Lines over rings and over an open hoop, not all of which they touch, with losses to friction known so far."""
    hoops = [{"length": length, "join": "none"} for length in (1.5, 1.6, 2.3)] + [
        {"length": 2.1, "opening": "front"}
    ]
    skirt = {
        "weight": 1.2,
        "slides": True,
        "below_hem": 0.05,
        "lies": {"front": 0.1, "sides": 0.4, "back": 0.5},
    }
    design = design_of(
        waist=0.70,
        zero=1.05,
        drops=[[0.15, 0.18, 0.25, 0.22]] * 5,
        lengths=[],
        steel=STRIP_10,
        hoops=hoops,
        skirt=skirt,
    )
    cage, chance = lay_out(design, 20), np.random.default_rng(8)
    assert cage.cloths[0].over.any(axis=0).tolist() == [True, False, True, True]
    model = model_of(cage, 300.0)
    cloth = [term for term in model.terms if term.name == "cloth 1"]
    alone = replace(model, terms=tuple(cloth), pattern=pattern_of([cloth[0].stencil], model.unknowns.size))
    losses = (0.05 * chance.uniform(size=cloth[0].held),)
    shaken = trial_at(alone, first_posture(cage), losses).moved(
        0.01 * chance.normal(size=alone.unknowns.size)
    )
    check(shaken, 4e-3 * chance.normal(size=alone.unknowns.size))
