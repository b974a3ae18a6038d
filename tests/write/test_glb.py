"""The GLB: axes, metres, names, measures, morph targets; the same bytes for the same cage."""

from __future__ import annotations

import io

import numpy as np
import pytest
import trimesh
from models import LETTERS, sample, sample_stages
from read_glb import mesh_named, model, opened, values

from cage3d.mesh.part import ALL_KINDS, CAGE_KINDS
from cage3d.mesh.parts import build_parts
from cage3d.settle import settle
from cage3d.shape.lay_out import lay_out
from cage3d.write.glb import glb_bytes, to_gltf_axes

every_sample = pytest.mark.parametrize("letter", LETTERS)


def points_of(letter: str, name: str) -> np.ndarray:
    tree, buffer = opened(model(letter))
    return values(tree, buffer, mesh_named(tree, name)["primitives"][0]["attributes"]["POSITION"])


@every_sample
def test_names_are_unique_on_nodes_and_meshes_and_agree(letter: str) -> None:
    tree, _ = opened(model(letter))
    nodes = [node["name"] for node in tree["nodes"]]
    meshes = [mesh["name"] for mesh in tree["meshes"]]
    assert len(set(nodes)) == len(nodes)
    assert len(set(meshes)) == len(meshes)
    assert all(meshes[node["mesh"]] == node["name"] for node in tree["nodes"] if "mesh" in node)


def test_tree_goes_from_cage_over_hoops_to_hoop_1() -> None:
    tree, _ = opened(model("a"))
    nodes = tree["nodes"]
    (root,) = tree["scenes"][0]["nodes"]
    assert nodes[root]["name"] == "cage"
    (hoops,) = (nodes[child] for child in nodes[root]["children"] if nodes[child]["name"] == "hoops")
    assert [nodes[child]["name"] for child in hoops["children"]] == ["hoop 1", "hoop 2", "hoop 3", "hoop 4"]


def test_front_is_on_z_left_on_x_up_on_y_in_metres() -> None:
    # Hoops of D open at the front, and so does its band; those of A are closed, and the sheets put its buckle at CB.
    for letter, front in (("d", 1.0), ("a", -1.0)):
        frame = points_of(letter, "buckle")
        buckle = (frame.min(axis=0) + frame.max(axis=0)) / 2.0
        assert front * buckle[2] > 0.08
        assert abs(buckle[0]) < 1e-6
        assert buckle[1] == pytest.approx(41.5 * 0.0254, abs=1e-3)
    assert points_of("a", "tape 2")[:, 0].min() > 0  # tapes run from centre front by her left
    hoop = points_of("a", "hoop 4")
    assert np.ptp(hoop[:, 0]) == pytest.approx(74 * 0.0254 / np.pi, rel=0.05)
    assert points_of("a", "floor")[:, 1].max() == 0.0


def test_axes_are_turned_not_mirrored() -> None:
    turned = to_gltf_axes(np.eye(3))
    assert np.linalg.det(turned) == pytest.approx(1.0)
    assert turned.tolist() == [[1, 0, 0], [0, 0, -1], [0, 1, 0]]


@every_sample
def test_trimesh_reads_closed_hoops_with_the_strips_volume(letter: str) -> None:
    scene = trimesh.load_scene(io.BytesIO(model(letter)), file_type="glb", merge_norm=True)
    settled = sample(letter)
    design = settled.cage.design
    for hoop, closed in enumerate(settled.cage.connectivity.closed):
        mesh = scene.geometry[f"hoop {hoop + 1}"]
        mesh.merge_vertices(merge_norm=True, merge_tex=True)
        assert mesh.is_watertight
        assert mesh.euler_number == (0 if closed else 2)
        steel = design.steel_of(hoop)
        volume = design.hoops[hoop].length * steel.width * steel.strands * steel.thickness
        if steel.coating == 0.0:
            # 32-bit floats keep a strip half a millimetre thick to about a thousandth.
            assert mesh.volume == pytest.approx(volume, rel=0.005)


