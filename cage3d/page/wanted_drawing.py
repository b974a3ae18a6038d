"""What was wanted over the cage that settles: the drawing that goes with a way back."""

from __future__ import annotations

from collections.abc import Sequence

from cage3d.page.line_drawing import FRONT, HER_LEFT, Look, Origin, drawing_svg, mm
from cage3d.report.curves import hoop_curve
from cage3d.settle.state import SettledCage
from cage3d.study.aiming.outline import Outline
from cage3d.study.aiming.wishes import Wish

WANTED = "#b3261e"
BAR, TICK = 0.05, 0.08  # m: height of a width's bars, length of a height's tick
# Which way a height stands out from the axis, by what it is called, in the drawing that shows it in outline.
VIEWS = {"front": FRONT, "side": HER_LEFT}
SIDES = {"front": (False, -1.0), "back": (False, 1.0), "left": (True, 1.0), "right": (True, -1.0)}
WAYS = {"side to side": True, "front to back": False}


def wanted_svg(settled: SettledCage, wishes: Sequence[Wish], outlines: Sequence[Outline] = ()) -> str:
    """Front and left side of the settled cage, with a bar at each end of a wanted width, a tick at a wanted height.

    Outlines that were wanted stand round it in the same colour, and no bars then.
    """
    shapes = {VIEWS[outline.view]: outline for outline in outlines}

    def over(look: Look, origin: Origin) -> str:
        marks = [mark for wish in wishes for mark in marks_of(settled, wish, look, origin)]
        drawn = [outline_path(shapes[look], origin)] if look in shapes else [] if shapes else marks
        words = "wanted: the outline" if shapes else "wanted: bars for widths, ticks for heights"
        at = f'x="{mm(origin[0])}" y="{mm(origin[1] + 0.085)}"'
        said = f'<text {at} text-anchor="middle" fill="{WANTED}" font-size="22">{words}</text>'
        return f'<g stroke="{WANTED}" stroke-width="6">{"".join(drawn)}</g>{said if look is FRONT else ""}'

    return drawing_svg(settled, over=over) + "\n"


def outline_path(outline: Outline, origin: Origin) -> str:
    places = [f"{mm(origin[0] + across)} {mm(origin[1] - height)}" for across, height in outline.points[:-1]]
    return f'<path d="M{"L".join(places)}Z" stroke-dasharray="24 12"/>'


def marks_of(settled: SettledCage, wish: Wish, look: Look, origin: Origin) -> list[str]:
    """Lines for one wish, where this look shows it from the side."""
    points = hoop_curve(settled, wish.figure.hoop).points
    across = points @ look.across
    least, most = float(across.min()), float(across.max())
    kind, from_front = wish.figure.kind, look is FRONT
    if kind in WAYS and WAYS[kind] == from_front:
        middle, height = (least + most) / 2.0, float(points[:, 2].mean())
        ends = [middle - wish.value / 2.0, middle + wish.value / 2.0]
        return [line(origin, (x, height - BAR / 2.0), (x, height + BAR / 2.0)) for x in ends]
    side = kind.removeprefix("height ")
    if side in SIDES and SIDES[side][0] == from_front:
        outwards = SIDES[side][1]
        edge = most if outwards > 0.0 else least
        return [line(origin, (edge + outwards * 0.01, wish.value), (edge + outwards * TICK, wish.value))]
    return []


def line(origin: Origin, start: tuple[float, float], end: tuple[float, float]) -> str:
    """From one place to another (m from the axis, m above the floor)."""
    (x0, z0), (x1, z1) = start, end
    at = f"M{mm(origin[0] + x0)} {mm(origin[1] - z0)}L{mm(origin[0] + x1)} {mm(origin[1] - z1)}"
    return f'<path d="{at}"/>'
