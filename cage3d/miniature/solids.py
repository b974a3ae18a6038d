"""The parts of a miniature as closed bodies that overlap where they are to be one; mm."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from manifold3d import CrossSection, JoinType, Manifold, Mesh64, OpType

from cage3d.mesh.frames import node_frames
from cage3d.mesh.loft import closed_loft
from cage3d.mesh.solid import Solid
from cage3d.mesh.sweep import rectangle, sweep
from cage3d.miniature.lines import Line
from cage3d.shape.arrays import Floats
from cage3d.shape.section_kinds import rounded

ROUND_STEPS = 48  # corners of stems and posts


def manifold_of(solid: Solid) -> Manifold:
    """A closed mesh as a body that can be united. Raises ValueError where it is not closed."""
    faces = np.ascontiguousarray(solid.faces, dtype=np.uint64)
    body = Manifold(Mesh64(np.ascontiguousarray(solid.points, dtype=np.float64), faces))
    if body.is_empty() or body.volume() <= 0.0:
        raise ValueError(f"a part of the miniature is not a closed body ({body.status()})")
    return body


def bar(line: Line, thickness: float, width: float, outward: float = 0.0) -> Manifold:
    """A strip along a line: `thickness` across it, `width` along it (mm), moved outward."""
    return manifold_of(sweep(line.points, line.frames, rectangle(thickness, width, outward)))


def round_bar(line: Line, diameter: float) -> Manifold:
    """What is round, along a line (mm)."""
    return manifold_of(sweep(line.points, line.frames, rounded(diameter / 2.0, 12), smooth=True))


def rod_along(points: Floats, diameter: float) -> Manifold:
    """A round rod along an open line (n, 3)."""
    along = points[-1] - points[0]
    aside = np.cross(along, [0.0, 0.0, 1.0]) + 1e-9 * np.array([1.0, 0.0, 0.0])
    frames = node_frames(points, np.tile(aside, (len(points), 1)), closed=False)
    return manifold_of(sweep(points, frames, rounded(diameter / 2.0, 12), smooth=True))


def post(place: Floats, bottom: float, top: float, diameter: float) -> Manifold:
    """An upright round post at x, y."""
    upright = Manifold.cylinder(top - bottom, diameter / 2.0, circular_segments=ROUND_STEPS)
    return upright.translate((float(place[0]), float(place[1]), bottom))


def stacked(rings: Sequence[Floats]) -> Manifold:
    """The body through rings of equally many points (n, 3) from the top, each by the wearer's left."""
    return manifold_of(closed_loft(np.stack(rings)))


def about_hull(places: Floats, margin: float) -> CrossSection:
    """The convex outline round places (n, 2), `margin` wider all round; a disc for a round hoop."""
    hull = CrossSection.hull_points(np.ascontiguousarray(places))
    return hull.offset(margin, JoinType.Round, circular_segments=96).simplify(0.01)


def plate(outline: CrossSection, bottom: float, thickness: float) -> Manifold:
    """A level plate of this outline."""
    return outline.extrude(thickness).translate((0.0, 0.0, bottom))


def united(bodies: Sequence[Manifold]) -> Manifold:
    """All of them as one."""
    return Manifold.batch_boolean(list(bodies), OpType.Add)


def without_cavities(body: Manifold) -> Manifold:
    """The same with what it encloses filled: bars that cross over one another may shut in a pocket of air."""
    shells = body.decompose()
    outer = [shell for shell in shells if shell.volume() > 0.0]  # a cavity's shell is turned inside out
    return body if len(outer) == len(shells) else Manifold.compose(outer)
