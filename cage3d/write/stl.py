"""Binary STL: millimetres, z up, faces outward. The format knows no units, names or colours.

trimesh writes the bytes; which parts, in which unit and to which precision is decided here.
"""

from __future__ import annotations

import re
from collections.abc import Sequence, Set
from pathlib import Path

import numpy as np
import trimesh
from trimesh.exchange.stl import export_stl

from cage3d.errors import OutputError, Problem
from cage3d.mesh.part import CAGE_KINDS, KINDS, Part
from cage3d.mesh.parts import build_parts
from cage3d.mesh.solid import Solid
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats, Ints
from cage3d.steady import without_noise
from cage3d.write.files import write_whole

MILLIMETRES = 1000.0  # in a metre


def write_stl(
    settled: SettledCage, path: str | Path, wanted: Set[str] = CAGE_KINDS, fine: bool = False
) -> Path:
    """Writes the parts of the kinds in `wanted` as one file, together, not united. Raises OutputError."""
    return write_whole(path, stl_bytes([part.solid for part in closed_parts(settled, wanted, fine)]))


def write_stl_parts(
    settled: SettledCage, folder: str | Path, wanted: Set[str] = CAGE_KINDS, fine: bool = False
) -> list[Path]:
    """Writes one file a part into `folder`, named after the part. Raises OutputError."""
    return [
        write_whole(Path(folder) / f"{_file_name(part.name)}.stl", stl_bytes([part.solid]))
        for part in closed_parts(settled, wanted, fine)
    ]


def closed_parts(settled: SettledCage, wanted: Set[str], fine: bool) -> tuple[Part, ...]:
    """The parts that are bodies: the skirt is a surface without thickness and has no place in an STL.

    Raises OutputError where nothing else was wanted.
    """
    parts = build_parts(settled, wanted - {"skirt"}, fine)
    if not parts:
        solid = ", ".join(kind for kind in KINDS if kind != "skirt")
        why = "has nothing with a thickness in it, which an STL needs"
        raise OutputError(Problem("STL", ", ".join(sorted(wanted)), why, f"Choose of: {solid}"))
    return parts


def stl_bytes(solids: Sequence[Solid]) -> bytes:
    """Closed bodies as one binary STL; their points in metres come out in millimetres."""
    return millimetre_stl([(solid.points * MILLIMETRES, solid.faces) for solid in solids])


def millimetre_stl(bodies: Sequence[tuple[Floats, Ints]]) -> bytes:
    """Closed bodies, each (points (n, 3) mm, faces (m, 3)), as one binary STL by trimesh.

    Points are rounded to 1e-7 of the metre and to the format's single precision first, so that the
    normals are those of the corners as written.
    """
    meshes = [
        trimesh.Trimesh(without_noise(points).astype("<f4").astype(np.float64), faces, process=False)
        for points, faces in bodies
    ]
    return bytes(export_stl(trimesh.util.concatenate(meshes)))


def _file_name(name: str) -> str:
    return re.sub(r"[^A-Za-z0-9]+", "-", name).strip("-").lower()
