"""The outlines of a cage's pieces laid flat, slotted so that they slide together; mm.

Hoops and the waist disc are flat rings with slots from outside; a tape is its own side view,
standing upright in a level plane, with slots from inside. Every joint is a half lap: each
piece is cut to the centre line of the ring, and all tapes slide in from outside.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from manifold3d import CrossSection, JoinType, OpType

from cage3d.miniature.process import Process
from cage3d.miniature.text import lettering
from cage3d.shape.arrays import Floats

LETTER_MARGIN = 0.6  # mm round the letters of a label
ROUND = 24


@dataclass(frozen=True)
class Laps:
    """The measures every joint has in common."""

    thickness: float  # of every piece
    width: float  # of rings and tapes: two least sections, one is left where a slot is
    slot: float  # thickness and the process's clearance
    clearance: float
    neck: float  # least material beside a slot

    @property
    def outer(self) -> float:
        """mm that a tape's pad reaches out from the centre line of a ring."""
        return self.width / 2.0 + self.clearance

    @property
    def pad(self) -> float:
        """Half the height of a tape's pad round a slot."""
        return self.slot / 2.0 + self.neck


def laps_of(process: Process) -> Laps:
    least = process.section
    return Laps(least, 2.0 * least, least + process.clearance, process.clearance, least)


@dataclass(frozen=True)
class Plane:
    """Where a flat piece stands when assembled: its x, y, z axes as columns, its origin in mid-thickness."""

    axes: Floats  # (3, 3)
    origin: Floats  # (3,)

    def flat(self, points: Floats) -> Floats:
        """(n, 2) a place's x, y in the piece."""
        return np.asarray((points - self.origin) @ self.axes[:, :2])

    def lifted(self, points: Floats) -> Floats:
        """(n, 3) places in the plane from (n, 2) x, y in the piece."""
        return np.asarray(self.origin + points @ self.axes[:, :2].T)


def level_plane(points: Floats) -> Plane:
    """The plane nearest to a ring's nodes (n, 3), as level as they are; x stays the wearer's left."""
    middle = points.mean(axis=0)
    across = np.linalg.svd(points - middle)[2][2]
    up = across if across[2] > 0.0 else -across
    left = np.array([1.0, 0.0, 0.0]) - up[0] * up
    left /= np.linalg.norm(left)
    return Plane(np.column_stack([left, np.cross(up, left), up]), middle)


def upright_plane(points: Floats, shares: Floats, outward: Floats) -> Plane:
    """The upright plane nearest to a tape's places (n, 3), each as its share (n,) counts.

    x runs outward along `outward` (2,), y is up.
    """
    flat, counts = points[:, :2], shares[:, None] / shares.mean()
    middle = (counts * flat).mean(axis=0)
    _, spread, axes = np.linalg.svd(np.sqrt(counts) * (flat - middle))
    # A tape that hangs plumb shows no direction of its own; then the hoop's outward is taken.
    along = axes[0] if spread[0] > 3.0 and abs(axes[0] @ outward) > 0.5 else outward
    along = along if along @ outward > 0.0 else -along
    x = np.array([along[0], along[1], 0.0])
    y = np.array([0.0, 0.0, 1.0])
    return Plane(np.column_stack([x, y, np.cross(x, y)]), np.array([middle[0], middle[1], 0.0]))


@dataclass(frozen=True)
class Joint:
    """Where an upright plane cuts a ring: places and directions in both pieces."""

    in_ring: Floats  # (2,) place in the ring's own x, y
    ring_outward: Floats  # (2,) unit
    in_tape: Floats  # (2,) place in the tape's own x, y
    tape_outward: Floats  # (2,) unit


def joint_of(
    ring: Floats, closed: bool, ring_plane: Plane, tape_plane: Plane, near: Floats, farthest: float
) -> Joint | None:
    """The joint nearest to a place (3,), None where none is within `farthest` mm.

    ring: (n, 2) centre line in its plane.
    """
    line = np.vstack([ring, ring[:1]]) if closed else ring
    lifted = ring_plane.lifted(line)
    side = (lifted - tape_plane.origin) @ tape_plane.axes[:, 2]
    ends = np.flatnonzero((side[:-1] <= 0.0) != (side[1:] <= 0.0))
    if not len(ends):
        return None
    share = (side[ends] / (side[ends] - side[ends + 1]))[:, None]
    places = (1.0 - share) * lifted[ends] + share * lifted[ends + 1]
    apart = np.linalg.norm(places - near, axis=1)
    if apart.min() > farthest:
        return None
    place = places[int(apart.argmin())]
    along = np.cross(ring_plane.axes[:, 2], tape_plane.axes[:, 2])
    along = along / np.linalg.norm(along)
    along = along if along @ tape_plane.axes[:, 0] > 0.0 else -along
    return Joint(
        ring_plane.flat(place[None])[0], along @ ring_plane.axes[:, :2],
        tape_plane.flat(place[None])[0], along @ tape_plane.axes[:, :2],
    )  # fmt: skip


