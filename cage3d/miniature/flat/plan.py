"""What all flat pieces share: the planes they lie in, and the joints where two of them cross; mm."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from manifold3d import CrossSection

from cage3d.miniature.flat.shapes import (
    Joint,
    Laps,
    Plane,
    block,
    joint_of,
    laps_of,
    level_plane,
    strip,
    upright_plane,
)
from cage3d.miniature.lines import TieLine, lines_of
from cage3d.miniature.process import (
    SCALES,
    Process,
    Scale,
    refuse,
    scale_of,
)
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.steady import exceeds

TILT_TOLD = 4.0  # degrees: rings that lean more than this pinch in their slots
FARTHEST = 80.0  # mm of the cage from where a tape crosses a hoop to where its upright plane does
# A tape whose slot meets its neighbour's is drawn nearer to where it crosses there: that place counts this much more,
# as often as this.
PULL, ROUNDS = 1.5, 24


def leaning(settled: SettledCage, scale: Scale) -> float:
    """Degrees that the hoop which leans most leans from level."""
    return largest_lean([level_plane(hoop.points) for hoop in lines_of(settled, scale, tail=1.0).hoops])


def largest_lean(planes: Sequence[Plane]) -> float:
    return max(float(np.degrees(np.arccos(min(plane.axes[2, 2], 1.0)))) for plane in planes)


class FlatPlan:
    """Planes of hoops and tapes, and a tape's joints with the waist disc and every hoop."""

    def __init__(self, settled: SettledCage, scale: Scale, process: Process) -> None:
        self.settled, self.lines = settled, lines_of(settled, scale, tail=1.0)
        self.scale, self.process = scale, process
        self.laps: Laps = laps_of(process)
        self.waist_height = float(self.lines.waist_lower[:, 2].mean())
        self.waist_plane = Plane(np.eye(3), np.array([0.0, 0.0, self.waist_height]))
        self.waist_line = self.lines.waist_lower[:, :2]
        self.ring_planes = [level_plane(hoop.points) for hoop in self.lines.hoops]
        # (T, 1 + H, 3) where every tape crosses the waist disc and the hoops; nan where it does not
        self.crossed = np.vstack([self.lines.anchors[None], self.lines.crossings]).swapaxes(0, 1)
        self.shares = np.ones(self.crossed.shape[:2])  # how much each of these counts for its tape's plane
        self._stand_tapes()
        for _ in range(ROUNDS):
            if not self.meeting:
                break
            for row, tapes in self.meeting:
                self.shares[list(tapes), row] *= PULL
            self._stand_tapes()

    @property
    def lean(self) -> float:
        """Degrees that the hoop which leans most leans from level."""
        return largest_lean(self.ring_planes)

    @property
    def aside(self) -> Floats:
        """(T, 1 + H) mm from where a tape crosses to where its slots are: in a plane it cannot turn aside."""
        found = self.crossed.copy()
        for tape, (plane, joints) in enumerate(zip(self.tape_planes, self.joints, strict=True)):
            found[tape, list(joints)] = plane.lifted(np.array([joint.in_tape for joint in joints.values()]))
        return np.asarray(np.nan_to_num(np.linalg.norm(found - self.crossed, axis=2)))

    def bar(self, tie: TieLine) -> CrossSection | None:
        """A tie as a bar in the plane of the hoop that it ties; None for one from a hoop to another."""
        if tie.hoop is None:
            return None
        return strip(self.ring_planes[tie.hoop].flat(tie.points), self.process.section)

    def _stand_tapes(self) -> None:
        """Each tape in the upright plane nearest to it, its joints, and which slots then meet."""
        tapes = range(len(self.lines.tapes))
        self.tape_planes = [self._tape_plane(tape) for tape in tapes]
        self.ring_lines = [self._ring_line(hoop) for hoop in range(len(self.lines.hoops))]
        self.joints = [self._joints(tape) for tape in tapes]
        self.meeting = self._meeting()

    def _meeting(self) -> list[tuple[int, tuple[int, int]]]:
        """(row, two tapes) whose slots leave no wall between them; row 0 is the waist disc, 1 hoop 1."""
        laps, found = self.laps, []
        for row in range(self.crossed.shape[1]):
            slots = {
                tape: block(joint.in_ring, joint.ring_outward, -laps.clearance / 2.0, laps.outer,
                            laps.slot + self.process.wall)
                for tape, joints in enumerate(self.joints) if (joint := joints.get(row)) is not None
            }  # fmt: skip
            pairs = pairwise((*slots, next(iter(slots))))
            found += [
                (row, pair) for pair in pairs if exceeds(float((slots[pair[0]] ^ slots[pair[1]]).area()), 0.0)
            ]
        return found

    def _ring_line(self, hoop: int) -> Floats:
        """(n, 2) centre line of a hoop in its own plane; an open one goes on beyond its last slots."""
        line = self.ring_planes[hoop].flat(self.lines.hoops[hoop].points)
        if self.lines.hoops[hoop].frames.closed:
            return line
        joined = self.settled.cage.connectivity
        tapes = joined.tapes_of(hoop)
        order = tapes[np.argsort(joined.crossing[hoop, tapes])]
        ends = [(line[0], line[1], int(order[0])), (line[-1], line[-2], int(order[-1]))]
        start, end = (self._beyond(hoop, *one) for one in ends)
        return np.vstack([start, line, end])

    def _beyond(self, hoop: int, end: Floats, before: Floats, tape: int) -> Floats:
        """(2,) where an open hoop's end must lie so that the slot of its last tape has a neck beside it."""
        onward = (end - before) / np.linalg.norm(end - before)
        plane, ring = self.tape_planes[tape], self.ring_planes[hoop]
        way = ring.axes[:, :2] @ onward
        square = float(way @ plane.axes[:, 2])
        past = float((ring.lifted(end[None])[0] - plane.origin) @ plane.axes[:, 2])
        to_plane = -past / square if abs(square) > 0.1 else 0.0
        return np.asarray(end + max(to_plane + self.laps.slot / 2.0 + self.laps.neck, 0.01) * onward)

    def _tape_plane(self, tape: int) -> Plane:
        normals = self.lines.tapes[tape].frames.normals[:, :2].sum(axis=0)
        met = ~np.isnan(self.crossed[tape, :, 0])
        return upright_plane(
            self.crossed[tape, met], self.shares[tape, met], normals / np.linalg.norm(normals)
        )

    def _joints(self, tape: int) -> dict[int, Joint]:
        """A tape's joints with the waist disc (row 0) and every hoop that it passes, by their row, from the top."""
        plane, farthest = self.tape_planes[tape], FARTHEST / self.scale.denominator
        rings = [(self.waist_line, True, self.waist_plane)]
        rings += [
            (line, bool(hoop.frames.closed), at)
            for line, hoop, at in zip(self.ring_lines, self.lines.hoops, self.ring_planes, strict=True)
        ]
        passed = np.flatnonzero(~np.isnan(self.crossed[tape, :, 0])).tolist()
        found = {row: joint_of(*rings[row], plane, self.crossed[tape, row], farthest) for row in passed}
        met = {row: joint for row, joint in found.items() if joint is not None}
        if len(met) < len(passed):
            raise refuse("--flat", f"tape {tape + 1}", "a hoop runs past this tape when laid flat",
                         "Print the cage standing, without --flat")  # fmt: skip
        return met

    @property
    def crowded(self) -> str:
        """What stands too near to each other for slots; empty where nothing does."""
        levels = [[joint.in_tape[1] for joint in joints.values()] for joints in self.joints]
        if min(float(np.min(-np.diff(row))) for row in levels) < 2.0 * self.laps.pad:
            return "two hoops"
        return f"two tapes at {self.row_name(self.meeting[0][0])}" if self.meeting else ""

    @staticmethod
    def row_name(row: int) -> str:
        """What tapes cross in a row of `crossed`."""
        return f"hoop {row}" if row else "the waist"

    def check_slots(self) -> None:
        """Raises CommandError where the slots of two hoops, or of two tapes, would meet."""
        if not (what := self.crowded):
            return
        larger = [other for other in SCALES if other < self.scale.denominator]
        able = next((at for at in reversed(larger) if not self.at_scale(at).crowded), None)
        raise refuse("--scale", self.scale.text, f"the slots of {what} would meet in the flat pieces",
                     f"Print at 1:{able}, or standing" if able else "Print it standing")  # fmt: skip

    def at_scale(self, denominator: float) -> FlatPlan:
        return FlatPlan(self.settled, scale_of(denominator), self.process)
