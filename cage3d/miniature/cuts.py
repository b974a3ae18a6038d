"""An upright cut through a miniature: what lies beyond it, what it crosses, and the pins across it; mm."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from manifold3d import Manifold

from cage3d.shape.arrays import Floats

STEPS = 48  # corners of pins and holes


@dataclass(frozen=True)
class Cut:
    """The upright plane normal . (x, y) = offset; side +1 is where the normal points."""

    normal: Floats  # (2,) unit
    offset: float  # mm

    def beyond(self, points: Floats) -> Floats:
        """(n,) mm on the normal's side of the plane."""
        return np.asarray(points[..., :2] @ self.normal - self.offset)

    @property
    def normal_in_space(self) -> tuple[float, float, float]:
        return float(self.normal[0]), float(self.normal[1]), 0.0


@dataclass(frozen=True)
class Piece:
    """A part of the miniature on one side of each of its cuts."""

    solid: Manifold
    sides: tuple[tuple[Cut, int], ...]


def in_piece(place: Floats, piece: Piece) -> bool:
    return all(side * float(cut.beyond(place)) > 0.0 for cut, side in piece.sides)


def crossings(cut: Cut, line: Floats, closed: bool) -> list[Floats]:
    """Where a plane cuts a line (n, 3)."""
    points = np.vstack([line, line[:1]]) if closed else line
    beyond = cut.beyond(points)
    ends = np.flatnonzero(beyond[:-1] * beyond[1:] < 0.0)
    shares = beyond[ends] / (beyond[ends] - beyond[ends + 1])
    return [
        points[at] + share * (points[at + 1] - points[at]) for at, share in zip(ends, shares, strict=True)
    ]


def dense(line: Floats) -> Floats:
    """A line with places between its nodes, so that no plane slips through."""
    shares = np.linspace(0.0, 1.0, 9)[:, None, None]
    return np.asarray(((1.0 - shares) * line[:-1] + shares * line[1:]).reshape(-1, 3))


def rod(cut: Cut, place: Floats, radius: float, start: float, end: float) -> Manifold:
    """A round rod square to the plane, from `start` to `end` mm beyond it."""
    upright = Manifold.cylinder(end - start, radius, circular_segments=STEPS).translate((0.0, 0.0, start))
    turned = upright.rotate((0.0, 90.0, float(np.degrees(np.arctan2(cut.normal[1], cut.normal[0])))))
    return turned.translate((float(place[0]), float(place[1]), float(place[2])))


def capsule(cut: Cut, place: Floats, radius: float, reach: float) -> Manifold:
    """A boss round a pin: a ball drawn out to both sides of the plane."""
    ball = Manifold.sphere(radius, 24)
    ends = [place + side * reach * np.array(cut.normal_in_space) for side in (-1.0, 1.0)]
    return Manifold.batch_hull([ball.translate((float(x), float(y), float(z))) for x, y, z in ends])


def turned_to(solid: Manifold, cut: Cut) -> Manifold:
    return solid.rotate((0.0, 0.0, 90.0 - float(np.degrees(np.arctan2(cut.normal[1], cut.normal[0])))))


def size(solid: Manifold, cut: Cut) -> tuple[float, float, float]:
    box = turned_to(solid, cut).bounding_box()
    return box[3] - box[0], box[4] - box[1], box[5] - box[2]
