"""Triangle meshes as this tool passes them about: closed bodies whose corners may be sharp.

A mesh keeps its points once, so that it is watertight, and says of every face which
smooth side it belongs to, so that it can be drawn with sharp edges between the sides.
Where its surface is laid flat, for the weave of a cloth, is a chart of its own: a tube that
is cut open has the places along its cut twice there, and once in the body.
Sides come from how a body was made, never from its angles: two states of one cage then
give the same vertices in the same order, which is what morph targets need.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property, partial

import numpy as np

from cage3d.mesh.topology import Topology, together
from cage3d.mesh.vectors import cross, unit
from cage3d.shape.arrays import Floats, Ints


@dataclass(frozen=True)
class Solid:
    """A triangle mesh: k points, m faces."""

    points: Floats  # (k, 3) m, each once
    topology: Topology  # how they hang together; of all bodies of one make the same
    laid_flat: Callable[[], Floats]  # the chart, asked for where a weave is drawn, and never while she drags

    @cached_property
    def chart(self) -> Floats:
        """(q, 2) m, the surface laid flat: along and across."""
        return self.laid_flat()

    @property
    def faces(self) -> Ints:
        """(m, 3) indices of points, counter-clockwise seen from outside; not to be written to."""
        return self.topology.faces

    @cached_property
    def drawn(self) -> tuple[Floats, Ints, Floats]:
        """(vertices (n, 3) m, faces (m, 3), normals (n, 3) unit): a point on a sharp edge once a side."""
        drawn = self.topology.drawn
        first, second, third = (self.points[corner] for corner in self.faces.T)
        normals = drawn.around @ cross(second - first, third - first)
        return self.points[drawn.points], drawn.faces, unit(normals)[drawn.smooth]

    @cached_property
    def flat(self) -> Floats:
        """(n, 2) m, along and across, where every drawn vertex lies in the surface laid flat."""
        return np.asarray(self.chart[self.topology.drawn.places])

    @cached_property
    def volume(self) -> float:
        """m3 enclosed (divergence theorem); means something for closed meshes only."""
        first, second, third = (self.points[corner] for corner in self.faces.T)
        return float(np.einsum("ij,ij->", first, np.cross(second, third)) / 6.0)


def joined(solids: Sequence[Solid]) -> Solid:
    """Several bodies as one mesh; they are laid together, not united."""
    return Solid(
        np.vstack([solid.points for solid in solids]),
        together([solid.topology for solid in solids]),
        partial(charts_of, tuple(solids)),
    )


def charts_of(solids: Sequence[Solid]) -> Floats:
    return np.vstack([solid.chart for solid in solids])
