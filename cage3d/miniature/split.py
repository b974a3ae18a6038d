"""A miniature cut into halves or quarters for a small bed: upright planes beside tape lines, pins and holes.

Every bar that a plane cuts gets a boss thick enough for a pin in one piece and a hole in the
other. All pins of a plane are square to it, so that two pieces slide together straight.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, product

import numpy as np
from manifold3d import Manifold

from cage3d.miniature.cuts import Cut, Piece, capsule, crossings, dense, in_piece, rod, size, turned_to
from cage3d.miniature.lines import CageLines
from cage3d.miniature.process import Bed, Process
from cage3d.miniature.sections import Sections
from cage3d.miniature.solids import united
from cage3d.miniature.stand import Stand, places_of_posts
from cage3d.miniature.topology import BarEnd, Plan
from cage3d.shape.arrays import Floats

PIN = 3.0  # mm, diameter
PIN_LONG = 3.0  # mm into the other piece
HOLE_SPARE = 0.5  # mm that a hole is deeper than its pin
BESIDE = 0.5  # mm between a cut and the tape or post beside it
TURNS = np.radians(np.arange(0.0, 180.0, 2.0))
ASIDE = np.arange(0.0, 31.0, 2.0)  # mm, tried beyond the stem
TRIES = 8
CRUMB = 0.05  # of a piece's volume: a smaller loose body is a boss cut off


@dataclass(frozen=True)
class Cutter:
    """What the places of cuts and pins follow from."""

    lines: CageLines
    stand: Stand
    sections: Sections
    process: Process
    plan: Plan
    asked: tuple[str, ...]

    def cuts(self, square_to: Cut | None = None) -> list[Cut]:
        """Planes that leave the stem, every tape and every post whole, nearest to a tape line first."""
        stem = self.stand.stem
        middle = self.lines.waist_lower[:, :2].mean(axis=0) if stem is None else stem
        aside = 0.0 if stem is None else self.stand.stem_diameter / 2.0 + BESIDE
        found: list[tuple[float, int, Cut]] = []
        turns = TURNS if square_to is None else [np.arctan2(square_to.normal[0], -square_to.normal[1])]
        for turn in turns:
            normal = np.array([np.cos(turn), np.sin(turn)])
            for further, side in product(ASIDE, (-1.0, 1.0)):
                cut = Cut(normal, float(middle @ normal) + side * (aside + further))
                near = self._nearest_upright(cut)
                if near is not None:
                    found.append((near, len(found), cut))
        return [cut for _, _, cut in sorted(found, key=lambda entry: entry[:2])]

    def fits(self, sides: Sequence[tuple[Cut, int]], height: float, bed: Bed) -> bool:
        """Whether what lies on these sides of cuts will fit, by the base's outline and a pin's length."""
        rim = max(self.stand.outline.to_polygons(), key=len)
        shares = np.linspace(0.0, 1.0, 5)[:, None, None]
        places = ((1.0 - shares) * rim + shares * np.roll(rim, -1, axis=0)).reshape(-1, 2)
        for cut, side in sides:
            places = places[side * cut.beyond(places) > 0.0]
        x, y = sides[0][0].normal
        across, deep = (float(side) + PIN_LONG for side in np.ptp(places @ [[x, -y], [y, x]], axis=0))
        return len(places) > 0 and bed.holds((across, deep, height))

    def _nearest_upright(self, cut: Cut) -> float | None:
        """mm to the nearest tape, or None where the plane would cut a tape or a post."""
        tapes = min(float(np.abs(cut.beyond(dense(tape.points))).min()) for tape in self.lines.tapes)
        posts = float(np.abs(cut.beyond(places_of_posts(self.lines, self.stand))).min())
        if tapes < self.sections.tape[1] / 2.0 + BESIDE or posts < self.process.rod / 2.0 + BESIDE:
            return None
        return tapes

    def sound(self, piece: Piece, bed: Bed) -> bool:
        """Whether a piece fits the bed, has no crumbs, and its bosses left open what the cut left open."""
        bodies = piece.solid.decompose()
        found = sum(body.genus() for body in bodies)
        whole = min(body.volume() for body in bodies) > CRUMB * piece.solid.volume()
        return (
            whole
            and bed.holds(size(piece.solid, piece.sides[0][0]))
            and self.openings(piece) in (None, found)
        )

    def openings(self, piece: Piece) -> int | None:
        """Openings a piece must have by the plan of the whole; None where none tells (ties meet, a form)."""
        kept: list[tuple[BarEnd, BarEnd, str]] = []
        for start, end, name in self.plan.edges:
            if "meeting" in (start[0], end[0]) or name == "form":
                return None
            places = [place_of(node, self.lines) for node in (start, end)]
            if name == "stem":
                places.append(self.stand.stem)
            if all(place is None or in_piece(place, piece) for place in places):
                kept.append((start, end, name))
        return sum(body.genus for body in Plan(kept).bodies())

    def pins(self, cut: Cut, within: Sequence[tuple[Cut, int]]) -> Floats:
        """(n, 3) mm, where a plane cuts a bar, the waist disc or the base, inside a piece."""
        places: list[Floats] = []
        if "hoops" in self.asked:
            for hoop in self.lines.hoops:
                places += crossings(cut, hoop.points, hoop.frames.closed)
        if "ties" in self.asked:
            for tie in self.lines.ties:
                places += crossings(cut, tie.points, False)
        if "waistband" in self.asked:
            rim = crossings(cut, self.lines.waist_lower, True)
            middle = np.mean(rim, axis=0)
            height = np.array([0.0, 0.0, self.stand.disc_thickness / 2.0])
            places += [middle + (1.0 - PIN / np.linalg.norm(p - middle)) * (p - middle) + height for p in rim]
        if "stand" in self.asked:
            places += self._on_base(cut)
        inside = [p for p in places if all(side * other.beyond(p) > PIN + BESIDE for other, side in within)]
        return np.array(inside).reshape(-1, 3)

    def _on_base(self, cut: Cut) -> list[Floats]:
        """Two places on the base's top along the cut, clear of stem and posts."""
        outline = max(self.stand.outline.to_polygons(), key=len)
        rim = crossings(cut, np.column_stack([outline, np.zeros(len(outline))]), True)
        middle = np.mean(rim, axis=0)
        uprights = places_of_posts(self.lines, self.stand)[:, :2]
        if self.stand.stem is not None:
            uprights = np.vstack([uprights, self.stand.stem])
        places = []
        for end in (rim[0], rim[-1]):
            for share in (0.6, 0.5, 0.4, 0.7, 0.3):
                place = middle + share * (end - middle)
                if np.linalg.norm(uprights - place[:2], axis=1).min() > 2.0 * PIN:
                    places.append(place)
                    break
        return places

    def halves(self, piece: Piece, cut: Cut) -> tuple[Piece, Piece]:
        """Both sides of a cut: the one with the holes, and the one with the pins."""
        clearance = self.process.clearance
        places = self.pins(cut, piece.sides)
        boss = PIN / 2.0 + clearance + self.process.wall
        reach = PIN_LONG + HOLE_SPARE
        bosses = [capsule(cut, place, boss, reach) for place in places]
        pins = [rod(cut, place, PIN / 2.0, -PIN_LONG, PIN_LONG) for place in places]
        holes = [rod(cut, place, PIN / 2.0 + clearance, -1.0, reach) for place in places]
        beyond, before = united([piece.solid, *bosses]).split_by_plane(cut.normal_in_space, cut.offset)
        return (
            Piece(beyond - united(holes), (*piece.sides, (cut, 1))),
            Piece(united([before, *pins]), (*piece.sides, (cut, -1))),
        )


