"""A skirt over one basket alone lies on her other hip: nothing of her stands out, between its rings either."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from models import sample

from cage3d.design.read import read_data
from cage3d.mesh.parts import build_parts
from cage3d.mesh.wearer import drawn_form, rings_over
from cage3d.settle import SettledCage, settle
from cage3d.shape.form import Form, Oval
from cage3d.shape.lay_out import lay_out

SIDES = {"left": ([0.06, 0.19, 0.31, 0.44], "right"), "right": ([0.56, 0.69, 0.81, 0.94], "left")}


@cache
def one_basket(side: str, down: float) -> SettledCage:
    """A bow beside her, its tapes as long as `down` (in) at its ends and 2 in more at its outside."""
    stations, towards_her = SIDES[side]
    data = {
        "name": "One basket", "units": "in",
        "wearer": {"waist": 27, "waist_height": 40.5, "hip": 40, "hip_drop": 8},
        "steel": {"width": "7 mm", "thickness": "0.5 mm"},
        "tapes": {"count": 4, "stations": stations, "drops": [[down], [down + 2.0], [down + 2.0], [down]]},
        "hoops": [{"length": 27, "beside": side, "opening": towards_her, "ends": "sewn"}],
        "ties": [{"from": "hoop 1 tape 1", "to": "hoop 1 tape 4", "length": 15, "runs": side}],
        "skirt": {"weight": "0.5 kg"},
    }  # fmt: skip
    return settle(lay_out(read_data(data, "one.yaml"), 48))


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("down", [8.0, 16.0], ids=["high", "low"])
def test_nothing_of_her_stands_out_of_the_skirt(side: str, down: float) -> None:
    settled = one_basket(side, down)
    assert settled.trusted
    form, (skirt,) = drawn_form(settled), build_parts(settled, {"skirt"})
    assert form is not None
    corners = skirt.solid.points[skirt.solid.faces]
    shares = np.random.default_rng(1).dirichlet((1.0, 1.0, 1.0), 10)
    places = np.einsum("kc,fcd->fkd", shares, corners).reshape(-1, 3)
    off = form.clearance(places[places[:, 2] < form.sections[0].height - 0.02])
    assert off.min() > 0.0
    assert off.min() < 0.01  # and it does lie on her


def test_tapes_that_lie_on_her_pass_outside_of_her_between_their_places_too() -> None:
    """Over the fan's first drops, of 15 and 19 in, there are eight pieces."""
    settled = sample("j")
    form = drawn_form(settled)
    assert form is not None
    near = []
    for part in build_parts(settled, {"tapes"}):
        line = part.solid.points.reshape(-1, 4, 3).mean(axis=1)[1:]  # from the band's lower edge
        places = np.vstack([line[:-1] + share * np.diff(line, axis=0) for share in np.linspace(0.0, 1.0, 21)])
        near.append(form.clearance(places[places[:, 2] < form.sections[1].height - 0.01]).min())
    assert min(near) > 0.0
    assert sum(off < 0.003 for off in near) >= 4  # and lie on her


def radii(rings: np.ndarray) -> np.ndarray:
    return np.hypot(rings[..., 0], rings[..., 1])


def test_rings_move_out_until_the_lines_between_them_clear_her() -> None:
    """By hand, of round forms. A cylinder of 0.15 m is cleared by the gap, 6 mm. Of one that bulges to 0.15 m half way
    between two rings, the middle of the straight lines between these comes to lie 2 mm outside the bulge.
    """
    turn = 2.0 * np.pi * np.arange(24) / 24
    ring = 0.1 * np.column_stack([np.sin(turn), -np.cos(turn)])
    rings = np.stack([np.column_stack([ring, np.full(24, height)]) for height in (0.99, 0.61)])
    for middle, waist in ((0.15, 0.15), (0.15, 0.1)):
        form = Form(
            tuple(Oval(height, r, r, 2.0) for height, r in ((1.0, waist), (0.8, middle), (0.6, waist)))
        )
        over = rings_over(form, rings, 0.006, 0.002)
        if waist == middle:
            assert radii(over) == pytest.approx(0.156, abs=1e-9)
        else:
            assert radii(over.mean(axis=0)) == pytest.approx(0.152, abs=1e-3)
            assert radii(over).max() - radii(over).min() < 2e-3  # both moved, and alike
