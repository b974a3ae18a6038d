"""A GLB opened at the first frame of its animation, or without it, is the cage of the report."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
import trimesh
from judges import blender
from models import LETTERS, sample, sample_stages
from on_the_surface import WITHIN, differences
from read_glb import mesh_named, model, opened, values

from cage3d.report import measure
from cage3d.report.hoops import hoop_reports
from cage3d.shape.arrays import Floats, Ints


def far_off(letter: str, hoops: dict[int, tuple[Floats, Ints]]) -> list[str]:
    """What leaves the report by more than WITHIN. hoops: number -> (points in our axes, triangles)."""
    found = []
    for hoop in measure(sample(letter)).hoops:
        off = differences(*hoops[hoop.number], hoop)
        found += [f"hoop {hoop.number} {what}: {by * 1000:.2f} mm" for what, by in off.items()
                  if not abs(by) < WITHIN]  # fmt: skip
    return found


def ours(points: Floats) -> Floats:
    """x left, y back, z up from glTF's X left, Y up, Z front."""
    return np.column_stack([points[:, 0], -points[:, 2], points[:, 1]])


def at_key(letter: str, key: int) -> dict[int, tuple[Floats, Ints]]:
    """Every hoop at a key of the animation, by the arithmetic of the format: base and weighed targets."""
    tree, buffer = opened(model(letter))
    (animation,) = tree["animations"]
    weights = values(tree, buffer, animation["samplers"][0]["output"]).reshape(-1, len(sample_stages(letter)))
    found = {}
    for number in range(1, len(sample(letter).cage.design.hoops) + 1):
        mesh = mesh_named(tree, f"hoop {number}")
        (primitive,) = mesh["primitives"]
        points = values(tree, buffer, primitive["attributes"]["POSITION"]).astype(float)
        for weight, target in zip(weights[key], primitive["targets"], strict=True):
            points = points + weight * values(tree, buffer, target["POSITION"])
        found[number] = (ours(points), values(tree, buffer, primitive["indices"]).reshape(-1, 3))
    return found


@pytest.mark.parametrize("letter", LETTERS)
def test_first_and_last_frame_are_the_report(letter: str) -> None:
    assert far_off(letter, at_key(letter, 0)) == []
    assert far_off(letter, at_key(letter, -1)) == []


def test_the_bare_cage_is_told_from_the_worn_one() -> None:
    """Where it stands in the animation, the bare cage of sample d is as the bare cage settles."""
    lowest = hoop_reports(sample_stages("d")[0].settled)[-1]
    assert max(map(abs, differences(*at_key("d", 2)[6], lowest).values())) < WITHIN
    assert far_off("d", at_key("d", 2)) != []


@pytest.mark.parametrize("letter", LETTERS)
def test_trimesh_reads_the_report(letter: str) -> None:
    scene = trimesh.load_scene(io.BytesIO(model(letter)), file_type="glb")
    hoops = {}
    for hoop in range(1, len(sample(letter).cage.design.hoops) + 1):
        transform, geometry = scene.graph[f"hoop {hoop}"]
        mesh = scene.geometry[geometry]
        placed = trimesh.transform_points(mesh.vertices, transform)
        hoops[hoop] = (ours(placed), np.asarray(mesh.faces))
    assert far_off(letter, hoops) == []


@pytest.mark.judge("blender")
@pytest.mark.parametrize("letter", LETTERS)
def test_blender_at_frame_1_shows_the_report(letter: str, tmp_path: Path) -> None:
    path = tmp_path / "cage.glb"
    path.write_bytes(model(letter))
    answer = blender(Path(__file__).with_name("in_blender.py"), str(path))
    assert answer["opened_at"] == 1
    # Blender's importer turns y up to its own z up: her front towards -y, as in our own axes.
    hoops = {int(name.split()[1]): (np.array(points), np.array(triangles))
             for name, (points, triangles) in answer["hoops_as_opened"].items()}  # fmt: skip
    assert far_off(letter, hoops) == []
