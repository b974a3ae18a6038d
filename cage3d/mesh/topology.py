"""How the faces of a mesh hang together, apart from where its points are.

It depends on how many points a body is made of and on nothing else. So it is worked out once for all bodies of one
make and kept for the next one, in a cage whose numbers have changed too. What is kept is never written to.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from scipy.sparse import csr_array

from cage3d.shape.arrays import Ints

KEPT = 64  # makes of body: a cage has a dozen or two, each under 1 MB


@dataclass(frozen=True, eq=False)
class Topology:
    """The faces of a body of k points whose surface laid flat has q places."""

    faces: Ints  # (m, 3) indices of points, counter-clockwise seen from outside
    sides: Ints  # (m,) faces of one number are drawn as one smooth side
    chart_faces: Ints  # (m, 3) indices of places in the surface laid flat, corner for corner with faces
    point_count: int  # k
    chart_count: int  # q

    def __post_init__(self) -> None:
        for kept in (self.faces, self.sides, self.chart_faces):
            kept.setflags(write=False)

    @cached_property
    def side_count(self) -> int:
        return int(self.sides.max()) + 1

    @cached_property
    def drawn(self) -> Drawn:
        """Its vertices as they are drawn: a point on a sharp edge once a side, and on the chart's cut once more."""
        # As one number: numpy finds unique numbers much faster than unique rows.
        keys = (self.faces * self.side_count + self.sides[:, None]) * self.chart_count + self.chart_faces
        vertices, corner = np.unique(keys, return_inverse=True)
        key, faces = vertices // self.chart_count, corner.reshape(self.faces.shape)
        # On both sides of a cut in the chart the surface is as smooth as elsewhere.
        smooth_keys, smooth = np.unique(key, return_inverse=True)
        found = Drawn(
            key // self.side_count, vertices % self.chart_count, faces, smooth,
            gathering(smooth[faces.T].ravel(), np.tile(np.arange(len(faces)), 3), len(smooth_keys)),
        )  # fmt: skip
        for kept in (found.points, found.places, found.faces, found.smooth):
            kept.setflags(write=False)
        return found


@dataclass(frozen=True, eq=False)
class Drawn:
    """n vertices and what they are of."""

    points: Ints  # (n,) the point of every vertex
    places: Ints  # (n,) its place in the surface laid flat
    faces: Ints  # (m, 3) the vertices of every face
    smooth: Ints  # (n,) which of s normals it has
    around: csr_array  # (s, m) 1 where a face lies about the vertices of a normal


def gathering(rows: Ints, columns: Ints, row_count: int) -> csr_array:
    """(row_count, m) a matrix of ones that adds up what stands in `columns`, of one row in the order given."""
    order = np.argsort(rows, kind="stable")
    starts = np.concatenate([[0], np.cumsum(np.bincount(rows, minlength=row_count))])
    shape = (row_count, int(columns.max()) + 1)
    return csr_array((np.ones(len(rows)), columns[order], starts), shape=shape)


def together(each: Sequence[Topology]) -> Topology:
    """Several bodies as one mesh; they are laid together, not united."""
    return kept_together(tuple(each))


@lru_cache(maxsize=KEPT)
def kept_together(each: tuple[Topology, ...]) -> Topology:
    points = np.cumsum([0, *(one.point_count for one in each)])
    charts = np.cumsum([0, *(one.chart_count for one in each)])
    sides = np.cumsum([0, *(one.side_count for one in each)])
    return Topology(
        np.vstack([one.faces + first for one, first in zip(each, points, strict=False)]),
        np.concatenate([one.sides + side for one, side in zip(each, sides, strict=False)]),
        np.vstack([one.chart_faces + chart for one, chart in zip(each, charts, strict=False)]),
        int(points[-1]),
        int(charts[-1]),
    )
