"""Triangle meshes as this tool passes them about: closed bodies whose corners may be sharp.

A mesh keeps its points once, so that it is watertight, and says of every face which
smooth side it belongs to, so that it can be drawn with sharp edges between the sides.
Where its surface is laid flat, for the weave of a cloth, is a chart of its own: a tube that
is cut open has the places along its cut twice there, and once in the body.
Sides come from how a body was made, never from its angles: two states of one cage then
give the same vertices in the same order, which is what morph targets need.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from cage3d.shape.arrays import Floats, Ints


@dataclass(frozen=True)
class Solid:
    """A triangle mesh: k points, m faces."""

    points: Floats  # (k, 3) m, each once
    faces: Ints  # (m, 3) indices of points, counter-clockwise seen from outside
    sides: Ints  # (m,) faces of one number are drawn as one smooth side
    chart: Floats  # (q, 2) m, the surface laid flat: along and across
    chart_faces: Ints  # (m, 3) indices of chart, corner for corner with faces

    @cached_property
    def _corners(self) -> tuple[Ints, Ints, Ints]:
        """(n,) point and side of every drawn vertex as one number, (n,) its place in the chart, (m, 3) its corners."""
        # As one number: numpy finds unique numbers much faster than unique rows.
        count = int(self.sides.max()) + 1
        keys = (self.faces * count + self.sides[:, None]) * len(self.chart) + self.chart_faces
        vertices, corner = np.unique(keys, return_inverse=True)
        return vertices // len(self.chart), vertices % len(self.chart), corner.reshape(self.faces.shape)

    @cached_property
    def drawn(self) -> tuple[Floats, Ints, Floats]:
        """(vertices (n, 3) m, faces (m, 3), normals (n, 3) unit): a point on a sharp edge once a side."""
        key, _, faces = self._corners
        vertices = self.points[key // (int(self.sides.max()) + 1)]
        corners = vertices[faces]
        area_normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        # On both sides of a cut in the chart the surface is as smooth as elsewhere.
        _, smooth = np.unique(key, return_inverse=True)
        normals = np.zeros((int(smooth.max()) + 1, 3))
        for corner in faces.T:
            np.add.at(normals, smooth[corner], area_normals)
        return vertices, faces, (normals / np.linalg.norm(normals, axis=1)[:, None])[smooth]

    @cached_property
    def flat(self) -> Floats:
        """(n, 2) m, along and across, where every drawn vertex lies in the surface laid flat."""
        return np.asarray(self.chart[self._corners[1]])

    @cached_property
    def volume(self) -> float:
        """m3 enclosed (divergence theorem); means something for closed meshes only."""
        first, second, third = (self.points[corner] for corner in self.faces.T)
        return float(np.einsum("ij,ij->", first, np.cross(second, third)) / 6.0)


def joined(solids: Sequence[Solid]) -> Solid:
    """Several bodies as one mesh; they are laid together, not united."""
    firsts = np.cumsum([0, *(len(solid.points) for solid in solids)])
    charts = np.cumsum([0, *(len(solid.chart) for solid in solids)])
    sides = np.cumsum([0, *(int(solid.sides.max()) + 1 for solid in solids)])
    return Solid(
        np.vstack([solid.points for solid in solids]),
        np.vstack([solid.faces + first for solid, first in zip(solids, firsts, strict=False)]),
        np.concatenate([solid.sides + side for solid, side in zip(solids, sides, strict=False)]),
        np.vstack([solid.chart for solid in solids]),
        np.vstack([solid.chart_faces + chart for solid, chart in zip(solids, charts, strict=False)]),
    )
