"""A settled cage as USDZ, which telephones open and stand in the room: metres, y up, her front on +Z, as the GLB.

The library that writes it (usd-core, 30 MB packed) comes with the extra `usdz`. Only the cage as worn: stages and
animation stay with the GLB. Parts keep their names for display; a prim's own name knows no blanks.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence, Set
from importlib.util import find_spec
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np

from cage3d.errors import CommandError, OutputError, Problem
from cage3d.mesh.part import Part
from cage3d.mesh.parts import build_parts
from cage3d.scene.looks import LOOKS
from cage3d.settle.state import SettledCage
from cage3d.write.glb import generator, to_gltf_axes

ROOT = "/cage"
FIRST_DAY = struct.pack("<2H", 0, (1 << 5) | 1)  # 1 January 1980, where the dates of a zip begin


def refuse_without_library() -> None:
    """Raises CommandError where usd-core is not installed."""
    if find_spec("pxr") is None:
        why = "the library that writes it, usd-core, is not installed"
        raise CommandError(
            Problem("--usdz", "", why, 'Install it with pip install "cage3d[usdz]", or leave --usdz out')
        )


def usdz_bytes(settled: SettledCage, wanted: Set[str] | None = None) -> bytes:
    """The model as worn; wanted: kinds of part (mesh.part.KINDS), None for the usual ones. Raises OutputError."""
    from pxr import Sdf, UsdUtils

    with TemporaryDirectory() as folder:
        inside, packed = Path(folder) / "cage.usdc", Path(folder) / "cage.usdz"
        stage = stage_of(settled.cage.design.name, build_parts(settled, wanted))
        stage.GetRootLayer().Export(str(inside))
        if not UsdUtils.CreateNewUsdzPackage(Sdf.AssetPath(str(inside)), str(packed)):
            raise OutputError(Problem("USDZ", "", "the library could not pack it", "Send the GLB instead"))
        return undated(packed.read_bytes())


def undated(package: bytes) -> bytes:
    """The same package without the time at which it was packed: one cage gives the same bytes.

    In a zip four bytes of date stand 10 behind the start of each file's header, 12 behind that of its line in the
    directory (APPNOTE.TXT 4.3.7 and 4.3.12), which begins where the last 22 bytes say.
    """
    data = bytearray(package)
    (directory,) = struct.unpack_from("<I", data, len(data) - 6)
    data[10:14] = data[directory + 12 : directory + 16] = FIRST_DAY
    return bytes(data)


def stage_of(name: str, parts: Sequence[Part]) -> Any:
    """The scene in memory: cage > kind > part, and the materials that are used."""
    from pxr import Kind, Usd, UsdGeom

    stage = Usd.Stage.CreateInMemory()
    UsdGeom.SetStageUpAxis(stage, UsdGeom.Tokens.y)
    UsdGeom.SetStageMetersPerUnit(stage, 1.0)
    stage.GetRootLayer().documentation = (
        f"{name}. Written by {generator()}. A prediction, not a safety certificate."
    )
    root = UsdGeom.Xform.Define(stage, ROOT)
    stage.SetDefaultPrim(root.GetPrim())
    Usd.ModelAPI(root.GetPrim()).SetKind(Kind.Tokens.component)
    looks = {look: material(stage, look) for look in LOOKS if any(part.material == look for part in parts)}
    for part in parts:
        UsdGeom.Xform.Define(stage, f"{ROOT}/{part.kind}")
        add_mesh(stage, part, looks[part.material])
    return stage


def material(stage: Any, name: str) -> Any:
    """A surface of scene.looks."""
    from pxr import Gf, Sdf, UsdShade

    look, path = LOOKS[name], f"{ROOT}/materials/{identifier(name)}"
    found = UsdShade.Material.Define(stage, path)
    surface = UsdShade.Shader.Define(stage, f"{path}/surface")
    surface.CreateIdAttr("UsdPreviewSurface")
    surface.CreateInput("diffuseColor", Sdf.ValueTypeNames.Color3f).Set(Gf.Vec3f(*look.linear))
    for key, value in (("metallic", look.metallic), ("roughness", look.roughness), ("opacity", look.opacity)):
        surface.CreateInput(key, Sdf.ValueTypeNames.Float).Set(value)
    found.CreateSurfaceOutput().ConnectToSource(surface.ConnectableAPI(), "surface")
    return found


def add_mesh(stage: Any, part: Part, look: Any) -> None:
    from pxr import Sdf, UsdGeom, UsdShade, Vt

    mesh = UsdGeom.Mesh.Define(stage, f"{ROOT}/{part.kind}/{identifier(part.name)}")
    points = to_gltf_axes(part.vertices).astype(np.float32)
    mesh.CreatePointsAttr(Vt.Vec3fArray.FromNumpy(points))
    mesh.CreateFaceVertexCountsAttr(Vt.IntArray.FromNumpy(np.full(len(part.faces), 3, np.int32)))
    mesh.CreateFaceVertexIndicesAttr(Vt.IntArray.FromNumpy(part.faces.astype(np.int32).ravel()))
    mesh.CreateExtentAttr(Vt.Vec3fArray.FromNumpy(np.stack([points.min(axis=0), points.max(axis=0)])))
    mesh.CreateSubdivisionSchemeAttr(UsdGeom.Tokens.none)
    mesh.CreateNormalsAttr(Vt.Vec3fArray.FromNumpy(to_gltf_axes(part.normals).astype(np.float32)))
    mesh.SetNormalsInterpolation(UsdGeom.Tokens.vertex)
    mesh.CreateDoubleSidedAttr(LOOKS[part.material].both_sides)
    flat = UsdGeom.PrimvarsAPI(mesh).CreatePrimvar(
        "st", Sdf.ValueTypeNames.TexCoord2fArray, UsdGeom.Tokens.vertex
    )
    flat.Set(Vt.Vec2fArray.FromNumpy(part.flat.astype(np.float32)))
    mesh.GetPrim().SetDisplayName(part.name)
    UsdShade.MaterialBindingAPI.Apply(mesh.GetPrim()).Bind(look)


def identifier(name: str) -> str:
    """A name as the format allows it for a prim."""
    from pxr import Tf

    return str(Tf.MakeValidIdentifier(name))
