"""The flat pieces of a cage: rings, tapes, waist disc and stand, cut to fit each other; mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from manifold3d import CrossSection, Manifold

from cage3d.miniature.flat.shapes import (
    Flag,
    Joint,
    Laps,
    Plane,
    block,
    joint_of,
    label,
    laps_of,
    level_plane,
    ring,
    slotted_ring,
    square_ended,
    tape_outline,
    upright_plane,
)
from cage3d.miniature.lines import CageLines, lines_of, tape_gap
from cage3d.miniature.parts import code_of
from cage3d.miniature.process import (
    SCALES,
    Process,
    Scale,
    refuse,
)
from cage3d.miniature.stand import base, plan_stand
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.steady import exceeds, fixed

TILT_TOLD = 4.0  # degrees: rings that lean more than this pinch in their slots
SHOULDER = 1.0  # mm an upright is wider than its tabs, on either side
WIDEST_TAB = 10.0  # mm, half


@dataclass(frozen=True)
class FlatPiece:
    """One piece, lying flat from z = 0, and where it stands when assembled (floor at z = 0); mm."""

    name: str
    outline: CrossSection
    solid: Manifold
    genus: int
    plane: Plane
    thickness: float

    @property
    def assembled(self) -> Manifold:
        """The piece at its place in the model."""
        origin = self.plane.origin - self.plane.axes[:, 2] * self.thickness / 2.0
        return self.solid.transform(np.column_stack([self.plane.axes, origin]))


@dataclass(frozen=True)
class Kit:
    """All pieces of a flat model, before they are laid on beds."""

    pieces: tuple[FlatPiece, ...]
    notes: tuple[str, ...]
    engraved: str


def flat_kit(settled: SettledCage, scale: Scale, process: Process, asked: tuple[str, ...]) -> Kit:
    """The pieces of the parts asked for; ties and the form have none."""
    lines = lines_of(settled, scale, tail=1.0)
    maker = Maker(settled, lines, scale, process, asked)
    maker.check_slots()
    pieces: list[FlatPiece] = []
    if "waistband" in asked:
        pieces.append(maker.waist_disc())
    if "hoops" in asked:
        pieces += [maker.hoop(hoop) for hoop in range(len(lines.hoops))]
    if "tapes" in asked:
        pieces += [maker.tape(tape) for tape in range(len(lines.tapes))]
    if "stand" in asked:
        pieces += maker.stand()
    if not pieces:
        raise refuse("--part", ", ".join(asked), "none of these parts is made flat",
                     "Choose from hoops, tapes, waistband, stand")  # fmt: skip
    return Kit(tuple(pieces), tuple(maker.notes), maker.engraved)


def leaning(settled: SettledCage, scale: Scale) -> float:
    """Degrees that the hoop which leans most leans from level."""
    return largest_lean([level_plane(hoop.points) for hoop in lines_of(settled, scale, tail=1.0).hoops])


def largest_lean(planes: Sequence[Plane]) -> float:
    return max(float(np.degrees(np.arccos(min(plane.axes[2, 2], 1.0)))) for plane in planes)


class Maker:
    """Makes the pieces one by one from planes and joints that all of them share."""

    def __init__(
        self, settled: SettledCage, lines: CageLines, scale: Scale, process: Process, asked: tuple[str, ...]
    ) -> None:
        self.settled, self.lines, self.scale = settled, lines, scale
        self.process, self.asked = process, asked
        self.laps: Laps = laps_of(process)
        self.notes: list[str] = []
        self.engraved = ""
        self.waist_height = float(lines.waist_lower[:, 2].mean())
        self.waist_plane = Plane(np.eye(3), np.array([0.0, 0.0, self.waist_height]))
        self.waist_line = lines.waist_lower[:, :2]
        self.ring_planes = [level_plane(hoop.points) for hoop in lines.hoops]
        self.tape_planes = [self._tape_plane(tape) for tape in range(len(lines.tapes))]
        self.ring_lines = [self._ring_line(hoop) for hoop in range(len(lines.hoops))]
        self.joints = [self._joints(tape) for tape in range(len(lines.tapes))]
        if "ties" in asked and lines.ties:
            self.notes.append("Ties are left out: the printed hoops keep the shape that the ties give them")
        lean = largest_lean(self.ring_planes)
        if exceeds(lean, TILT_TOLD):
            self.notes.append(f"Hoops lean up to {fixed(lean, 0)} degrees: ease their slots with a file")
        if "form" in asked:
            self.notes.append("The wearer's form is not made flat")

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

    def hoop(self, hoop: int) -> FlatPiece:
        line, closed = self.ring_lines[hoop], bool(self.lines.hoops[hoop].frames.closed)
        band = ring(line, self.laps.width) if closed else square_ended(line, self.laps.width)
        outline = slotted_ring(band, [joints[hoop + 1] for joints in self.joints], self.laps)
        plane = self.ring_planes[hoop]

        return self._piece(
            f"hoop {hoop + 1}", outline, plane, self._ring_label(hoop, closed), 1 if closed else 0
        )

    def _ring_label(self, hoop: int, closed: bool) -> Flag:
        """The hoop's number on its inside, between the two tapes nearest to the front that steel joins."""
        joined = self.settled.cage.connectivity
        nodes = joined.hoop_nodes[hoop]
        spots = np.sort(np.flatnonzero(np.isin(nodes, joined.crossing[hoop])))
        ends = np.append(spots[1:], spots[0] + len(nodes)) if closed else spots[1:]
        middles = (spots[: len(ends)] + ends) // 2 % len(nodes)
        from_front = np.abs(np.mod(joined.node_fraction[nodes[middles]] + 0.5, 1.0) - 0.5)
        spot = int(middles[int(np.round(from_front, 6).argmin())])
        points = self.ring_planes[hoop].flat(self.lines.hoops[hoop].points)
        along = points[(spot + 1) % len(points)] - points[spot - 1]
        along = along / np.linalg.norm(along)
        inward = np.array([-along[1], along[0]])
        return label(f"H{hoop + 1}", points[spot], along, inward, self.process)

    def tape(self, tape: int) -> FlatPiece:
        joints = self.joints[tape]
        places = np.array([joint.in_tape for joint in joints])
        steps = np.linalg.norm(np.diff(places, axis=0), axis=1)
        longest = int(np.round(steps, 6).argmax())
        along = (places[longest] - places[longest + 1]) / steps[longest]
        outward = np.array([along[1], -along[0]])
        mark = label(f"T{tape + 1}", places[longest : longest + 2].mean(axis=0), along, outward, self.process)
        return self._piece(
            f"tape {tape + 1}", tape_outline(joints, self.laps), self.tape_planes[tape], mark, 0
        )

    def waist_disc(self) -> FlatPiece:
        oval = CrossSection([np.ascontiguousarray(self.waist_line)])
        outline = oval.offset(self.laps.width / 2.0, circular_segments=96)
        outline = slotted_ring(outline, [joints[0] for joints in self.joints], self.laps)
        holes = self._tab_holes() if "stand" in self.asked else []
        for hole in holes:
            outline = outline - hole
        return self._piece("waist disc", outline, self.waist_plane, None, len(holes))

    def _tab(self) -> tuple[float, float]:
        """(x of an upright, half the width of its tab), mm: two bars side by side under the waist disc."""
        half_breadth, half_depth = (float(side) for side in np.ptp(self.waist_line, axis=0) / 2.0)
        x = max(0.45 * half_breadth, self.laps.thickness + self.laps.clearance + self.laps.neck / 2.0)
        edge = x + self.laps.slot / 2.0
        inner = half_depth * max(1.0 - (edge / half_breadth) ** 2, 0.0) ** 0.5
        half = min(inner - self.laps.width / 2.0 - self.laps.neck - SHOULDER, WIDEST_TAB)
        if half < self.laps.thickness / 2.0:
            raise refuse("--scale", self.scale.text, "the waist disc has no room for the stand's uprights",
                         "Print larger, or without the stand: --part hoops,tapes,waistband")  # fmt: skip
        return x, half

    def _tab_holes(self) -> list[CrossSection]:
        x, half = self._tab()
        spare = self.laps.clearance
        size = (self.laps.slot, 2.0 * half + spare)
        return [CrossSection.square(size, center=True).translate((side * x, 0.0)) for side in (-1.0, 1.0)]

    def stand(self) -> list[FlatPiece]:
        """The base, and two upright bars that carry the waist disc on their tabs."""
        planned = plan_stand(self.lines, self.settled.cage.stations, self.process)
        design = self.settled.cage.design
        body, self.engraved = base(planned, self.process, self.scale.text, design.name, code_of(design))
        outline = planned.outline
        for hole in self._tab_holes():
            outline = outline - hole
            body = body - hole.extrude(3.0 * self.process.base).translate(
                (0.0, 0.0, -2.0 * self.process.base)
            )
        thick = self.process.base
        plane = Plane(np.eye(3), np.array([0.0, 0.0, -thick / 2.0]))
        pieces = [FlatPiece("base", outline, body.translate((0.0, 0.0, thick)), 2, plane, thick)]
        x, half = self._tab()
        for number, side in enumerate((1.0, -1.0), start=1):
            pieces.append(self._upright(number, side * x, half))
        return pieces

    def _upright(self, number: int, x: float, half: float) -> FlatPiece:
        """A bar along the front-back direction; its own x is up, so that it lies along the bed."""
        top = self.waist_height - self.laps.thickness / 2.0
        up, middle = np.array([1.0, 0.0]), np.zeros(2)
        outline = block(middle, up, 0.0, top, 2.0 * (half + SHOULDER))
        outline = outline + block(middle, up, -self.process.base, top + self.laps.thickness, 2.0 * half)
        axes = np.column_stack([[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]])
        plane = Plane(axes, np.array([x, 0.0, 0.0]))
        return self._piece(f"upright {number}", outline, plane, None, 0)

    def _piece(
        self, name: str, outline: CrossSection, plane: Plane, mark: Flag | None, genus: int
    ) -> FlatPiece:
        thick = self.laps.thickness
        if mark is not None:
            outline = outline + mark.flag
        solid = outline.simplify(0.002).extrude(thick)
        if mark is not None:
            solid = solid - mark.letters.extrude(thick).translate((0.0, 0.0, thick - self.process.engraved))
        return FlatPiece(name, outline, solid, genus, plane, thick)
