"""What a miniature stands on: a base, a stem to the waist disc, and posts under the lowest hoop; mm."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from manifold3d import CrossSection, Manifold

from cage3d.miniature.lines import CageLines
from cage3d.miniature.process import Process
from cage3d.miniature.solids import about_hull, plate, post, stacked
from cage3d.miniature.text import engravable, lettering
from cage3d.shape.arrays import Floats, Ints
from cage3d.steady import first_least

BASE_MARGIN = 5.0  # mm beyond the hem
POSTS_AT = (0.19, 0.39, 0.61, 0.81)  # of the girth from centre front; the front stays free for letters
STEM_PER_HEIGHT = 0.03  # diameter of the stem per height of the waist
DISC_SHARE = 0.7  # the cone under the waist disc leaves its rim free by the rest
LETTERS_HIGH = 6.0  # mm, where the base has room for them
LEAST_LETTERS = 5.0  # strokes a letter needs in its height to be read


@dataclass(frozen=True)
class Stand:
    """Where the stand is; x, y in mm."""

    outline: CrossSection
    stem: Floats | None  # (2,) None where ties leave no room for one
    stem_diameter: float
    posts: Ints  # tapes under whose crossing of the lowest hoop a post stands
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
        stem=_place_of_stem(lines, diameter / 2.0 + process.section * 0.55 + process.opening),
        stem_diameter=diameter,
        posts=np.unique([first_least(np.abs(stations - wanted)) for wanted in POSTS_AT]).astype(np.intp),
        waist=waist,
        disc_thickness=max(lines.waist_depth, 1.5 * process.section),
    )


def _place_of_stem(lines: CageLines, room: float) -> Floats | None:
    """The place under the waist disc nearest its middle that is `room` away from every tie from above."""
    outline = lines.waist_lower[:, :2]
    middle = outline.mean(axis=0)
    places = np.vstack([middle + share * (outline - middle) for share in np.linspace(0.0, 0.6, 13)])
    for place in places:
        if all(_distance(place, tie.points[:, :2]) > room for tie in lines.ties):
            return np.asarray(place)
    return None


def _distance(place: Floats, line: Floats) -> float:
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
    """A post under the lowest hoop at each chosen tape, from inside the base to the hoop's middle."""
    lowest = lines.crossings[-1]
    return {
        int(tape): post(lowest[tape], -process.base / 2.0, float(lowest[tape, 2]), process.rod)
        for tape in stand.posts
    }


def base(stand: Stand, process: Process, scale: str, code: str) -> tuple[Manifold, str]:
    """The base with what is engraved on it at the front: scale and code, or the scale where both do not fit.

    Returns (body, text engraved); the text is empty where none could be read.
    """
    body = plate(stand.outline, -process.base, process.base)
    for text in (f"{scale} {engravable(code)}".strip(), scale):
        letters = _letters_on(stand.outline, text, process)
        if letters is not None:
            groove = letters.extrude(2.0 * process.engraved).translate((0.0, 0.0, -process.engraved))
            return body - groove, text
    return body, ""


def _letters_on(outline: CrossSection, text: str, process: Process) -> CrossSection | None:
    """Letters along the front of an outline, as large as fit; None where they could not be read."""
    left, front, right, _ = outline.bounds()
    inner = outline.offset(-1.5)
    for height in np.linspace(LETTERS_HIGH, LEAST_LETTERS * process.stroke, 6):
        letters = lettering(text, float(height), process.stroke)
        _, low, _, high = letters.bounds()
        # A round base narrows towards its front: set back until the line fits.
        for back in np.linspace(0.05, 0.3, 6):
            placed = letters.translate(((left + right) / 2.0, front + back * (right - left) - low))
            if (placed - inner).is_empty() and high > low:
                return placed
    return None
