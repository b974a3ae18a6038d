"""Front and left side of all variants at one scale, one beside another (SVG)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from textwrap import wrap

import numpy as np

from cage3d.page.line_drawing import FRONT, HER_LEFT, NEAR, mm, one_look
from cage3d.settle import SettledCage
from cage3d.study.sweeping.vary import Varied
from cage3d.units import INCH

LOOKS = (FRONT, HER_LEFT)
MARGIN, BETWEEN, CAPTION, FOOT = 0.06, 0.10, 0.09, 0.08  # m, in the scale of the cages
MIND = "#b3261e"
SHAPE = 1.45  # width over height that the sheet comes near to
HEAD = 0.16  # m
SIGN = 0.02  # m, about the width of a letter of the reasons


@dataclass(frozen=True)
class Extents:
    """m: how far the widest variant reaches from the axis in every look, to its left and right, and the highest."""

    reaches: tuple[tuple[float, float], ...]
    top: float

    @property
    def wide(self) -> float:
        return sum(right - left for left, right in self.reaches) + BETWEEN * (len(self.reaches) - 1)


def contact_sheet_svg(varied: Varied, variants: Sequence[int]) -> str:
    """A cell for each of these variants, which were held; one that is no answer has its reason instead."""
    hung = {at: varied.settled(at) for at in variants if varied.told[at].figures}
    extents = extents_of(list(hung.values()))
    wide, high = extents.wide + 2 * MARGIN, extents.top + CAPTION + FOOT + MARGIN
    columns = columns_for(varied, len(variants), wide, high)
    rows = math.ceil(len(variants) / columns)
    cells = "".join(
        f'<g transform="translate({mm(number % columns * wide)} {mm(HEAD + number // columns * high)})">'
        f"{cell(varied, at, hung.get(at), extents)}</g>"
        for number, at in enumerate(variants)
    )
    full_wide, full_high = columns * wide, HEAD + rows * high
    said = f"{varied.sweep.design.name}: " + "; ".join(steps.in_words for steps in varied.sweep.steps)
    return (
        f'<svg class="contact" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {mm(full_wide)} {mm(full_high)}" '
        f'role="img" aria-label="All variants from the front and from her left" '
        f'fill="none" stroke-linejoin="round" font-family="sans-serif" font-size="34">'
        f'<rect width="{mm(full_wide)}" height="{mm(full_high)}" fill="#fff"/>'
        f'<text x="{mm(MARGIN)}" y="{mm(0.07)}" fill="{NEAR}" font-size="{mm(head_size(said, full_wide))}">'
        f"{escape(said)}</text>{ruler(varied)}{cells}</svg>\n"
    )


def head_size(said: str, wide: float) -> float:
    """m, of letters with which the title finds room."""
    return min(0.05, (wide - 2 * MARGIN) / (0.55 * len(said)))


def columns_for(varied: Varied, count: int, wide: float, high: float) -> int:
    """A row for every value of the second figure where that is no strip; else as the sheet's shape asks."""
    across = varied.sweep.across
    if len(varied.sweep.steps) > 1 and count == varied.sweep.count and across <= 12:
        return across
    return max(1, min(count, round(math.sqrt(count * SHAPE * high / wide))))


def extents_of(hung: Sequence[SettledCage]) -> Extents:
    reaches = []
    for look in LOOKS:
        spread = [one.positions @ np.array(look.across) for one in hung]
        reaches.append((min(float(one.min()) for one in spread), max(float(one.max()) for one in spread)))
    top = max(float(one.positions[:, 2].max()) + one.cage.design.waistband.drawn_depth for one in hung)
    return Extents(tuple(reaches), top)


def cell(varied: Varied, variant: int, settled: SettledCage | None, extents: Extents) -> str:
    """A variant under its name, from the cell's upper left corner."""
    floor = CAPTION + extents.top
    wide = extents.wide
    drawn = [
        f'<text x="{mm(MARGIN + wide / 2)}" y="{mm(0.05)}" text-anchor="middle" fill="{NEAR}" font-size="44" '
        f'font-weight="bold">{escape(varied.sweep.name(variant))}</text>',
        f'<path d="M{mm(MARGIN)} {mm(floor)}h{mm(wide)}" stroke="{NEAR}" stroke-width="1.5"/>',
    ]
    if settled is None:
        return "".join([*drawn, reason(varied.told[variant].why, wide)])
    left = MARGIN
    for look, (low, high) in zip(LOOKS, extents.reaches, strict=True):
        drawn.append(one_look(settled, look, (left - low, floor)))
        left += high - low + BETWEEN
    return "".join(drawn)


def reason(why: str, wide: float) -> str:
    """Why there is nothing to draw, in lines that fit the cell."""
    lines = ["No answer:", *wrap(why, max(int(wide / SIGN), 12))]
    return "".join(
        f'<text x="{mm(MARGIN)}" y="{mm(CAPTION + 0.06 + 0.045 * number)}" fill="{MIND}">{escape(line)}</text>'
        for number, line in enumerate(lines)
    )


def ruler(varied: Varied) -> str:
    """How long a foot, or 30 cm, is on the sheet."""
    inches = varied.sweep.design.units in ("in", "ft")
    long, said = (12 * INCH, "12 in") if inches else (0.3, "30 cm")
    at = f"M{mm(MARGIN)} {mm(0.10)}v{mm(0.02)}h{mm(long)}v{mm(-0.02)}"
    words = f'<text x="{mm(MARGIN + long + 0.02)}" y="{mm(0.122)}" fill="{NEAR}">{said}</text>'
    return f'<path d="{at}" stroke="{NEAR}" stroke-width="3"/>{words}'
