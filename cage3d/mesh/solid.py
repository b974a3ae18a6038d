"""Triangle meshes as this tool passes them about: closed bodies whose corners may be sharp.

A mesh keeps its points once, so that it is watertight, and says of every face which
smooth side it belongs to, so that it can be drawn with sharp edges between the sides.
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

    @cached_property
    def _corners(self) -> tuple[Ints, Ints]:
        """(n,) point of every drawn vertex, and (m, 3) drawn vertex at every corner of the faces."""
        # Point and side as one number: numpy finds unique numbers much faster than unique rows.
        count = int(self.sides.max()) + 1
        vertices, corner = np.unique(self.faces * count + self.sides[:, None], return_inverse=True)
        return vertices // count, corner.reshape(self.faces.shape)

    @cached_property
    def drawn(self) -> tuple[Floats, Ints, Floats]:
        """(vertices (n, 3) m, faces (m, 3), normals (n, 3) unit): a point on a sharp edge once a side."""
        point, faces = self._corners
        vertices = self.points[point]
        corners = vertices[faces]
        area_normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        normals = np.zeros_like(vertices)
        for corner in faces.T:
            np.add.at(normals, corner, area_normals)
        return vertices, faces, normals / np.linalg.norm(normals, axis=1)[:, None]

    @cached_property
    def volume(self) -> float:
        """m3 enclosed (divergence theorem); means something for closed meshes only."""
        first, second, third = (self.points[corner] for corner in self.faces.T)
        return float(np.einsum("ij,ij->", first, np.cross(second, third)) / 6.0)


def joined(solids: Sequence[Solid]) -> Solid:
    """Several bodies as one mesh; they are laid together, not united."""
    firsts = np.cumsum([0, *(len(solid.points) for solid in solids)])
    sides = np.cumsum([0, *(int(solid.sides.max()) + 1 for solid in solids)])
    return Solid(
        np.vstack([solid.points for solid in solids]),
        np.vstack([solid.faces + first for solid, first in zip(solids, firsts, strict=False)]),
        np.concatenate([solid.sides + side for solid, side in zip(solids, sides, strict=False)]),
    )
