"""The sweep: closed, outward, true to volume and to the frames it is given, also on saddles."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import trimesh
from numpy.typing import NDArray

from cage3d.mesh.frames import frames_from_edges, frames_from_widths, node_frames
from cage3d.mesh.solid import Solid, joined
from cage3d.mesh.sweep import rectangle, sweep
from cage3d.shape.section_kinds import rounded

COUNT = 90
TURN = 2 * np.pi * np.arange(COUNT) / COUNT
STRIP = rectangle(0.0005, 0.012)


def saddle(height: float = 0.08) -> NDArray[np.float64]:
    """An unsymmetric ring that leaves its plane: its curve has torsion that does not cancel."""
    return np.column_stack(
        [
            0.4 * np.sin(TURN),
            -0.3 * np.cos(TURN),
            1 + height * np.cos(2 * TURN) + 0.4 * height * np.sin(3 * TURN),
        ]
    )


def length_of(line: NDArray[np.float64], closed: bool) -> float:
    ends = np.vstack([line, line[:1]]) if closed else line
    return float(np.linalg.norm(np.diff(ends, axis=0), axis=1).sum())


def radial_normals(line: NDArray[np.float64]) -> NDArray[np.float64]:
    """On every edge of a closed line, outward from the axis."""
    middle = (line + np.roll(line, -1, axis=0)) / 2 * [1, 1, 0]
    return middle / np.linalg.norm(middle, axis=1)[:, None]


def as_trimesh(solid: Solid) -> trimesh.Trimesh:
    return trimesh.Trimesh(solid.points, solid.faces, process=False)


def check_closed_body(solid: Solid, euler: int) -> None:
    mesh = as_trimesh(solid)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.euler_number == euler
    assert mesh.body_count == 1
    assert mesh.area_faces.min() > 0
    assert mesh.volume > 0


@pytest.mark.parametrize("height", [0.0, 0.08])
def test_closed_strip_is_a_ring_with_the_strips_volume(height: float) -> None:
    line = saddle(height)
    solid = sweep(line, frames_from_edges(line, radial_normals(line), True), STRIP)
    check_closed_body(solid, euler=0)
    assert solid.volume == pytest.approx(length_of(line, True) * 0.0005 * 0.012, rel=0.005)


def test_open_strip_is_capped() -> None:
    line = saddle()[:70]
    solid = sweep(line, frames_from_edges(line, radial_normals(saddle())[:69], False), STRIP)
    check_closed_body(solid, euler=2)
    assert solid.volume == pytest.approx(length_of(line, False) * 0.0005 * 0.012, rel=0.005)


def test_mitre_keeps_the_volume_of_a_square_corner() -> None:
    line = np.array([[0.0, 0, 0], [1, 0, 0], [1, 1, 0]])
    solid = sweep(line, node_frames(line, np.tile([0.0, 0, 1], (3, 1)), False), rectangle(0.01, 0.1))
    check_closed_body(solid, euler=2)
    assert solid.volume == pytest.approx(2 * 0.01 * 0.1, rel=1e-12)


def test_section_does_not_lean_against_the_frames_given() -> None:
    line = saddle()
    normals = radial_normals(line)
    frames = frames_from_edges(line, normals, True)
    solid = sweep(line, frames, STRIP)
    rings = solid.points.reshape(COUNT, 4, 3)
    wide = rings[:, 2] - rings[:, 1]
    wide /= np.linalg.norm(wide, axis=1)[:, None]
    wanted = np.cross(frames.tangents, normals + np.roll(normals, 1, axis=0))
    wanted /= np.linalg.norm(wanted, axis=1)[:, None]
    # 17 degrees of lean is what carried frames give on such a ring; the mitre alone leans by less than 0.1.
    assert np.degrees(np.arccos(np.clip(np.einsum("ij,ij->i", wide, wanted), -1, 1))).max() < 0.1


def test_rolled_strip_keeps_its_roll_and_its_volume() -> None:
    line = saddle()
    along = np.roll(line, -1, axis=0) - line
    along /= np.linalg.norm(along, axis=1)[:, None]
    flat = radial_normals(line)
    flat = flat - np.einsum("ij,ij->i", flat, along)[:, None] * along
    flat /= np.linalg.norm(flat, axis=1)[:, None]
    roll = 0.6 * np.sin(2 * TURN)[:, None]
    normals = np.cos(roll) * flat + np.sin(roll) * np.cross(along, flat)
    frames = frames_from_edges(line, normals, True)
    # A node lies half an edge's turn and roll from the edges beside it: 3.8 degrees at the worst place here.
    assert np.einsum("ij,ij->i", frames.normals, normals).min() > np.cos(np.radians(4))
    solid = sweep(line, frames, STRIP)
    check_closed_body(solid, euler=0)
    assert solid.volume == pytest.approx(length_of(line, True) * 0.0005 * 0.012, rel=0.005)


def test_strip_that_comes_back_turned_by_half_a_turn_closes_its_seam() -> None:
    line = saddle(0.0)
    flat, up = radial_normals(line), np.array([0.0, 0, 1])
    roll = (TURN / 2)[:, None]
    frames = frames_from_edges(line, np.cos(roll) * flat + np.sin(roll) * up, True)
    assert frames.half_turn
    solid = sweep(line, frames, STRIP)
    check_closed_body(solid, euler=0)
    rings = solid.points.reshape(COUNT, 4, 3)
    seam = np.linalg.norm(rings[-1] - np.roll(rings[0], -2, axis=0), axis=1)
    assert seam.max() < 1.01 * np.linalg.norm(line[-1] - line[0])
    assert solid.volume == pytest.approx(length_of(line, True) * 0.0005 * 0.012, rel=0.005)


def test_normals_told_from_the_other_side_give_the_same_body() -> None:
    line = saddle()
    flips = np.where(np.arange(COUNT) % 7 < 3, 1.0, -1.0)[:, None]
    plain = sweep(line, frames_from_edges(line, radial_normals(line), True), STRIP)
    mixed = sweep(line, frames_from_edges(line, radial_normals(line) * flips, True), STRIP)
    assert np.array_equal(plain.points, mixed.points)


def test_drawn_normals_are_unit_and_outward_and_edges_sharp() -> None:
    line = saddle(0.0)
    solid = sweep(line, frames_from_edges(line, radial_normals(line), True), rectangle(0.02, 0.04))
    vertices, faces, normals = solid.drawn
    # Once a side, and once more where the strip laid flat begins and ends.
    assert len(vertices) == 2 * len(solid.points) + 8
    assert np.allclose(np.linalg.norm(normals, axis=1), 1)
    corners = vertices[faces]
    flat = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    flat /= np.linalg.norm(flat, axis=1)[:, None]
    for corner in faces.T:
        assert np.einsum("ij,ij->i", normals[corner], flat).min() > 0.99
    nearest = line[np.argmin(np.linalg.norm(vertices[:, None] - line, axis=2), axis=1)]
    assert np.einsum("ij,ij->i", vertices - nearest, normals).min() > 0


def test_ribbon_told_by_its_width_may_run_straight_out() -> None:
    line = np.array([[0.0, -0.1, 1], [0, -0.3, 1], [0, -0.3, 0.8]])
    solid = sweep(
        line, frames_from_widths(line, np.tile([1.0, 0, 0], (3, 1)), False), rectangle(0.001, 0.025)
    )
    check_closed_body(solid, euler=2)
    assert np.ptp(solid.points[:, 0]) == pytest.approx(0.025)


def test_line_that_folds_back_on_itself_gives_no_nan() -> None:
    line = np.array([[0.0, 0, 1], [0, 0, 0.5], [0, 0, 1]])
    solid = sweep(line, frames_from_widths(line, np.tile([1.0, 0, 0], (3, 1)), False), STRIP)
    assert np.all(np.isfinite(solid.points))


def test_round_bar_has_the_area_of_its_circle() -> None:
    line = np.array([[0.0, 0, 0], [0, 0, 2]])
    solid = sweep(
        line, node_frames(line, np.tile([1.0, 0, 0], (2, 1)), False), rounded(0.01, 12), smooth=True
    )
    check_closed_body(solid, euler=2)
    assert solid.volume == pytest.approx(2 * np.pi * 0.01**2, rel=1e-12)


@pytest.mark.parametrize("section", [STRIP[::-1], STRIP[:2], np.array([[0.0, 0], [2, 0], [1, 0.1], [1, 2]])])
def test_wrong_section_is_refused(section: NDArray[np.float64]) -> None:
    line = saddle()
    with pytest.raises(ValueError, match="convex and counter-clockwise"):
        sweep(line, frames_from_edges(line, radial_normals(line), True), section)


def test_joined_bodies_keep_their_volumes() -> None:
    line = saddle()
    ring = sweep(line, frames_from_edges(line, radial_normals(line), True), STRIP)
    both = joined([ring, replace(ring, points=ring.points + np.array([0, 0, 1]))])
    assert as_trimesh(both).body_count == 2
    assert both.volume == pytest.approx(2 * ring.volume)
