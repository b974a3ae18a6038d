"""STL: binary, millimetres, z up, outward."""

from __future__ import annotations

import io
from collections.abc import Set

import numpy as np
import pytest
import trimesh
from models import LETTERS, sample

from cage3d.errors import OutputError
from cage3d.mesh.part import ALL_KINDS, CAGE_KINDS
from cage3d.mesh.parts import build_parts
from cage3d.write.stl import closed_parts, stl_bytes

# The format note of 1989: little-endian, 50 bytes a triangle.
TRIANGLE = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def one(name: str) -> bytes:
    (part,) = (part for part in build_parts(sample("a")) if part.name == name)
    return stl_bytes([part.solid])


def whole(letter: str, kinds: Set[str]) -> bytes:
    return stl_bytes([part.solid for part in closed_parts(sample(letter), kinds, fine=False)])


def test_header_is_not_taken_for_text_and_the_count_is_right() -> None:
    data = one("hoop 1")
    assert not data.lower().startswith(b"solid")
    assert data[:80].isascii()
    assert len(data) == 84 + 50 * int.from_bytes(data[80:84], "little")


def test_hoop_comes_in_millimetres_with_z_up_and_faces_outward() -> None:
    mesh = trimesh.load_mesh(io.BytesIO(one("hoop 4")), file_type="stl")
    assert mesh.is_watertight
    assert mesh.euler_number == 0
    assert np.ptp(mesh.vertices[:, 0]) == pytest.approx(74 * 25.4 / np.pi, rel=0.05)
    assert 400 < mesh.vertices[:, 2].mean() < 500
    assert mesh.volume == pytest.approx(74 * 25.4 * 7 * 0.5, rel=0.005)


def test_normals_written_are_those_of_the_corners() -> None:
    triangles = np.frombuffer(one("tape 1")[84:], TRIANGLE)
    corners = triangles["corners"].astype(float)
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    assert np.abs(normals - triangles["normal"]).max() < 1e-6


@pytest.mark.parametrize("letter", LETTERS)
def test_every_body_is_closed(letter: str) -> None:
    mesh = trimesh.load_mesh(io.BytesIO(whole(letter, ALL_KINDS)), file_type="stl")
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume > 0


def test_skirt_alone_is_refused_because_it_has_no_thickness() -> None:
    with pytest.raises(OutputError, match="nothing with a thickness"):
        closed_parts(sample("a"), {"skirt"}, fine=False)


def test_same_cage_same_bytes() -> None:
    assert whole("a", CAGE_KINDS) == whole("a", CAGE_KINDS)
