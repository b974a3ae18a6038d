"""The steps of hanging a cage are states of that cage, and a strip joined with a half turn still closes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import trimesh
from models import sample, sample_stages
from rigs import whole_cage

from cage3d.mesh.dressing import dressing_steps
from cage3d.mesh.parts import build_parts
from cage3d.mesh.strip_line import strip_line
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out


def test_steps_are_named_for_what_has_been_done() -> None:
    assert [stage.name for stage in sample_stages("a")] == ["bare"]
    assert [stage.name for stage in sample_stages("d")] == ["bare", "ties fastened"]
    assert all(stage.settled.trusted for stage in sample_stages("d"))


def test_nothing_pulls_in_an_open_tie_and_something_in_a_fastened_one() -> None:
    bare, tied = (stage.settled for stage in sample_stages("d"))
    first = bare.cage.connectivity.segment_count
    assert np.all(bare.slack[first:] > 0)
    assert np.all(bare.state.pull_force[first:] == 0)
    assert np.any(tied.state.pull_force[first:] > 0)
    assert np.all(bare.cage.parameters.skirt_weight == 0)


def test_length_given_to_open_ties_leaves_the_cage_at_rest() -> None:
    bare = sample_stages("d")[0].settled
    again = settle(bare.cage, bare)
    assert np.abs(again.positions - bare.positions).max() < 1e-6


def test_bare_cage_without_ties_has_no_steps() -> None:
    assert dressing_steps(settle(lay_out(whole_cage(), 16))) == ()


def test_ties_alone_make_one_step() -> None:
    design = whole_cage(ties=[{"from": "hoop 3 tape 2", "to": "hoop 3 tape 7", "length": 0.5}])
    assert [stage.name for stage in dressing_steps(settle(lay_out(design, 16)))] == ["ties open"]


def test_hoop_joined_with_a_half_turn_is_drawn_closed() -> None:
    settled = sample("a")
    edges = settled.cage.connectivity.hoop_edges[0]
    angles = settled.state.angles.copy()
    angles[edges] += np.pi * np.arange(len(edges)) / len(edges)
    turned = replace(settled, state=replace(settled.state, angles=angles))
    assert strip_line(turned, 0).half_turn
    hoop = build_parts(turned, {"hoops"})[0]
    mesh = trimesh.Trimesh(hoop.solid.points, hoop.solid.faces, process=False)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.euler_number == 0
    steel = settled.cage.design.steel_of(0)
    assert mesh.volume == pytest.approx(48 * 0.0254 * steel.width * steel.thickness, rel=0.005)
