"""What a miniature stands on: a base, a stem to the waist disc, and posts under the lowest hoop; mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise, product

import numpy as np
from manifold3d import CrossSection, Manifold, OpType

from cage3d.miniature.lines import CageLines
from cage3d.miniature.process import Process
from cage3d.miniature.solids import about_hull, plate, post, stacked
from cage3d.miniature.text import engravable, lettering
from cage3d.shape.arrays import Floats, Ints
from cage3d.steady import first_largest, first_least

BASE_MARGIN = 5.0  # mm beyond the hem
POSTS_AT = (0.19, 0.39, 0.61, 0.81)  # of the girth from centre front; the front stays free for letters
STEM_PER_HEIGHT = 0.03  # diameter of the stem per height of the waist
DISC_SHARE = 0.7  # the cone under the waist disc leaves its rim free by the rest
LETTERS_HIGH = 6.0  # mm, where the base has room for them
LEAST_LETTERS = 5.0  # strokes a letter needs in its height to be read
LINE_STEP = 1.5  # of a letter's height, from line to line
MOST_LINES = 3  # of a name
EDGE = 1.5  # mm that letters keep from the rim and from the stem


@dataclass(frozen=True)
class Stand:
    """Where the stand is; x, y in mm."""

    outline: CrossSection
    stem: Floats | None  # (2,) None where ties leave no room for one
    stem_diameter: float
    posts: Ints  # (n, 2) hoop and tape under whose crossing a post stands
    waist: float  # height of the waistband's lower edge
    disc_thickness: float


def plan_stand(lines: CageLines, stations: Floats, process: Process) -> Stand:
    """A stand that touches nothing but the waist disc and the lowest hoop.

    stations: (T,) each tape's share of the girth from centre front.
    """
    waist = float(lines.waist_lower[:, 2].mean())
    diameter = max(process.rod, STEM_PER_HEIGHT * waist)
    plan = np.vstack([*(hoop.points[:, :2] for hoop in lines.hoops), lines.waist_lower[:, :2]])
    return Stand(
        outline=about_hull(plan, BASE_MARGIN),
        stem=place_of_stem(lines, diameter / 2.0 + process.section * 0.55 + process.opening),
        stem_diameter=diameter,
        posts=np.vstack([posts_under(lines, hem, stations) for hem in lines.hems]),
        waist=waist,
        disc_thickness=max(lines.waist_depth, 1.5 * process.section),
    )


def posts_under(lines: CageLines, hoop: int, stations: Floats) -> Ints:
    """(n, 2) a lowest hoop, and the tapes at which posts stand under it: round her, or at both ends and outside."""
    passes = ~np.isnan(lines.crossings[hoop, :, 0])
    away = np.where(passes, np.abs(stations - np.array(POSTS_AT)[:, None]), np.inf)
    tapes = np.unique([first_least(row) for row in away])
    if len(lines.hems) > 1:
        own = np.flatnonzero(passes)
        outermost = own[first_largest(np.abs(lines.crossings[hoop, own, 0]))]
        tapes = np.unique([own[0], outermost, own[-1]])
    return np.column_stack([np.full(len(tapes), hoop), tapes]).astype(np.intp)


def place_of_stem(lines: CageLines, room: float) -> Floats | None:
    """The place under the waist disc nearest its middle that is `room` away from every tie from above."""
    outline = lines.waist_lower[:, :2]
    middle = outline.mean(axis=0)
    places = np.vstack([middle + share * (outline - middle) for share in np.linspace(0.0, 0.6, 13)])
    for place in places:
        if all(distance(place, tie.points[:, :2]) > room for tie in lines.ties):
            return np.asarray(place)
    return None


def distance(place: Floats, line: Floats) -> float:
    """mm from a place (2,) to a line (n, 2)."""
    start, along = line[:-1], np.diff(line, axis=0)
    length_squared = np.maximum(np.einsum("ij,ij->i", along, along), 1e-12)
    share = np.einsum("ij,ij->i", place - start, along) / length_squared
    nearest = start + np.clip(share, 0.0, 1.0)[:, None] * along
    return float(np.linalg.norm(nearest - place, axis=1).min())


def waist_disc(lines: CageLines, stand: Stand) -> Manifold:
    """The waistband as a solid disc on the waistband's lower edge."""
    upper = lines.waist_lower + np.array([0.0, 0.0, stand.disc_thickness])
    return stacked([upper, lines.waist_lower])


