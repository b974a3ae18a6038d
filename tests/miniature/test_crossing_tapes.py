"""Bars that cross over one another shut in pockets of air, which no printer prints and nobody sees."""

from __future__ import annotations

import pytest
from manifold3d import Manifold

from cage3d.design.read import read_data
from cage3d.miniature.maquette import build_maquette
from cage3d.miniature.order import Order
from cage3d.miniature.solids import without_cavities
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out


def test_a_pocket_is_filled_and_nothing_else() -> None:
    """A cube of 10 mm with a pocket of 2 mm in it, and another cube apart from it."""
    cube, pocket = Manifold.cube((10, 10, 10), True), Manifold.cube((2, 2, 2), True)
    apart = Manifold.cube((3, 3, 3), True).translate((20, 0, 0))
    hollow = (cube - pocket) + apart
    assert hollow.volume() == pytest.approx(1000.0 - 8.0 + 27.0)
    filled = without_cavities(hollow)
    assert filled.volume() == pytest.approx(1000.0 + 27.0)
    assert len(filled.decompose()) == 2


def test_tapes_that_cross_between_two_hoops_print_standing() -> None:
    shares = {2: [0.12, 0.28, 0.45, 0.62, 0.78, 0.95], 3: [0.20, 0.04, 0.54, 0.38, 0.87, 0.71]}
    data = {
        "name": "crossing", "units": "cm",
        "wearer": {"waist": 68, "waist_height": 104, "hip": 98, "hip_drop": 20},
        "steel": {"width": "7 mm", "thickness": "0.5 mm"},
        "tapes": {"count": 6, "drops": [30, 25, 25]},
        "hoops": [
            {"length": 140},
            {"length": 180, "stations": shares[2]},
            {"length": 210, "stations": shares[3]},
        ],
        "skirt": {"weight": "0.8 kg"},
    }  # fmt: skip
    made = build_maquette(settle(lay_out(read_data(data))), Order("1:6", "filament", bed="400x400x400"))
    assert [body.name for body in made.bodies] == ["cage"]
