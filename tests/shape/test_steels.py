"""Cuts, joins and casing marks as laid out, by hand."""

from __future__ import annotations

import numpy as np
import pytest
from rigs import design_of

from cage3d.shape.cage import Cage
from cage3d.shape.lay_out import lay_out
from cage3d.shape.parameters import parameters_of

STRIP = {"width": 0.008, "thickness": 0.0005, "density": 8000.0}


def laid_out(**more: object) -> Cage:
    return lay_out(
        design_of(waist=0.8, zero=1.0, drops=[[0.2, 0.1]] * 4, lengths=[], steel=STRIP, **more), 16
    )


def two(first: dict[str, object], second: dict[str, object], **more: object) -> Cage:
    return laid_out(hoops=[{"length": 1.5, **first}, {"length": 1.8, **second}], **more)


def test_a_lap_is_cut_longer_and_weighs_its_second_layer() -> None:
    """60 mm more to cut; 60 mm of 8 x 0.5 mm at 8000 kg/m3 = 1.92 g, at centre front as written."""
    steel = two({"join": {"overlap": 0.06}, "join_at": "front"}, {}).steels[0]
    assert steel.cut == pytest.approx(1.56)
    assert steel.join is not None
    assert (steel.join.lapped, steel.join.overlap, steel.join.centre) == (True, 0.06, 0.0)
    assert steel.join.added == pytest.approx(0.00192)


def test_a_tube_takes_no_strip_and_weighs_its_walls() -> None:
    """Round 8 x 0.5 mm and its own 0.4 mm walls: 2 x (8 + 0.5 + 0.8) x 0.4 = 7.44 mm2 of 8000 kg/m3, 30 mm long."""
    steel = two({"join": {"tube": 0.03}}, {}).steels[0]
    assert steel.cut == pytest.approx(1.5)
    assert steel.join is not None
    assert (steel.join.lapped, steel.join.overlap, steel.join.centre) == (False, 0.0, 0.5)
    assert steel.join.added == pytest.approx(7.44e-6 * 8000.0 * 0.03)


def test_nothing_written_is_the_usual_lap_of_two_inches_and_open_hoops_have_none() -> None:
    first, second = two({}, {"opening": "front"}).steels
    assert first.join is not None
    assert first.join.length == pytest.approx(0.0508)
    assert second.join is None
    assert second.cut == pytest.approx(1.8)


def test_joins_stiffen_the_steel_they_cover() -> None:
    """A node's 93.75 mm lies in a lap of the same length whole: twice as stiff there; a tube ten times."""
    lapped = two({"join": {"overlap": 0.09375}}, {"join": "none"}, tapes={"stations": "on"}).parameters.easy
    plain = 205e9 * 0.008 * 0.0005**3 / 12.0
    assert lapped[:16] / plain == pytest.approx([2.0 if node == 8 else 1.0 for node in range(16)])
    tubed = two({"join": {"tube": 0.09375}}, {"join": "none"}, tapes={"stations": "on"}).parameters.easy
    assert tubed[:16] / plain == pytest.approx([10.0 if node == 8 else 1.0 for node in range(16)])


def test_casing_marks_of_two_strands_in_a_casing() -> None:
    """2 x 8 mm fill 16 of 20 mm: the lower line is 8 mm below the steel at the bottom, 10 midway, 12 at the top."""
    rests = ["bottom", "middle", "top", 0.001]
    cage = laid_out(
        hoops=[{"length": 1.5, "rest": rests, "steel": {"strands": 2}}, {"length": 1.8}],
        tapes={"casing": 0.020},
    )
    assert cage.marks.steel[:, 0] == pytest.approx(0.2)
    assert cage.marks.lower[:, 0] - 0.2 == pytest.approx([0.008, 0.010, 0.012, 0.009])
    assert cage.marks.upper == pytest.approx(cage.marks.lower - 0.020)
    assert cage.marks.lower[:, 1] - 0.3 == pytest.approx(0.004)


def test_parameters_alone_are_those_of_the_laid_out_cage() -> None:
    cage = two({"join": {"tube": 0.03}, "carries": 0.1}, {"opening": "back"}, skirt={"weight": 0.5})
    alone = parameters_of(cage.design, 16)
    for key, laid in vars(cage.parameters).items():
        assert np.array_equal(getattr(alone, key), laid), key
