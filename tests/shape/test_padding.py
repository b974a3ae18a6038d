"""Padding on the wearer's form, and the form down to the floor."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hand.cage import PLAIN, changed

from cage3d.design.read import read_data
from cage3d.settle import settle
from cage3d.shape.form import Form, build_form
from cage3d.shape.lay_out import lay_out
from cage3d.shape.padding import Pad, taper

ROUND = {"hip": 1000, "hip_drop": 200, "hip_breadth": 320, "hip_depth": 320}


def form_of(**written: Any) -> Form:
    wide = {"hoops": [{"length": 1400, "join": "none"}]}
    design = read_data(changed(PLAIN, wide | written))
    form = build_form(design.wearer, design.padding)
    assert form is not None
    return form


def padded(place: str) -> Form:
    padding = [{"place": place, "thickness": 40, "height": 160, "drop": 200}]
    return form_of(wearer=ROUND, padding=padding)


def stands_out(form: Form, share: float, height: float = 0.8) -> float:
    """m by which the padding makes the form wider at a share of a turn from centre front."""
    ray = np.array([[np.sin(2 * np.pi * share), -np.cos(2 * np.pi * share), height]])
    return float(1.0 / form.fullness(ray)[0] - 1.0 / replace(form, pads=()).fullness(ray)[0])


@pytest.mark.parametrize(
    ("place", "full", "none"),
    [
        ("hips", [0.25, 0.75], [0.0, 0.5]),
        ("left", [0.25], [0.0, 0.5, 0.75]),
        ("right", [0.75], [0.0, 0.25, 0.5]),
        ("back", [0.5], [0.0, 0.25, 0.75]),
        ("roll", [0.5], [0.0]),
        ("round", [0.0, 0.25, 0.5, 0.75], []),
    ],
)
def test_a_pad_is_as_thick_as_written_at_its_middle_and_gone_where_it_is_not(place, full, none) -> None:
    form = padded(place)
    assert [stands_out(form, share) for share in full] == pytest.approx([0.040] * len(full))
    assert [stands_out(form, share) for share in none] == [0.0] * len(none)
    assert stands_out(form, full[0], 0.8 + 0.080) == stands_out(form, full[0], 0.8 - 0.081) == 0.0


def test_a_roll_is_nearly_full_at_the_sides() -> None:
    """A quarter from the back its share of the way to the edge is 0.25/0.45: (1 - 0.5556^4)^3 = 0.740."""
    assert stands_out(padded("roll"), 0.25) == pytest.approx(0.040 * 0.740, rel=1e-3)


def test_the_taper_has_two_continuous_derivatives() -> None:
    u = np.linspace(-1.2, 1.2, 4801)
    value, slope, curve = taper(u)
    assert np.gradient(value, u)[1:-1] == pytest.approx(slope[1:-1], abs=1e-4)
    assert np.gradient(slope, u)[1:-1] == pytest.approx(curve[1:-1], abs=0.1)
    assert np.abs(np.diff(curve)).max() < 0.5


def test_the_ring_that_is_drawn_is_the_padded_form() -> None:
    ring = padded("hips").ring(0.8, 64)
    assert np.hypot(*ring[:, :2].T).max() == pytest.approx(1 / (2 * np.pi) + 0.040, rel=1e-3)
    assert padded("hips").fullness(ring) == pytest.approx(1.0, abs=1e-3)


def test_a_hoop_lies_on_the_pad_and_not_in_it() -> None:
    """A hoop 2 cm wider all round than her hips, a pad of 35 mm at the back: it is pushed back and touches."""
    written = {
        "wearer": ROUND,
        "padding": [{"place": "back", "thickness": 35, "height": 160, "drop": 200}],
        "hoops": [{"length": 1126, "join": "none"}],
    }
    settled = settle(lay_out(read_data(changed(PLAIN, written))))
    assert settled.trusted
    form, ring = settled.cage.form, settled.positions[settled.cage.connectivity.hoop_nodes[0]]
    assert form is not None
    assert form.clearance(ring).min() > -1e-4
    assert settled.state.wearer_push.max() > 0.0
    assert ring[:, 1].max() == pytest.approx(1 / (2 * np.pi) + 0.035, abs=2e-3)


def test_the_form_stands_on_the_floor_on_legs_that_narrow_from_the_hip() -> None:
    form = form_of(wearer=ROUND | {"knee_height": 440})
    heights = [oval.height for oval in form.sections]
    assert heights == sorted(heights, reverse=True)
    assert heights[-1] == 0.0
    legs = [oval for oval in form.sections if oval.height < 0.8]
    assert all(oval.half_breadth < 1 / (2 * np.pi) for oval in legs)
    knee = next(oval for oval in legs if oval.height == pytest.approx(0.440))
    assert (knee.half_breadth, knee.half_depth) == pytest.approx((0.67 / (2 * np.pi), 0.55 / (2 * np.pi)))


def test_a_knee_measured_close_under_the_hip_leaves_no_thigh() -> None:
    heights = [oval.height for oval in form_of(wearer=ROUND | {"knee_height": 740}).sections]
    assert heights == sorted(set(heights), reverse=True)


def test_pads_that_lie_over_one_another_add_up() -> None:
    one, other = Pad(0.5, 0.2, 0.8, 0.1, 0.2), Pad(0.5, 0.3, 0.8, 0.2, 0.1)
    middle = np.array([[0.0, 1.0, 0.8]])
    both = replace(form_of(wearer=ROUND), pads=(one, other))
    assert both.swelling(middle) == pytest.approx([0.3])
