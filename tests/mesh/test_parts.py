"""Parts of the model: closed, sound, as large as what they are of, and in their places."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import trimesh
from models import every_sample, parts_of, sample, sample_stages

from cage3d.mesh.cover import ROUND, STEPS
from cage3d.mesh.part import ALL_KINDS, Part
from cage3d.mesh.parts import build_parts
from cage3d.mesh.wearer import drawn_form


def named(parts: tuple[Part, ...], name: str) -> Part:
    (part,) = (part for part in parts if part.name == name)
    return part


def as_trimesh(part: Part) -> trimesh.Trimesh:
    return trimesh.Trimesh(part.solid.points, part.solid.faces, process=False)


def out_of_plane(points: np.ndarray) -> float:
    centred = points - points.mean(axis=0)
    return float(np.abs(centred @ np.linalg.svd(centred, full_matrices=False)[2][2]).max())


@every_sample
def test_hoops_are_closed_and_have_the_volume_of_their_strip(letter: str) -> None:
    settled = sample(letter)
    design = settled.cage.design
    for hoop, part in enumerate(parts_of(letter, "hoops")):
        mesh = as_trimesh(part)
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        assert mesh.body_count == 1
        assert mesh.euler_number == (0 if settled.cage.connectivity.closed[hoop] else 2)
        steel = design.steel_of(hoop)
        assert steel.coating == 0.0
        area = steel.strands * steel.thickness * steel.width
        assert mesh.volume == pytest.approx(design.hoops[hoop].length * area, rel=0.005)


def test_there_is_a_saddle_among_the_hoops_checked() -> None:
    settled = sample("f")
    deepest = max(out_of_plane(settled.positions[nodes]) for nodes in settled.cage.connectivity.hoop_nodes)
    assert deepest > 0.01


@every_sample
def test_section_stands_square_to_the_solvers_frames(letter: str) -> None:
    settled = sample(letter)
    joined = settled.cage.connectivity
    for hoop, part in enumerate(parts_of(letter, "hoops")):
        rings = part.solid.points.reshape(-1, 4, 3)
        rings = rings[:: -(-len(rings) // len(joined.hoop_nodes[hoop]))]
        wide = rings[:, 2] - rings[:, 1]
        wide /= np.linalg.norm(wide, axis=1)[:, None]
        edges = joined.hoop_edges[hoop]
        widths = settled.strip_widths[edges]
        if joined.closed[hoop]:
            wanted = widths + np.roll(widths, 1, axis=0)
        else:
            wanted = np.vstack([widths, widths[-1:]]) + np.vstack([widths[:1], widths])
        wanted /= np.linalg.norm(wanted, axis=1)[:, None]
        lean = np.degrees(np.arccos(np.clip(np.einsum("ij,ij->i", wide, wanted), -1, 1)))
        assert lean.max() < 0.25


@every_sample
def test_seam_is_no_longer_than_any_other_step(letter: str) -> None:
    settled = sample(letter)
    for hoop, part in enumerate(parts_of(letter, "hoops")):
        if settled.cage.connectivity.closed[hoop]:
            rings = part.solid.points.reshape(-1, 4, 3)
            steps = np.linalg.norm(np.roll(rings, -1, axis=0) - rings, axis=2)
            assert steps[-1].max() < 1.05 * steps[:-1].max()


@every_sample
def test_every_part_but_the_skirt_is_closed_and_sound(letter: str) -> None:
    for part in parts_of(letter):
        mesh = as_trimesh(part)
        assert np.all(np.isfinite(part.vertices))
        assert mesh.area_faces.min() > 1e-12
        assert mesh.is_watertight == (part.kind != "skirt")
        assert mesh.is_winding_consistent
        if part.kind != "skirt":
            assert all(body.volume > 0 for body in mesh.split())


@every_sample
def test_normals_are_unit_and_agree_with_the_faces(letter: str) -> None:
    for part in parts_of(letter):
        assert np.allclose(np.linalg.norm(part.normals, axis=1), 1)
        corners = part.vertices[part.faces]
        flat = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        flat /= np.linalg.norm(flat, axis=1)[:, None]
        # Strip is shaded as it lies; tapes fold at band and hoops, the buckle's wire turns round its corners.
        least = {"hoops": 0.99, "joins": 0.99, "form": 0.9}.get(
            part.kind, 0.4 if part.name.startswith("buckle") else 0.5
        )
        for corner in part.faces.T:
            assert np.einsum("ij,ij->i", part.normals[corner], flat).min() > least


@every_sample
def test_tapes_are_one_piece_lie_flat_and_pass_every_crossing(letter: str) -> None:
    settled = sample(letter)
    joined, design = settled.cage.connectivity, settled.cage.design
    for tape, part in enumerate(parts_of(letter, "tapes")):
        mesh = as_trimesh(part)
        assert mesh.body_count == 1
        assert mesh.euler_number == 2
        crossings = settled.positions[joined.crossing[joined.passed[:, tape], tape]]
        centre = part.solid.points.reshape(-1, 4, 3).mean(axis=1)
        away = np.linalg.norm(crossings[:, None] - centre, axis=2).min(axis=1)
        assert away.max() < 0.002
        # The broad faces look outward and inward, along the cage's own radius there.
        rings = part.solid.points.reshape(-1, 4, 3)[10:]
        across = rings[:, 2] - rings[:, 1]
        assert np.linalg.norm(across, axis=1) == pytest.approx(design.tapes.width, rel=0.05)
        radius = rings.mean(axis=1) * [1, 1, 0]
        share = np.einsum("ij,ij->i", across, radius) / np.linalg.norm(radius, axis=1) / design.tapes.width
        assert np.abs(share).max() < 0.75


@every_sample
def test_tapes_and_skirt_stay_outside_the_wearer(letter: str) -> None:
    form = drawn_form(sample(letter))
    assert form is not None
    for part in parts_of(letter, "tapes", "skirt"):
        below = part.vertices[part.vertices[:, 2] < form.sections[0].height - 0.02]
        assert form.clearance(below).min() > -0.0015


def test_casings_hold_the_steel_between_their_stitches() -> None:
    settled = sample("a")
    design = settled.cage.design
    marks = settled.cage.marks
    for tape, part in enumerate(parts_of("a", "casings")):
        patches = as_trimesh(part).split()
        assert len(patches) == len(design.hoops)
        for hoop, patch in enumerate(patches):
            crossing = settled.positions[settled.cage.connectivity.crossing[hoop, tape]]
            upper, steel, lower = patch.vertices.reshape(-1, 4, 3).mean(axis=1)
            assert np.linalg.norm(steel - crossing) < 1e-6
            above, below = np.linalg.norm(upper - steel), np.linalg.norm(lower - steel)
            assert above == pytest.approx(marks.steel[tape, hoop] - marks.upper[tape, hoop], rel=0.01)
            assert below == pytest.approx(marks.lower[tape, hoop] - marks.steel[tape, hoop], rel=0.01)


def test_join_lies_at_centre_back_over_its_length() -> None:
    settled = sample("a")
    for hoop, part in enumerate(parts_of("a", "joins")):
        points = part.solid.points
        assert abs(points[:, 0].mean()) < 1e-3
        assert points[:, 1].min() > 0
        steel = settled.cage.design.steel_of(hoop)
        # The usual lap of 2 in.
        assert part.solid.volume == pytest.approx(0.0508 * steel.thickness * steel.width, rel=0.01)


def test_tips_sit_on_the_ends_of_open_hoops() -> None:
    settled = sample("d")
    tips = parts_of("d", "tips")
    opened = [hoop for hoop in range(6) if not settled.cage.connectivity.closed[hoop]]
    assert [part.number for part in tips] == [hoop + 1 for hoop in opened for _ in range(2)]
    for hoop in opened:
        ends = settled.positions[settled.cage.connectivity.hoop_nodes[hoop][[0, -1]]]
        for end, side in zip(ends, ("left", "right"), strict=True):
            tip = named(tips, f"hoop {hoop + 1} {side} tip")
            assert np.linalg.norm(tip.solid.points - end, axis=1).min() < 0.01
            assert (tip.solid.points[:, 0].mean() > 0) == (side == "left")


@every_sample
def test_floor_is_at_height_nought_and_the_waistband_at_the_waist(letter: str) -> None:
    parts = parts_of(letter)
    assert named(parts, "floor").vertices[:, 2].max() == 0.0
    wearer = sample(letter).cage.design.wearer
    assert named(parts, "band").vertices[:, 2].mean() == pytest.approx(float(wearer.waist_height), abs=0.002)


def test_skirt_never_narrows_towards_the_hem() -> None:
    skirt = named(parts_of("b"), "skirt")
    rings = skirt.solid.points.reshape(-1, ROUND, 3)[::STEPS]
    reach = np.linalg.norm(rings[:, :, :2], axis=2)
    own = np.linalg.norm(sample("b").positions[sample("b").cage.connectivity.hoop_nodes[3]][:, :2], axis=1)
    assert own.max() < reach[-2].min() - 0.02  # sample b's lowest hoop is much narrower than the one above
    assert all(np.all(below - above > -1e-9) for above, below in pairwise(reach[2:]))


@every_sample
def test_stages_match_vertex_for_vertex(letter: str) -> None:
    worn = parts_of(letter)
    assert sample_stages(letter)
    for stage in sample_stages(letter):
        earlier = build_parts(stage.settled, ALL_KINDS)
        assert [part.name for part in earlier] == [part.name for part in worn]
        for before, after in zip(earlier, worn, strict=True):
            assert np.array_equal(before.faces, after.faces)
            assert before.vertices.shape == after.vertices.shape


def test_skirt_is_held_up_at_the_waist_until_it_is_put_on() -> None:
    worn = named(parts_of("d"), "skirt").vertices[:, 2]
    for stage in sample_stages("d"):
        held = named(build_parts(stage.settled), "skirt").vertices[:, 2]
        assert np.ptp(held) < 0.03 < np.ptp(worn)
        assert held.max() < 1.06


def test_fine_hoops_keep_their_length() -> None:
    plain, fine = build_parts(sample("c"), {"hoops"}), build_parts(sample("c"), {"hoops"}, fine=True)
    assert len(fine[0].vertices) > 1.9 * len(plain[0].vertices)
    for coarse, smooth in zip(plain, fine, strict=True):
        assert coarse.solid.volume == pytest.approx(smooth.solid.volume, rel=0.0005)
