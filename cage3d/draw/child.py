"""Renders parts to pixels, in a process of its own: where VTK crashes for want of a library, only that dies.

    python -m cage3d.draw.child

From stdin (cage3d.process) the job as npz: for part i `vertices_i`, `faces_i`, `normals_i`, `look_i` (red,
green, blue, opacity, metal, rough);
for picture j `drawn_j` (whether each part is), and `camera_j` (right, up, out, centre of the paper in m;
scale px/m; width, height px).
To stdout, as npz: `pixels_j` (height, width, 3).

Of VTK only what draws is loaded, and it is asked itself: pyvista, with which the window is built, loads all
that it can plot with, which takes longer than the first pictures do.
"""

from __future__ import annotations

import os
from io import BytesIO
from typing import Any

import numpy as np
import vtkmodules.vtkRenderingOpenGL2  # noqa: F401  what draws, found by VTK once it is loaded
from vtkmodules.util.numpy_support import vtk_to_numpy
from vtkmodules.vtkCommonCore import vtkObject
from vtkmodules.vtkRenderingCore import vtkLight, vtkRenderer, vtkRenderWindow, vtkWindowToImageFilter

from cage3d.draw.actors import actors_of
from cage3d.process import end_with_parent, received

FAR = 20.0  # m, from the eye to the middle of the cage; in parallel projection it only has to be outside
SAMPLES = 8  # a pixel, so that edges come out smooth
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
    vtkObject.GlobalWarningDisplayOff()
    actors = actors_of(job)
    renderer = renderer_of(actors)
    window = window_on(renderer)
    pixels = {}
    for place in range(sum(name.startswith("camera_") for name in job)):
        for actor, drawn in zip(actors, job[f"drawn_{place}"], strict=True):
            actor.SetVisibility(bool(drawn))
        pixels[f"pixels_{place}"] = picture(window, renderer, job[f"camera_{place}"])
    return pixels


def renderer_of(actors: list[Any]) -> Any:
    """What draws the actors on white, from as far as may be; what is seen through comes after all else."""
    renderer = vtkRenderer()
    renderer.SetBackground(1.0, 1.0, 1.0)
    renderer.AutomaticLightCreationOff()
    renderer.GetActiveCamera().ParallelProjectionOn()
    for actor in actors:
        renderer.AddActor(actor)
    return renderer


def window_on(renderer: Any) -> Any:
    """A window that nobody sees, ready to draw."""
    window = vtkRenderWindow()
    window.OffScreenRenderingOn()
    window.SetMultiSamples(SAMPLES)
    window.AddRenderer(renderer)
    return window


def picture(window: Any, renderer: Any, numbers: Any) -> Any:
    """(height, width, 3) uint8."""
    right, up, out, centre = numbers[:12].reshape(4, 3)
    scale, width, height = float(numbers[12]), round(numbers[13]), round(numbers[14])
    window.SetSize(width, height)
    camera = renderer.GetActiveCamera()
    camera.SetPosition(*(centre + FAR * out))
    camera.SetFocalPoint(*centre)
    camera.SetViewUp(*up)
    camera.SetParallelScale(height / 2.0 / scale)
    camera.SetClippingRange(FAR - 10.0, FAR + 10.0)
    renderer.RemoveAllLights()
    for (aside, above, towards), strength in LIGHTS:
        light = vtkLight()
        light.SetLightTypeToSceneLight()
        light.PositionalOff()
        light.SetPosition(*(centre + FAR * (aside * right + above * up + towards * out)))
        light.SetFocalPoint(*centre)
        light.SetIntensity(strength)
        renderer.AddLight(light)
    window.Render()
    return drawn_in(window)


def drawn_in(window: Any) -> Any:
    """(height, width, 3) uint8 of what was drawn last, the uppermost row first."""
    taken = vtkWindowToImageFilter()
    taken.SetInput(window)
    taken.SetInputBufferTypeToRGB()
    taken.ShouldRerenderOff()
    taken.Update()
    image = taken.GetOutput()
    width, height, _ = image.GetDimensions()
    return vtk_to_numpy(image.GetPointData().GetScalars()).reshape(height, width, 3)[::-1].copy()


if __name__ == "__main__":
    main()