def test_measures_come_in_metres_and_in_the_designs_words() -> None:
    tree, _ = opened(model("a"))
    told = {node["name"]: node.get("extras", {}) for node in tree["nodes"]}
    assert told["hoop 1"]["length_m"] == pytest.approx(48 * 0.0254)
    assert told["hoop 1"]["length"] == "48 in"
    assert told["hoop 1"]["number"] == 1
    assert told["tape 3"]["drops_m"] == pytest.approx([8.25 * 0.0254, 6 * 0.0254, 5.5 * 0.0254, 5 * 0.0254])
    assert told["cage"]["design"] == "Short petticoat on four hoops"
    assert told["cage"]["settled"] is True


def test_materials_are_steel_cloth_and_glass_clear() -> None:
    tree, _ = opened(model("a"))
    looks = {material["name"]: material for material in tree["materials"]}
    assert looks["steel"]["pbrMetallicRoughness"]["metallicFactor"] == 1.0
    assert looks["steel"]["pbrMetallicRoughness"]["roughnessFactor"] == 0.35
    assert looks["tape"]["doubleSided"] is True
    assert looks["skirt"]["alphaMode"] == "BLEND"
    assert "covered steel" not in looks


@every_sample
def test_targets_carry_the_worn_cage_back_to_each_stage(letter: str) -> None:
    tree, buffer = opened(model(letter))
    stages = sample_stages(letter)
    for place, stage in enumerate(stages):
        for part in build_parts(stage.settled, {"hoops", "tapes", "ties"}):
            primitive = mesh_named(tree, part.name)["primitives"][0]
            worn = values(tree, buffer, primitive["attributes"]["POSITION"])
            moved = worn + values(tree, buffer, primitive["targets"][place]["POSITION"])
            assert np.abs(moved - to_gltf_axes(part.vertices)).max() < 1e-6
            normal = values(tree, buffer, primitive["attributes"]["NORMAL"])
            turned = normal + values(tree, buffer, primitive["targets"][place]["NORMAL"])
            assert np.abs(turned - to_gltf_axes(part.normals)).max() < 1e-6


def test_animation_begins_and_ends_with_the_worn_cage() -> None:
    tree, buffer = opened(model("d"))
    (animation,) = tree["animations"]
    assert animation["name"] == "as worn to bare to ties fastened to as worn"
    (sampler,) = animation["samplers"]
    times = values(tree, buffer, sampler["input"]).ravel()
    weights = values(tree, buffer, sampler["output"]).reshape(len(times), 2)
    assert np.all(np.diff(times) > 0)
    # Each stage stands from one key to the next.
    assert weights[::2].tolist() == [[0, 0], [1, 0], [0, 1], [0, 0]]
    assert weights[1::2].tolist() == weights[::2].tolist()
    driven = {channel["target"]["node"] for channel in animation["channels"]}
    moving = {place for place, node in enumerate(tree["nodes"])
              if "mesh" in node and "targets" in tree["meshes"][node["mesh"]]["primitives"][0]}  # fmt: skip
    assert driven == moving
    assert mesh_named(tree, "hoop 1")["extras"]["targetNames"] == ["bare", "ties fastened"]


def test_what_does_not_move_has_no_targets() -> None:
    tree, _ = opened(model("d"))
    for name in ("band", "wearer's form", "floor"):
        assert "targets" not in mesh_named(tree, name)["primitives"][0]


def test_without_stages_there_is_no_animation() -> None:
    tree, _ = opened(glb_bytes(sample("a")))
    assert "animations" not in tree
    assert all("targets" not in mesh["primitives"][0] for mesh in tree["meshes"])


@pytest.mark.parametrize("kinds", [frozenset({"hoops"}), CAGE_KINDS, ALL_KINDS - {"skirt"}])
def test_only_the_wanted_parts_are_written(kinds: frozenset[str]) -> None:
    tree, _ = opened(glb_bytes(sample("d"), (), kinds))
    assert [mesh["name"] for mesh in tree["meshes"]] == [
        part.name for part in build_parts(sample("d"), kinds)
    ]


def test_sample_c_is_small_enough_to_send() -> None:
    assert len(model("c")) < 3e6
    assert len(model("c")) < len(glb_bytes(sample("c"), sample_stages("c"), fine=True)) < 3e6


def test_same_cage_same_bytes() -> None:
    again = settle(lay_out(sample("a").cage.design))
    assert glb_bytes(again) == glb_bytes(sample("a"))
