"""The wearer whole: her girths are her measures, she stands on the floor, inside what hoops and ties lie on."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from models import LETTERS, sample
from petticoat import GOOD
from scipy.spatial import cKDTree

from cage3d.design.read import read_text
from cage3d.mesh.figure import figure_parts
from cage3d.mesh.parts import build_parts
from cage3d.mesh.wearer import drawn_form
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

every_sample = pytest.mark.parametrize("letter", LETTERS)
# The waist is drawn half a hundredth smaller than the band that lies on it; 48 points round lose a thousandth.
AT_WAIST, BELOW = 0.007, 0.002


def petticoat(measures: str) -> SettledCage:
    """The plain petticoat with more measures of its wearer."""
    return settle(lay_out(read_text(GOOD.replace("steel:", f"{measures}steel:"), "petticoat.yaml")))


def girths(settled: SettledCage, height: float) -> list[float]:
    """m round every part of her that a level plane meets, cut from the triangles."""
    found = []
    for part in figure_parts(settled):
        cut = trimesh.Trimesh(part.solid.points, part.solid.faces, process=False).section(
            [0, 0, 1], [0, 0, height]
        )
        found += [] if cut is None else [float(cut.length)]
    return found


@every_sample
def test_waist_and_hips_measure_as_written(letter: str) -> None:
    wearer = sample(letter).cage.design.wearer
    top = float(wearer.waist_height)  # no sample's waist is at an angle
    assert girths(sample(letter), top) == [pytest.approx(wearer.waist, rel=AT_WAIST)]
    assert girths(sample(letter), top - float(wearer.hip_drop or 0)) == [pytest.approx(wearer.hip, rel=BELOW)]
    assert girths(sample(letter), top - float(wearer.high_hip_drop or 0)) == [
        pytest.approx(wearer.high_hip, rel=BELOW)
    ]


def test_a_measured_knee_is_the_girth_of_either_knee() -> None:
    """39 in round the hip would have a knee of 14.4; 16 is written."""
    settled = petticoat("  hip: 39\n  hip_drop: 8\n  knee: 16\n  knee_height: 19\n")
    assert girths(settled, 19 * 0.0254) == [pytest.approx(16 * 0.0254, rel=BELOW)] * 2


@every_sample
def test_an_unmeasured_knee_is_a_usual_one(letter: str) -> None:
    """37 cm under a hip of 102 (from memory), within a twentieth."""
    wearer = sample(letter).cage.design.wearer
    hip = float(wearer.waist_height) - float(wearer.hip_drop or 0)
    both = girths(sample(letter), 0.55 * hip)
    assert both == [pytest.approx(0.37 / 1.02 * float(wearer.hip or 0), rel=0.05)] * 2


@every_sample
def test_she_stands_on_the_floor_and_never_outside_what_ties_lie_on(letter: str) -> None:
    settled = sample(letter)
    form = drawn_form(settled)
    assert form is not None
    points = np.vstack([part.solid.points for part in figure_parts(settled)])
    assert points[:, 2].min() == 0.0
    # Below the waistband and above the shoes.
    own = points[(points[:, 2] < form.sections[0].height - 0.02) & (points[:, 2] > 0.11)]
    assert form.clearance(own).max() < 1e-6


@every_sample
def test_she_is_symmetric_and_her_toes_point_forward(letter: str) -> None:
    left, right = (part.solid.points for part in figure_parts(sample(letter))[1:])
    assert cKDTree(right).query(left * [-1, 1, 1])[0].max() < 1e-9
    assert left[:, 0].min() > 0.0
    on_floor = left[left[:, 2] == 0.0]
    assert -on_floor[:, 1].min() > 1.5 * on_floor[:, 1].max()


def test_ties_lie_on_her_legs_and_not_in_them() -> None:
    """Sample d's upper ties press the back of her legs: less than a tie's thickness from them, nowhere inside."""
    settled = sample("d")
    form = drawn_form(settled)
    assert form is not None
    assert settled.state.ways
    for part in build_parts(settled, {"ties"}):
        middle = part.solid.points.reshape(-1, 4, 3).mean(axis=1)
        assert form.clearance(middle).min() == pytest.approx(0.002, abs=0.0005)


def test_without_a_hip_there_is_nobody_to_draw() -> None:
    assert figure_parts(petticoat("")) == []
