"""Renders parts to pixels, in a process of its own: where VTK crashes for want of a library, only that dies.

    python -m cage3d.draw.child

From stdin (draw.process) the job as npz: for part i `vertices_i`, `faces_i`, `normals_i`, `look_i` (red,
green, blue, opacity, metal, rough);
for picture j `drawn_j` (whether each part is), and `camera_j` (right, up, out, centre of the paper in m;
scale px/m; width, height px).
To stdout, as npz: `pixels_j` (height, width, 3).
"""

from __future__ import annotations

import os
from io import BytesIO
from typing import Any

import numpy as np
import pyvista
import vtk

from cage3d.draw.process import end_with_parent, received

FAR = 20.0  # m, from the eye to the middle of the cage; in parallel projection it only has to be outside
LIGHTS = (  # direction from the cage in the picture's own right, up, out; strength
    ((-0.5, 0.4, 1.0), 0.55),
    ((0.9, 0.2, 0.7), 0.25),
    ((0.0, -0.3, 1.0), 0.35),
)


def main() -> None:
    job = received()
    end_with_parent()
    # What a driver prints must not end up among the pixels.
    answer = os.dup(1)
    os.dup2(2, 1)
    with np.load(BytesIO(job), allow_pickle=False) as arrays:
        pixels = rendered(dict(arrays))
    packed = BytesIO()
    np.savez(packed, **pixels)
    with os.fdopen(answer, "wb") as out:
        out.write(packed.getbuffer())
    # Some drivers crash while they are taken down; the work is done by then.
    os._exit(0)


def rendered(job: dict[str, Any]) -> dict[str, Any]:
    """Every picture of the job as `pixels_j` (height, width, 3) uint8."""
    vtk.vtkObject.GlobalWarningDisplayOff()
    pyvista.OFF_SCREEN = True
    pixels = {}
    plotter: Any = pyvista.Plotter(off_screen=True, lighting="none", window_size=[64, 64])
    plotter.set_background("white")
    plotter.enable_anti_aliasing("msaa", multi_samples=8)
    plotter.enable_parallel_projection()
    actors = add_parts(plotter, job)
    if any(job[name][3] < 1.0 for name in job if name.startswith("look_")):
        plotter.enable_depth_peeling(number_of_peels=6)
    plotter.show(auto_close=False)  # small; from here on it draws when told to
    for place in range(sum(name.startswith("camera_") for name in job)):
        for actor, drawn in zip(actors, job[f"drawn_{place}"], strict=True):
            actor.SetVisibility(bool(drawn))
        pixels[f"pixels_{place}"] = picture(plotter, job[f"camera_{place}"])
    plotter.close()
    return pixels


def add_parts(plotter: Any, job: dict[str, Any]) -> list[Any]:
    """What the plotter made of each part, in order."""
    actors = []
    for place in range(sum(name.startswith("look_") for name in job)):
        faces = job[f"faces_{place}"]
        mesh = pyvista.PolyData(
            job[f"vertices_{place}"], np.column_stack([np.full(len(faces), 3), faces]).ravel()
        )
        mesh.point_data.active_normals = job[f"normals_{place}"]
        red, green, blue, opacity, metal, rough = (float(value) for value in job[f"look_{place}"])
        actor = plotter.add_mesh(
            mesh, color=(red, green, blue), opacity=opacity, smooth_shading=True, split_sharp_edges=False,
            ambient=0.38, diffuse=0.7, specular=0.5 * metal, specular_power=8.0 + 30.0 * (1.0 - rough),
            reset_camera=False, render=False,
        )  # fmt: skip
        actors.append(actor)
    return actors


def picture(plotter: Any, numbers: Any) -> Any:
    """(height, width, 3) uint8."""
    right, up, out, centre = numbers[:12].reshape(4, 3)
    scale, width, height = float(numbers[12]), round(numbers[13]), round(numbers[14])
    plotter.render_window.SetSize(width, height)  # pyvista's own setter would draw once more
    plotter.camera.position = centre + FAR * out
    plotter.camera.focal_point = centre
    plotter.camera.up = up
    plotter.camera.parallel_scale = height / 2.0 / scale
    plotter.camera.clipping_range = (FAR - 10.0, FAR + 10.0)
    plotter.remove_all_lights()
    for (aside, above, towards), strength in LIGHTS:
        place = centre + FAR * (aside * right + above * up + towards * out)
        plotter.add_light(
            pyvista.Light(position=place, focal_point=centre, intensity=strength, positional=False)
        )
    plotter.render()
    return plotter.image


if __name__ == "__main__":
    main()