def stem(lines: CageLines, stand: Stand, process: Process) -> Manifold | None:
    """From inside the base to inside the waist disc, widening like a funnel so that the disc prints on it."""
    if stand.stem is None:
        return None
    lower = lines.waist_lower
    angle = 2.0 * np.pi * np.arange(len(lower)) / len(lower) - np.pi / 2.0
    around = stand.stem_diameter / 2.0 * np.column_stack([np.cos(angle), np.sin(angle)])
    foot = np.column_stack([stand.stem + around, np.full(len(lower), -process.base / 2.0)])
    middle = lower.mean(axis=0)
    rim = middle + DISC_SHARE * (lower - middle)
    reach = float(np.linalg.norm(rim[:, :2] - foot[:, :2], axis=1).max())
    neck = foot.copy()
    # No tie may run into the funnel.
    ties = max((float(tie.points[:, 2].max()) for tie in lines.ties), default=0.0) + 2.0 * process.section
    neck[:, 2] = max(stand.waist - min(reach, 0.5 * stand.waist), min(ties, stand.waist - 0.5))
    inside = rim + np.array([0.0, 0.0, stand.disc_thickness / 2.0])
    return stacked([inside, rim, neck, foot])


def posts(lines: CageLines, stand: Stand, process: Process) -> dict[int, Manifold]:
    """By its tape a post under each chosen crossing, from inside the base to the hoop's middle."""
    return {
        int(tape): post(place, -process.base / 2.0, float(place[2]), process.rod)
        for (_, tape), place in zip(stand.posts, places_of_posts(lines, stand), strict=True)
    }


def places_of_posts(lines: CageLines, stand: Stand) -> Floats:
    """(n, 3) mm, the upper ends of the posts."""
    hoops, tapes = stand.posts.T
    return np.asarray(lines.crossings[hoops, tapes])


def base(stand: Stand, process: Process, scale: str, name: str, code: str) -> tuple[Manifold, str]:
    """The base with what is engraved on it at the front: the design's name, scale and code, or what of it fits.

    Returns (body, text engraved, a stroke between lines); the text is empty where none could be read.
    """
    body = plate(stand.outline, -process.base, process.base)
    last = f"{scale} {engravable(code)}".strip()
    words = engravable(name).split()
    named = [[*lines, last] for lines in lines_of(words)] if words else []
    for layouts in (named, [[last]], [[scale]]):
        found = letters_on(stand, layouts, process)
        if found is not None:
            letters, lines = found
            groove = letters.extrude(2.0 * process.engraved).translate((0.0, 0.0, -process.engraved))
            return body - groove, " / ".join(lines)
    return body, ""


def lines_of(words: Sequence[str]) -> list[list[str]]:
    """A name in one line, in two and in three, each as even as words allow."""
    found = []
    for count in range(1, min(MOST_LINES, len(words)) + 1):
        breaks = combinations(range(1, len(words)), count - 1)
        ways = [[" ".join(words[a:b]) for a, b in pairwise((0, *cuts, len(words)))] for cuts in breaks]
        found.append(min(ways, key=lambda lines: max(len(line) for line in lines)))
    return found


def letters_on(
    stand: Stand, layouts: Sequence[list[str]], process: Process
) -> tuple[CrossSection, list[str]] | None:
    """Letters along the front of the base, in the lines that let them be largest; None where none could be read."""
    left, front, right, end = stand.outline.bounds()
    inner = stand.outline.offset(-EDGE)
    middle = (front + end) / 2.0 if stand.stem is None else min(float(stand.stem[1]), (front + end) / 2.0)
    before = middle - stand.stem_diameter / 2.0 - EDGE
    heights = np.linspace(LETTERS_HIGH, LEAST_LETTERS * process.stroke, 6)
    for height, lines in product(heights, layouts):
        letters = put_at(lines, float(height), process.stroke)
        _, low, _, high = letters.bounds()
        # A round base narrows towards its front: set back until the lines fit.
        for back in np.linspace(0.05, 0.3, 6):
            placed = letters.translate(((left + right) / 2.0, front + back * (right - left) - low))
            fits = front + back * (right - left) + high - low <= before
            if fits and (placed - inner).is_empty() and high > low:
                return placed, lines
    return None


def put_at(lines: Sequence[str], height: float, stroke: float) -> CrossSection:
    """Lines of letters, the first furthest back, which is uppermost for who stands in front; mm."""
    step = LINE_STEP * height
    placed = [
        lettering(line, height, stroke).translate((0.0, -place * step)) for place, line in enumerate(lines)
    ]
    return CrossSection.batch_boolean(placed, OpType.Add)
