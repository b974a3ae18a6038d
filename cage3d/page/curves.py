"""How a cage answers while a figure goes through its range: small drawings of curves, side by side (SVG)."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from html import escape

from cage3d.design.hoop_materials import one_stuff
from cage3d.page.curve_panel import PANEL_HIGH, PANEL_WIDE, Curve, Panel, panel_svg
from cage3d.shape.weights import GRAVITY
from cage3d.study.sweeping.vary import Varied, evenly
from cage3d.units import INCH
from cage3d.units.kinds import LENGTHS
from cage3d.wording import capital

COLUMNS = 2
HEAD = 62  # px above the panels
MOST_LINES = 10  # of the second figure's values
GRAMS, DEGREES, SHARE = "g", "degrees", "%"
# The least that an axis spans, so that what nobody can see or feel looks level: our own judgement.
LEAST_SPAN = {GRAMS: 20.0, DEGREES: 1.0, SHARE: 5.0, "length": INCH / 2}
# {}: what the hoops are made of.
OF_THE_WHOLE = (
    ("Hem above the floor, at its lowest", "hem_lowest_m"),
    ("Tilt of the hoop that tilts most", "most_tilt_deg"),
    ("Whole cage from side to side", "width_side_side_m"),
    ("Whole cage from front to back", "width_front_back_m"),
    ("Strongest pull in a tape", "most_tension_N"),
    ("{} bent at most, of what it bears", "most_strain_used"),
)
OF_A_HOOP = (
    ("Tilt of each hoop", "tilt_deg"),
    ("Each hoop from side to side", "width_side_side_m"),
    ("Each hoop from front to back", "width_front_back_m"),
    ("Strongest pull in the tapes above each hoop", "most_tension_N"),
    ("{} of each hoop bent, of what it bears", "strain_used"),
)
SIDES = ("front", "left", "back", "right")


def curves_svg(varied: Varied) -> str:
    """All panels under one title; the same bytes for the same answers."""
    panels = panels_of(varied)
    rows = math.ceil(len(panels) / COLUMNS)
    wide, high = COLUMNS * PANEL_WIDE, HEAD + rows * PANEL_HIGH
    drawn = "".join(
        f'<g transform="translate({at % COLUMNS * PANEL_WIDE} {HEAD + at // COLUMNS * PANEL_HIGH})">'
        f"{panel_svg(panel)}</g>"
        for at, panel in enumerate(panels)
    )
    said = said_below_title(varied)
    return (
        f'<svg class="curves" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" role="img" '
        f'aria-label="Curves: {escape(said)}" fill="none" font-family="sans-serif" font-size="13">'
        f'<rect width="{wide}" height="{high}" fill="#fff"/>'
        f'<text x="16" y="28" font-size="18" font-weight="bold" fill="#1b1d21">'
        f"{escape(varied.sweep.design.name)}</text>"
        f'<text x="16" y="50" fill="#1b1d21">{escape(said)}</text>{drawn}</svg>\n'
    )


def said_below_title(varied: Varied) -> str:
    first, *second = varied.sweep.steps
    said = f"{capital(first.in_words)}"
    if second:
        said += f"; a line for each {second[0].figure.name}, {second[0].unit}".rstrip(", ")
    return f"{said}. Dashed upright: as it is written. Cross: no answer there."


def panels_of(varied: Varied) -> list[Panel]:
    if len(varied.sweep.steps) > 1:
        return [of_the_whole(varied, title, name) for title, name in OF_THE_WHOLE]
    hoops = len(varied.sweep.design.hoops)
    sides = {side: f"hoop_{hoops}_height_{side}_m" for side in SIDES}
    panels = [panel(varied, "Hem above the floor", sides)]
    panels += [
        panel(varied, title, {str(hoop): f"hoop_{hoop}_{name}" for hoop in range(1, hoops + 1)}, "hoop")
        for title, name in OF_A_HOOP
    ]
    ties = {str(tie): f"tie_{tie}_tension_N" for tie in range(1, len(varied.sweep.design.ties) + 1)}
    return [*panels, *([panel(varied, "Pull in each tie", ties, "tie")] if ties else [])]


def panel(varied: Varied, title: str, names: dict[str, str], counted: str = "") -> Panel:
    """A line for each of several figures."""
    steps = varied.sweep.steps[0]
    unit, shown_as = scale_of(next(iter(names.values())), varied.sweep.design.units)
    curves = [
        Curve(label, tuple(shown_as(told.figures.get(name)) for told in varied.told))
        for label, name in names.items()
    ]
    return drawn_over(
        varied, title, unit, curves, counted, tuple(steps.number(at) for at in range(steps.count))
    )


def of_the_whole(varied: Varied, title: str, name: str) -> Panel:
    """A line for each value of the second figure."""
    first, second = varied.sweep.steps
    unit, shown_as = scale_of(name, varied.sweep.design.units)
    curves = []
    for row in evenly(range(second.count), MOST_LINES):
        own = varied.told[row * first.count : (row + 1) * first.count]
        values = tuple(shown_as(told.figures.get(name)) for told in own)
        curves.append(Curve(second.shown(row, unit=False), values))
    numbers = tuple(first.number(at) for at in range(first.count))
    return drawn_over(varied, title, unit, curves, "", numbers)


def drawn_over(
    varied: Varied, title: str, unit: str, curves: Sequence[Curve], counted: str, numbers: tuple[float, ...]
) -> Panel:
    steps = varied.sweep.steps[0]
    now = steps.figure.values[0]
    written = 0.0 if steps.change else None if now is None else now / steps.scale
    least = LEAST_SPAN.get(unit, LEAST_SPAN["length"] / LENGTHS.get(unit, 1.0))
    texts = tuple(steps.shown(at, unit=False) for at in range(steps.count))
    across = capital(steps.figure.name) + (f", {steps.unit}" if steps.unit else "")
    title = title.format(capital(one_stuff(varied.sweep.design.stuff, "material")))
    return Panel(title, unit, across, numbers, texts, tuple(curves), least, written, counted)


def scale_of(name: str, units: str | None) -> tuple[str, Callable[[float | None], float | None]]:
    """(unit, how a figure of that name in SI becomes a number of it)."""
    unit = "in" if units == "ft" else units or "mm"
    known = {"_N": (GRAMS, 1000.0 / GRAVITY), "_deg": (DEGREES, 1.0), "_m": (unit, 1.0 / LENGTHS[unit])}
    said, scale = next((found for end, found in known.items() if name.endswith(end)), (SHARE, 100.0))
    return said, lambda value: None if value is None else value * scale
