"""What programs we did not write make of the files."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from judges import admesh_counts, blender, gltf_complaints
from models import LETTERS, sample, sample_stages
from random_designs import random_design

from cage3d.mesh.dressing import DressingStep, dressing_steps
from cage3d.mesh.part import CAGE_KINDS
from cage3d.mesh.parts import build_parts
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out
from cage3d.write.glb import MOVE, REST, glb_bytes
from cage3d.write.stl import closed_parts, stl_bytes

pytestmark = pytest.mark.judge

RANDOM_DESIGNS, BATCH = 100, 10
STAGED = 5  # every so many of them with its stages


def glb_at(path: Path, settled: SettledCage, stages: Sequence[DressingStep] = (), fine: bool = False) -> Path:
    path.write_bytes(glb_bytes(settled, stages, fine=fine))
    return path


@pytest.mark.judge("gltf-validator")
def test_validator_has_nothing_to_say_about_the_samples(tmp_path: Path) -> None:
    paths = [glb_at(tmp_path / f"{letter}.glb", sample(letter), sample_stages(letter)) for letter in LETTERS]
    paths += [glb_at(tmp_path / f"{letter}-plain.glb", sample(letter), fine=True) for letter in LETTERS]
    assert gltf_complaints(paths) == []


@pytest.mark.judge("gltf-validator")
@pytest.mark.parametrize(
    "first",
    [
        0,
        BATCH,
        *(pytest.param(first, marks=pytest.mark.slow) for first in range(2 * BATCH, RANDOM_DESIGNS, BATCH)),
    ],
)
def test_validator_has_nothing_to_say_about_random_designs(first: int, tmp_path: Path) -> None:
    paths = []
    for seed in range(first, first + BATCH):
        settled = settle(lay_out(random_design(seed, "any"), 12))
        stages = dressing_steps(settled) if seed % STAGED == 0 else ()
        paths.append(glb_at(tmp_path / f"{seed}.glb", settled, stages))
    assert gltf_complaints(paths) == []


@pytest.mark.judge("gltf-validator")
def test_validator_has_nothing_to_say_about_any_kind_of_design(tmp_path: Path) -> None:
    paths = [
        glb_at(tmp_path / f"{kind}.glb", settle(lay_out(random_design(0, kind), 12)))
        for kind in ("dense", "touching", "tilted", "open", "asymmetric")
    ]
    assert gltf_complaints(paths) == []


@pytest.mark.judge("gltf-validator")
def test_validator_does_complain_of_a_spoilt_file(tmp_path: Path) -> None:
    data = glb_bytes(sample("a"), wanted={"hoops"})
    (tmp_path / "spoilt.glb").write_bytes(data.replace(b'"VEC3"', b'"VEC2"'))
    assert gltf_complaints([tmp_path / "spoilt.glb"]) != []


@pytest.fixture(scope="module")
def in_blender(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """Sample d as Blender imports it."""
    path = glb_at(tmp_path_factory.mktemp("blender") / "d.glb", sample("d"), sample_stages("d"))
    return blender(Path(__file__).with_name("in_blender.py"), str(path))


@pytest.mark.judge("blender")
def test_blender_keeps_names_and_tree(in_blender: dict[str, Any]) -> None:
    parts = build_parts(sample("d"))
    assert set(in_blender["mesh_names"]) == {part.name for part in parts}
    assert all(mesh == thing for thing, mesh in in_blender["mesh_names"].items())
    assert in_blender["parents"]["hoop 1"] == "hoops"
    assert in_blender["parents"]["hoops"] == "cage"
    assert in_blender["materials"]["hoop 1"] == "steel"


@pytest.mark.judge("blender")
def test_blender_has_every_part_where_we_have_it_in_metres(in_blender: dict[str, Any]) -> None:
    # Blender turns glTF's y up to its own z up: her front comes out towards -y, as in our own axes.
    for part in build_parts(sample("d")):
        low, high = in_blender["extents"][part.name]
        assert np.allclose(low, part.vertices.min(axis=0), atol=1e-5)
        assert np.allclose(high, part.vertices.max(axis=0), atol=1e-5)
    assert in_blender["extents"]["buckle"][1][1] < -0.08


@pytest.mark.judge("blender")
def test_blender_gets_the_measures(in_blender: dict[str, Any]) -> None:
    assert in_blender["measures"]["hoop 3"]["length_m"] == pytest.approx(73.5 * 0.0254)
    assert in_blender["measures"]["hoop 3"]["length"] == "73 1/2 in"


@pytest.mark.judge("blender")
def test_blender_plays_the_animation(in_blender: dict[str, Any]) -> None:
    assert in_blender["shapes"]["hoop 1"] == ["Basis", "bare", "ties fastened"]
    assert set(in_blender["shapes"]) >= {f"hoop {number}" for number in range(1, 7)} | {"tie 1", "skirt"}
    frames = sorted(int(frame) for frame in in_blender["values"])
    assert frames[-1] / in_blender["frames_per_second"] > 3 * REST
    for frame in (frames[0], 1, frames[-1]):
        assert in_blender["values"][str(frame)]["hoop 1"] == pytest.approx([0, 0])
    at_bare = round((REST + MOVE + REST / 2) * in_blender["frames_per_second"])
    assert in_blender["values"][str(at_bare)]["hoop 1"] == pytest.approx([1, 0])


@pytest.mark.judge("admesh")
@pytest.mark.parametrize("letter", LETTERS)
def test_admesh_finds_nothing_to_repair(letter: str, tmp_path: Path) -> None:
    parts = closed_parts(sample(letter), CAGE_KINDS, fine=False)
    (tmp_path / "cage.stl").write_bytes(stl_bytes([part.solid for part in parts]))
    counts = admesh_counts(tmp_path / "cage.stl")
    assert counts.pop("Number of facets") > 1000
    assert counts.pop("Number of parts") > 30
    repairs = ("Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed")
    assert {name: counts[name] for name in (*repairs, "Backwards edges", "Normals fixed")} == dict.fromkeys(
        (*repairs, "Backwards edges", "Normals fixed"), 0
    )
    assert counts["Total disconnected facets"] == 0