def block(place: Floats, along: Floats, start: float, end: float, height: float) -> CrossSection:
    """A rectangle from `start` to `end` mm along a direction (2,) from a place (2,), `height` across."""
    x, y = along
    box = CrossSection(
        [np.array([[start, -height / 2], [end, -height / 2], [end, height / 2], [start, height / 2]])]
    )
    return box.transform(np.array([[x, -y, place[0]], [y, x, place[1]]]))


def strip(line: Floats, width: float) -> CrossSection:
    """A band along an open line (n, 2) with round ends."""
    pen = CrossSection.circle(width / 2.0, ROUND)
    dots = [pen.translate((float(x), float(y))) for x, y in line]
    return CrossSection.batch_boolean(
        [CrossSection.batch_hull(list(pair)) for pair in pairwise(dots)], OpType.Add
    )


def open_band(line: Floats, width: float, opening: float) -> CrossSection:
    """A band along an open line (n, 2) that ends square at its first and its last place, these ends kept apart.

    opening: mm that stays open between the ends, however near to each other they are.
    """
    between, far = (line[0] + line[-1]) / 2.0, 1e4
    apart = float(np.linalg.norm(line[0] - line[-1]))
    towards = (line[0] - line[-1]) / apart
    # What is cut off at one end lies on its own side, so that it takes nothing off the other.
    beyond = [block(between, towards, -opening / 2.0, opening / 2.0, 3.0 * width)] if apart < width else []
    for end, before, side in ((line[0], line[1], towards), (line[-1], line[-2], -towards)):
        onward = (end - before) / np.linalg.norm(end - before)
        half = block(between, side, 0.0, far, far)
        beyond.append(block(end, onward, 0.0, width, 2.0 * width) ^ half)
    return CrossSection.batch_boolean([strip(line, width), *beyond], OpType.Subtract)


def ring(line: Floats, width: float) -> CrossSection:
    """A band along a closed line (n, 2), counter-clockwise."""
    inside = CrossSection([np.ascontiguousarray(line)])
    return inside.offset(width / 2.0, JoinType.Round, circular_segments=96) - inside.offset(
        -width / 2.0, JoinType.Round, circular_segments=96
    )


def slotted_ring(band: CrossSection, joints: Sequence[Joint], laps: Laps) -> CrossSection:
    """A ring or disc with a slot from its centre line outward at every joint."""
    slots = [
        block(j.in_ring, j.ring_outward, -laps.clearance / 2.0, 2.0 * laps.width, laps.slot) for j in joints
    ]
    return CrossSection.batch_boolean([band, *slots], OpType.Subtract)


def tape_outline(joints: Sequence[Joint], laps: Laps) -> CrossSection:
    """A tape's side view from the waist disc (the first joint) to the lowest hoop, slotted from inside."""
    band = strip(np.array([joint.in_tape for joint in joints]), laps.width)
    pads = [block(j.in_tape, j.tape_outward, -laps.width / 2.0, laps.outer, 2.0 * laps.pad) for j in joints]
    slots = [
        block(j.in_tape, j.tape_outward, -1.5 * laps.width, laps.clearance / 2.0, laps.slot) for j in joints
    ]
    whole = CrossSection.batch_boolean([band, *pads], OpType.Add)
    return CrossSection.batch_boolean([whole, *slots], OpType.Subtract)


@dataclass(frozen=True)
class Flag:
    """A number on a small flag beside a piece's centre line."""

    flag: CrossSection
    letters: CrossSection


def label(text: str, place: Floats, along: Floats, aside: Floats, process: Process) -> Flag:
    """A flag from the centre line at `place`, pointing `aside` (2,), its letters along `along` (2,)."""
    letters = lettering(text, 5.0 * process.stroke, process.stroke)
    left, low, right, high = letters.bounds()
    start = process.section + LETTER_MARGIN - 0.2
    middle = place + (start + (high - low) / 2.0) * aside
    flag = block(place, aside, 0.0, start + (high - low) + LETTER_MARGIN, right - left + 2.0 * LETTER_MARGIN)
    x, y = along
    return Flag(flag, letters.transform(np.array([[x, -y, middle[0]], [y, x, middle[1]]])))
