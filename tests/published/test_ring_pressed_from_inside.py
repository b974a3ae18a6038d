"""A ring of strip pressed apart by an oval form inside it that is wider than the ring is round.

Sources: Roark's ring table, case of two opposite loads, by the small theory of rings [from memory]: under two opposite
forces F a ring gives by 0.148778 F R^3 / EI along them, and its bend where they act sharpens by F R / (pi EI). A form
that is more sharply curved than the ring touches it in one place on either side until the ring is bent there as sharply
as the form; from then on it lies along the form for a stretch, and leaves it with the form's curvature and a sudden
shear (the elastica in contact: Love, Mathematical Theory of Elasticity [from memory]).
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from rigs import STRIP_6, ring_on_tapes, without_weight

from cage3d.report.curves import hoop_curve
from cage3d.settle import settle
from cage3d.settle.bends import bend_curvatures
from cage3d.shape.form import Form, Oval
from cage3d.shape.lay_out import lay_out
from cage3d.shape.section_kinds import section_of

LENGTH = 2.0
RADIUS = LENGTH / (2 * np.pi)
DESIGN = ring_on_tapes(LENGTH, 4, STRIP_6, tapes={"stations": "between"})
BENDING = section_of(DESIGN.steel).stiffness.easy


def oval(half_breadth: float, tip: float) -> Form:
    """An upright oval cylinder of this half breadth, curved with radius `tip` at its sides."""
    half_depth = float(np.sqrt(tip * half_breadth))
    return Form(tuple(Oval(height, half_breadth, half_depth, 2.0) for height in (1.3, 0.8, 0.0)))


@cache
def pressed(wider: float, tip: float, nodes: int = 128):
    """The ring settled about an oval that is wider than it by a share of its radius."""
    cage = without_weight(lay_out(DESIGN, nodes))
    bare = cage.with_parameters(stand_off=0.0 * cage.parameters.stand_off)
    settled = settle(replace(bare, form=oval((1.0 + wider) * RADIUS, tip * RADIUS)))
    assert settled.trusted
    return settled


def push_on_one_side(settled) -> float:
    """N, of the left side."""
    ring = settled.positions[settled.cage.connectivity.hoop_nodes[0]]
    return float(settled.state.wearer_push[: len(ring)][ring[:, 0] > 0.0].sum())


def gap_scale(settled) -> float:
    """How many metres of true distance a metre of the form's gap is, at its sides: its gradient there."""
    form = settled.cage.form
    half_breadth, half_depth, _ = form.at(np.array(1.0))
    return float((half_breadth + half_depth) / 2.0 / half_breadth)


def true_push(settled) -> float:
    """The multipliers of the gap are forces times its gradient; N."""
    return push_on_one_side(settled) * gap_scale(settled)


def test_small_push():
    small, more = (true_push(pressed(wider, 0.3)) for wider in (0.002, 0.004))
    grown = 2.0 * 0.002 * RADIUS / ((more - small) * RADIUS**3 / BENDING)
    assert grown == pytest.approx(0.148778, rel=0.02)


def test_both_sides_push_alike():
    settled = pressed(0.05, 0.3)
    ring = settled.positions[settled.cage.connectivity.hoop_nodes[0]]
    push = settled.state.wearer_push[: len(ring)]
    assert push[ring[:, 0] > 0.0].sum() == pytest.approx(push[ring[:, 0] < 0.0].sum(), rel=1e-4)


def places_that_push(settled) -> int:
    """On one side, at nodes and between them."""
    forces = settled.state.forces
    return int(sum((forces[name] > 1e-6).sum() for name in forces if name.startswith("wearer"))) // 2


def test_a_sharp_form_touches_in_one_place():
    for wider in (0.01, 0.05):
        assert places_that_push(pressed(wider, 0.3)) <= 3


def test_a_blunt_form_is_lain_on_once_the_ring_is_bent_as_sharply():
    """A form of 0.7 of the ring's radius at its sides: F R^2 / EI = pi (1 / 0.7 - 1) = 1.346, at 9.5 % wider or so."""
    before, lain = pressed(0.06, 0.7), pressed(0.10, 0.7)
    for settled, least, most in ((before, 0.0, 1.346), (lain, 1.346, 9.0)):
        assert least < true_push(settled) * RADIUS**2 / BENDING < most
    assert places_that_push(before) <= 2
    assert places_that_push(lain) >= 4
    # All along the stretch the ring has the form's own curvature.
    joined = lain.cage.connectivity
    easy, _ = bend_curvatures(lain.cage, lain.strip_frames)
    at = lain.positions[joined.bends[:, 1]]
    a, b, _ = (float(v) for v in lain.cage.form.at(np.array(1.0)))
    place = np.arctan2(at[:, 1] / b, at[:, 0] / a)
    form_curvature = a * b / (a**2 * np.sin(place) ** 2 + b**2 * np.cos(place) ** 2) ** 1.5
    lies = lain.cage.form.clearance(at) < 1e-5
    inner = lies & np.roll(lies, 1) & np.roll(lies, -1)
    assert inner.sum() >= 4
    assert easy[inner] == pytest.approx(form_curvature[inner], rel=0.03)


@pytest.mark.parametrize(("wider", "tip"), [(0.01, 0.3), (0.05, 0.3), (0.10, 0.7)])
def test_nothing_goes_into_the_form(wider, tip):
    settled = pressed(wider, tip, 112)
    assert settled.cage.form.clearance(hoop_curve(settled, 0).points).min() > -1e-4, "a tenth of a millimetre"


def test_error_falls_with_the_square_of_the_segment():
    coarse, fine, finest = (true_push(pressed(0.05, 0.3, nodes)) for nodes in (32, 64, 256))
    assert 1.5 < np.log2(abs(coarse - finest) / abs(fine - finest)) < 2.7
