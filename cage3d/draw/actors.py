"""The parts of a job as VTK draws them, in a picture and in the window."""

from __future__ import annotations

from typing import Any

import numpy as np
from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray
from vtkmodules.vtkCommonCore import vtkPoints
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
from vtkmodules.vtkRenderingCore import vtkActor, vtkPolyDataMapper


def actors_of(job: dict[str, Any]) -> list[Any]:
    """What stands for each part of a job (draw.child), in order."""
    actors = []
    for place in range(sum(name.startswith("look_") for name in job)):
        vertices, faces, normals = (job[f"{kind}_{place}"] for kind in ("vertices", "faces", "normals"))
        mapper = vtkPolyDataMapper()
        mapper.SetInputData(surface(vertices, faces, normals))
        actor = vtkActor()
        actor.SetMapper(mapper)
        looking(actor, *(float(value) for value in job[f"look_{place}"]))
        actors.append(actor)
    return actors


def surface(vertices: Any, faces: Any, normals: Any) -> Any:
    """Triangles with their own normals; vertices and normals (n, 3), faces (m, 3)."""
    points, cells, made = vtkPoints(), vtkCellArray(), vtkPolyData()
    points.SetData(numpy_to_vtk(np.ascontiguousarray(vertices), deep=True))
    corners = np.ascontiguousarray(faces, dtype=np.int64).ravel()
    starts = np.arange(0, len(corners) + 1, 3, dtype=np.int64)
    cells.SetData(numpy_to_vtkIdTypeArray(starts, deep=True), numpy_to_vtkIdTypeArray(corners, deep=True))
    made.SetPoints(points)
    made.SetPolys(cells)
    made.GetPointData().SetNormals(numpy_to_vtk(np.ascontiguousarray(normals), deep=True))
    return made


def looking(
    actor: Any, red: float, green: float, blue: float, opacity: float, metal: float, rough: float
) -> None:
    """Gives an actor its look; all of them 0 to 1."""
    look = actor.GetProperty()
    look.SetInterpolationToPhong()
    look.SetColor(red, green, blue)
    look.SetOpacity(opacity)
    look.SetAmbient(0.38)
    look.SetDiffuse(0.7)
    look.SetSpecular(0.5 * metal)
    look.SetSpecularPower(8.0 + 30.0 * (1.0 - rough))
