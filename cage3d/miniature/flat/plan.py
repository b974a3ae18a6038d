"""What all flat pieces share: the planes they lie in, and the joints where two of them cross; mm."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cage3d.miniature.flat.shapes import (
    Joint,
    Laps,
    Plane,
    joint_of,
    laps_of,
    level_plane,
    upright_plane,
)
from cage3d.miniature.lines import lines_of, tape_gap
from cage3d.miniature.process import (
    SCALES,
    Process,
    Scale,
    refuse,
)
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats

TILT_TOLD = 4.0  # degrees: rings that lean more than this pinch in their slots


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
        self.tape_planes = [self._tape_plane(tape) for tape in range(len(self.lines.tapes))]
        self.ring_lines = [self._ring_line(hoop) for hoop in range(len(self.lines.hoops))]
        self.joints = [self._joints(tape) for tape in range(len(self.lines.tapes))]

    @property
    def lean(self) -> float:
        """Degrees that the hoop which leans most leans from level."""
        return largest_lean(self.ring_planes)

    def _ring_line(self, hoop: int) -> Floats:
        """(n, 2) centre line of a hoop in its own plane; an open one goes on beyond its last slots."""
        line = self.ring_planes[hoop].flat(self.lines.hoops[hoop].points)
        if self.lines.hoops[hoop].frames.closed:
            return line
        joined = self.settled.cage.connectivity
        places = [int(np.flatnonzero(joined.hoop_nodes[hoop] == node)[0]) for node in joined.crossing[hoop]]
        ends = [(line[0], line[1], int(np.argmin(places))), (line[-1], line[-2], int(np.argmax(places)))]
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
        places = np.vstack([self.lines.anchors[tape], self.lines.crossings[:, tape]])
        return upright_plane(places, normals / np.linalg.norm(normals))

    def _joints(self, tape: int) -> list[Joint]:
        """A tape's joints with the waist disc and every hoop, from the top."""
        plane = self.tape_planes[tape]
        found = [joint_of(self.waist_line, True, self.waist_plane, plane, self.lines.anchors[tape])]
        for hoop, line in enumerate(self.lines.hoops):
            near = self.lines.crossings[hoop, tape]
            found.append(
                joint_of(self.ring_lines[hoop], line.frames.closed, self.ring_planes[hoop], plane, near)
            )
        met = [joint for joint in found if joint is not None]
        if len(met) < len(found):
            raise refuse("--flat", f"tape {tape + 1}", "a hoop runs past this tape when laid flat",
                         "Print the cage standing, without --flat")  # fmt: skip
        return met

    def check_slots(self) -> None:
        """Raises CommandError where the slots of two hoops, or of two tapes at the waist, would meet."""
        levels = np.array([[joint.in_tape[1] for joint in joints] for joints in self.joints])
        step = float((levels[:, :-1] - levels[:, 1:]).min())
        between = tape_gap(self.lines)
        need, room = 2.0 * self.laps.pad, self.laps.slot + self.process.wall
        if step >= need and between >= room:
            return
        ratio = max(need / max(step, 1e-9), room / max(between, 1e-9))
        able = [s for s in SCALES if s * ratio <= self.scale.denominator]
        what = "two hoops" if step < need else "two tapes at the waist"
        raise refuse("--scale", self.scale.text, f"the slots of {what} would meet in the flat pieces",
                     f"Print at 1:{able[-1]}, or standing" if able else "Print it standing")  # fmt: skip
