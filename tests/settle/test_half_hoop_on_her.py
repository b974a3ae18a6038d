"""A half hoop whose ends are sewn to the waistband of somebody with hips, where the band's lower edge lies in her.

By hand: what its stitches and its tapes pull with bears its weight, and nothing to the sides,
however finely the line is divided.
"""

from __future__ import annotations

import numpy as np
import pytest
from half_hoop import half_hoop

from cage3d.foresee.stiffness import sides_pushed
from cage3d.report import measure
from cage3d.report.pulls import pull_in_seam
from cage3d.settle import SettledCage


def test_it_comes_to_rest_though_the_band_lies_in_her() -> None:
    hung = half_hoop()
    joined, form = hung.cage.connectivity, hung.cage.form
    assert form is not None
    stand_off = hung.cage.parameters.stand_off[joined.hoop_nodes[0]].max()
    assert (form.clearance(hung.positions[joined.sewn[:, 0]]) < stand_off).all()
    assert hung.trusted


def test_no_hoop_is_said_to_lie_on_her_where_the_band_holds_it() -> None:
    report = measure(half_hoop())
    assert report.touching == ()
    assert [warning for warning in report.warnings if "on the wearer" in warning.text] == []


def seam_and_tape(hung: SettledCage) -> tuple[np.ndarray, np.ndarray]:
    """((2, 3) N at both seams, (3,) N of the tape from the band): what holds the upper hoop up."""
    joined = hung.cage.connectivity
    seams = np.array([pull_in_seam(hung, int(row)) for row in joined.meeting])
    row = int(np.flatnonzero((joined.segments == (0, 1)).all(axis=1))[0])
    upper, lower = hung.positions[joined.pulls[row]]
    return seams, hung.state.pull_force[row] * (upper - lower) / np.linalg.norm(upper - lower)


@pytest.mark.parametrize("nodes", [56, 112])
def test_stitches_and_tape_bear_the_weight_and_nothing_to_the_sides(nodes: int) -> None:
    hung = half_hoop(nodes)
    seams, tape = seam_and_tape(hung)
    numbers, free = hung.cage.parameters, hung.cage.connectivity.free_nodes
    weight = (numbers.own_weight + numbers.skirt_weight)[:free].sum()
    assert tape[2] > 0.05 * weight
    assert seams.sum(axis=0) + tape == pytest.approx([0.0, 0.0, weight], abs=1e-5)


def test_what_the_stitches_bear_does_not_hang_on_how_finely_the_line_is_divided() -> None:
    coarse, fine = (np.linalg.norm(seam_and_tape(half_hoop(nodes))[0], axis=1) for nodes in (56, 112))
    assert coarse == pytest.approx(fine, rel=0.02)


def test_a_hand_pushes_where_there_is_steel() -> None:
    """Half hoops behind her have none at the front."""
    assert sides_pushed(half_hoop()) == ("left", "back")
