"""Binary STL: millimetres, z up, faces outward. The format knows no units, names or colours.

Layout (the format note of 1989, kept by every reader): 80 bytes of text that must not begin
with "solid", the count of triangles, then 50 bytes a triangle, all little-endian.
"""

from __future__ import annotations

import re
import struct
from collections.abc import Sequence, Set
from pathlib import Path

import numpy as np

from cage3d.errors import OutputError, Problem
from cage3d.mesh.part import CAGE_KINDS, KINDS, Part
from cage3d.mesh.parts import build_parts
from cage3d.mesh.solid import Solid
from cage3d.settle.state import SettledCage
from cage3d.write.files import write_whole

MILLIMETRES = 1000.0  # in a metre
HEADER = b"cage3d binary STL, millimetres, z up"
TRIANGLE = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


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
    corners = np.vstack([(solid.points * MILLIMETRES).astype("<f4")[solid.faces] for solid in solids])
    exact = corners.astype(np.float64)
    normals = np.cross(exact[:, 1] - exact[:, 0], exact[:, 2] - exact[:, 0])
    triangles = np.zeros(len(corners), dtype=TRIANGLE)
    triangles["normal"] = normals / np.maximum(np.linalg.norm(normals, axis=1), 1e-30)[:, None]
    triangles["corners"] = corners
    return HEADER.ljust(80) + struct.pack("<I", len(triangles)) + triangles.tobytes()


def _file_name(name: str) -> str:
    return re.sub(r"[^A-Za-z0-9]+", "-", name).strip("-").lower()
