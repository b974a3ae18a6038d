"""The cage as a line drawing to scale (SVG), for browsers that show nothing in three dimensions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from cage3d.report.curves import POINTS_PER_EDGE, hoop_curve
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.form import Form
from cage3d.steady import NOISE
from cage3d.units import show_mm

MARGIN = 0.04  # m
NEAR, FAR = "#1b1d21", "#9aa3ae"
BETWEEN = 0.12  # m, from one drawing to the next


@dataclass(frozen=True)
class Look:
    """A level direction to look in. across: what points to the right; towards: what points to the eye."""

    title: str
    across: tuple[float, float, float]
    towards: tuple[float, float, float]


FRONT = Look("Front", (1.0, 0.0, 0.0), (0.0, -1.0, 0.0))
HER_LEFT = Look("Her left", (0.0, 1.0, 0.0), (1.0, 0.0, 0.0))


Origin = tuple[float, float]  # m: where the waist's axis and the floor are on the drawing


def nothing(_look: Look, _origin: Origin) -> str:
    return ""


def drawing_svg(
    settled: SettledCage,
    looks: tuple[Look, ...] = (FRONT, HER_LEFT),
    over: Callable[[Look, Origin], str] = nothing,
) -> str:
    """Front and left side next to each other at one scale; what lies behind is drawn lighter.

    over: what else is drawn, over each look.
    """
    top = float(settled.positions[:, 2].max()) + settled.cage.design.waistband.drawn_depth
    drawn, left = [], MARGIN
    for look in looks:
        spread = settled.positions @ np.array(look.across)
        low, high = float(spread.min()), float(spread.max())
        origin = (left - low, top + MARGIN)
        drawn.append(one_look(settled, look, origin) + over(look, origin))
        left += high - low + BETWEEN
    width, height = left - BETWEEN + MARGIN, top + 2 * MARGIN + 0.06
    floor = f'<path d="M0 {mm(top + MARGIN)}H{mm(width)}" stroke="{NEAR}" stroke-width="1.5"/>'
    return (
        f'<svg class="drawing" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {mm(width)} {mm(height)}" '
        f'role="img" aria-label="Drawing of the cage from the front and from her left" '
        f'fill="none" stroke-linejoin="round" font-family="sans-serif" font-size="34">'
        f"{floor}{''.join(drawn)}</svg>"
    )


def one_look(settled: SettledCage, look: Look, origin: Origin) -> str:
    """One drawing, its waist's axis at x = origin[0] and the floor at y = origin[1] (m)."""
    joined, places = settled.cage.connectivity, settled.positions

    def flat(points: Floats) -> Floats:
        return np.column_stack([points @ np.array(look.across) + origin[0], origin[1] - points[:, 2]])

    def near(points: Floats) -> bool:
        return bool((points @ np.array(look.towards)).mean() >= -NOISE)

    behind: list[str] = []
    before: list[str] = []
    for tape in range(joined.tape_count):
        line = places[joined.nodes_of(tape)]
        (before if near(line) else behind).append(line_svg(flat(line), near(line), 4.0))
    for hoop in range(joined.hoop_count):
        points = hoop_curve(settled, hoop).points[:: POINTS_PER_EDGE // 4]
        for piece in by_side(points, look):
            (before if near(piece) else behind).append(line_svg(flat(piece), near(piece), 7.0))
    for row in joined.tie_rows:
        behind.append(line_svg(flat(settled.pull_way(row)), False, 3.0, dashed=True))
    band = flat(places[joined.on_band])
    depth = settled.cage.design.waistband.drawn_depth
    before.append(
        f'<rect x="{mm(band[:, 0].min())}" y="{mm(band[:, 1].min() - depth)}" '
        f'width="{mm(np.ptp(band[:, 0]))}" height="{mm(depth)}" '
        f'fill="#fff" stroke="{NEAR}" stroke-width="4"/>'
    )
    at = f'x="{mm(origin[0])}" y="{mm(origin[1] + 0.05)}"'
    title = f'<text {at} text-anchor="middle" fill="{NEAR}">{look.title}</text>'
    return form_outline(settled.cage.form, look, origin) + "".join(behind + before) + title


def form_outline(form: Form | None, look: Look, origin: Origin) -> str:
    if form is None:
        return ""
    heights = np.linspace(form.sections[0].height, form.sections[-1].height, 60)
    across = np.stack([form.ring(float(height), 48) for height in heights]) @ np.array(look.across)
    right = np.column_stack([origin[0] + across.max(axis=1), origin[1] - heights])
    left = np.column_stack([origin[0] + across.min(axis=1), origin[1] - heights])[::-1]
    return f'<path d="{path(np.vstack([right, left]))}Z" fill="#eceef1"/>'


def by_side(points: Floats, look: Look) -> list[Floats]:
    """A hoop cut where it passes from the near side to the far one: each piece is drawn in its place."""
    towards = points @ np.array(look.towards) >= -NOISE
    cuts = np.flatnonzero(towards[:-1] != towards[1:]) + 1
    edges = [0, *cuts.tolist(), len(points)]
    starts = [max(cut - 1, 0) for cut in edges]
    return [points[a:b] for a, b in zip(starts, edges[1:], strict=False) if b - a > 1]


def line_svg(points: Floats, near: bool, width: float, dashed: bool = False) -> str:
    colour = NEAR if near else FAR
    dashes = ' stroke-dasharray="14 10"' if dashed else ""
    return f'<path d="{path(points)}" stroke="{colour}" stroke-width="{width:g}"{dashes}/>'


def path(points: Floats) -> str:
    return "M" + "L".join(f"{mm(x)} {mm(y)}" for x, y in points)


def mm(metres: float) -> str:
    return show_mm(metres)
