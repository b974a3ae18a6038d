"""Binary STL: millimetres, z up, faces outward. The format knows no units, names or colours.

trimesh writes the bytes; which parts, in which unit and to which precision is decided here.
"""

from __future__ import annotations

from collections.abc import Sequence, Set

import numpy as np
import trimesh
from trimesh.exchange.stl import export_stl

from cage3d.errors import OutputError, Problem
from cage3d.mesh.part import KINDS, Part
from cage3d.mesh.parts import build_parts
from cage3d.mesh.solid import Solid
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats, Ints
from cage3d.steady import without_noise

MILLIMETRES = 1000.0  # in a metre


def closed_parts(settled: SettledCage, wanted: Set[str], fine: bool) -> tuple[Part, ...]:
    """The parts that are bodies: the skirt is a surface without thickness and has no place in an STL.

    Raises OutputError where nothing else was wanted.
    """
    parts = build_parts(settled, wanted - {"skirt"}, fine)
    if not parts:
        has = {part.kind for part in build_parts(settled)} - {"skirt"}
        solid = ", ".join(kind for kind in KINDS if kind in has)
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