def split_to_fit(whole: Manifold, cutter: Cutter, bed: Bed) -> tuple[Piece, ...] | None:
    """The miniature in two pieces that each fit the bed, or in four; None where even quarters do not."""
    box = whole.bounding_box()
    height = box[5] - box[2]
    first = cutter.cuts()
    halved = [cut for cut in first if all(cutter.fits([(cut, side)], height, bed) for side in (1, -1))]
    for cut in halved[:TRIES]:
        halves = cutter.halves(Piece(whole, ()), cut)
        if all(cutter.sound(half, bed) for half in halves):
            return halves
    for cut, second in islice(quarterings(first, cutter, height, bed), TRIES):
        halves = cutter.halves(Piece(whole, ()), cut)
        quarters = tuple(quarter for half in halves for quarter in cutter.halves(half, second))
        if all(cutter.sound(quarter, bed) for quarter in quarters):
            return quarters
    return None


def quarterings(first: list[Cut], cutter: Cutter, height: float, bed: Bed) -> Iterator[tuple[Cut, Cut]]:
    """Pairs of cuts square to each other whose quarters will fit, one pair a first cut."""
    for cut in first:
        for second in cutter.cuts(square_to=cut):
            corners = product((1, -1), repeat=2)
            if all(cutter.fits([(cut, one), (second, other)], height, bed) for one, other in corners):
                yield cut, second
                break


def laid_square(piece: Piece) -> Manifold:
    """A piece turned so that its first cut runs along the bed."""
    return turned_to(piece.solid, piece.sides[0][0])


def place_of(node: BarEnd, lines: CageLines) -> Floats | None:
    """Where a node of the plan is; None for what lies on every side, such as the base."""
    kind, first, second = node
    if kind == "hoop":
        return np.asarray(lines.crossings[first, second])
    return np.asarray(lines.anchors[first]) if kind == "anchor" else None
