"""One drawing of curves: axes with round numbers, lines named at their ends, gaps where there is no answer."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape

from cage3d.steady import fixed, steady
from cage3d.units import INCH, show_inches

PANEL_WIDE, PANEL_HIGH = 560, 320  # px
LEFT, RIGHT, TOP, BOTTOM = 62, 74, 40, 52  # px beside the axes
INK, SOFT, GRID, MIND = "#1b1d21", "#565d67", "#e3e6ea", "#b3261e"
# Told apart by those who see few colours too (Okabe and Ito 2008), darker for thin lines on white.
COLOURS = ("#0065a3", "#c04e00", "#007a5a", "#a83f80", "#7a5c00", "#3d7ea6", "#555555")
LABEL = 15  # px from one name to the next
MOST_TICKS = 8
Scale = Callable[[float], float]  # a number or a value to px
INCH_STEPS = (1 / 16, 1 / 8, 1 / 4, 1 / 2, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)


@dataclass(frozen=True)
class Curve:
    """values: one for each place across; None where there is no answer."""

    name: str
    values: tuple[float | None, ...]


@dataclass(frozen=True)
class Panel:
    """across: what the level axis is; numbers: where its places are; texts: what stands there.

    least: what the upright axis spans at least; written: the design's own value; counted: what the names count.
    """

    title: str
    unit: str
    across: str
    numbers: tuple[float, ...]
    texts: tuple[str, ...]
    curves: tuple[Curve, ...]
    least: float
    written: float | None
    counted: str = ""


def panel_svg(panel: Panel) -> str:
    """The drawing in a box of PANEL_WIDE by PANEL_HIGH px, from its upper left corner."""
    ticks = upright_ticks(panel)
    low, high = ticks[0], ticks[-1]
    first, last = min(panel.numbers), max(panel.numbers)

    def x(number: float) -> float:
        return LEFT + (number - first) / (last - first) * (PANEL_WIDE - LEFT - RIGHT)

    def y(value: float) -> float:
        return PANEL_HIGH - BOTTOM - (value - low) / (high - low) * (PANEL_HIGH - TOP - BOTTOM)

    drawn = [text(LEFT - 46, 24, f"{panel.title}, {panel.unit}", INK, "start", bold=True)]
    for tick in ticks:
        drawn.append(stroke([(LEFT, y(tick)), (PANEL_WIDE - RIGHT, y(tick))], GRID, 1))
        drawn.append(
            text(LEFT - 8, y(tick) + 4, tick_text(tick, panel.unit, ticks[1] - ticks[0]), SOFT, "end")
        )
    base = PANEL_HIGH - BOTTOM
    for place in level_ticks(panel):
        at = x(panel.numbers[place])
        drawn.append(stroke([(at, base), (at, base + 5)], SOFT, 1))
        drawn.append(text(at, base + 19, panel.texts[place], SOFT, "middle"))
    drawn.append(text((LEFT + PANEL_WIDE - RIGHT) / 2, base + 38, panel.across, SOFT, "middle"))
    if panel.written is not None and first <= panel.written <= last:
        at = x(panel.written)
        drawn.append(stroke([(at, TOP), (at, base)], SOFT, 1, dashes="3 4"))
    for place, number in enumerate(panel.numbers):
        if all(curve.values[place] is None for curve in panel.curves):
            drawn.append(cross(x(number), base))
    drawn += [curve_svg(curve, colour(at), panel.numbers, x, y) for at, curve in enumerate(panel.curves)]
    return "".join([*drawn, *names_svg(panel, x, y)])


def curve_svg(curve: Curve, paint: str, numbers: Sequence[float], x: Scale, y: Scale) -> str:
    """A line as far as there are answers, a dot at each."""
    drawn, run = [], []
    for number, value in [*zip(numbers, curve.values, strict=True), (0.0, None)]:
        if value is not None:
            run.append((x(number), y(value)))
            drawn.append(f'<circle cx="{px(run[-1][0])}" cy="{px(run[-1][1])}" r="2.5" fill="{paint}"/>')
        else:
            drawn += [stroke(run, paint, 2)] if len(run) > 1 else []
            run = []
    return "".join(drawn)


def names_svg(panel: Panel, x: Scale, y: Scale) -> list[str]:
    """Each curve's name beside its end, none upon another; over them what they count."""
    ends = []
    for at, curve in enumerate(panel.curves):
        known = [
            (number, value)
            for number, value in zip(panel.numbers, curve.values, strict=True)
            if value is not None
        ]
        if known:
            number, value = max(known)
            ends.append((y(value), x(number), at))
    ends.sort(key=lambda end: (steady(end[0], 3), end[2]))
    places = spread([end[0] for end in ends], TOP + 6, PANEL_HIGH - BOTTOM + 6)
    edge, drawn = PANEL_WIDE - RIGHT + 14, []
    if panel.counted and ends:
        drawn.append(text(edge, TOP - 12, panel.counted, SOFT, "start"))
    for (height, across, at), place in zip(ends, places, strict=True):
        drawn.append(stroke([(across + 4, height), (edge - 3, place)], colour(at), 0.75))
        drawn.append(text(edge, place + 4, panel.curves[at].name, colour(at), "start"))
    return drawn


def spread(heights: Sequence[float], top: float, bottom: float) -> list[float]:
    """The same heights, rising, with LABEL between them: pushed down from the top, then up from the bottom."""
    step = min(LABEL, (bottom - top) / max(len(heights) - 1, 1))
    placed: list[float] = []
    for height in heights:
        placed.append(max(height, placed[-1] + step if placed else top))
    limit = bottom
    for at in range(len(placed) - 1, -1, -1):
        placed[at] = min(placed[at], limit)
        limit = placed[at] - step
    return placed


def upright_ticks(panel: Panel) -> list[float]:
    """Round numbers from below the least value to above the largest."""
    values = [value for curve in panel.curves for value in curve.values if value is not None] or [0.0]
    low, high = min(values), max(values)
    spare = max(panel.least - (high - low), 0.0) / 2.0
    floor = 0.0 if low >= 0.0 else -math.inf
    low, high = max(low - spare, floor), high + spare
    step = round_step((high - low) / MOST_TICKS * 1.3, panel.unit)
    first, last = math.floor(steady(low / step, 6)), math.ceil(steady(high / step, 6))
    return [step * place for place in range(first, max(last, first + 1) + 1)]


def round_step(least: float, unit: str) -> float:
    """The least round step that is no less."""
    if unit == "in" and least <= INCH_STEPS[-1]:
        return next(step for step in INCH_STEPS if step >= least)
    ten = 10.0 ** math.floor(math.log10(max(least, 1e-9)))
    return next(ten * times for times in (1.0, 2.0, 5.0, 10.0) if ten * times >= least * (1.0 - 1e-9))


def tick_text(value: float, unit: str, step: float) -> str:
    if unit == "in":
        return show_inches(value * INCH, 1 / 16)
    return fixed(value, max(0, -math.floor(math.log10(step) + 1e-9)))


def level_ticks(panel: Panel) -> list[int]:
    """Places across that are told: as many as find room, evenly, from the first."""
    widest = max(map(len, panel.texts)) * 8 + 16
    room = max(int((PANEL_WIDE - LEFT - RIGHT) / widest), 1)
    every = math.ceil(len(panel.texts) / room)
    return list(range(0, len(panel.texts), every))


def colour(at: int) -> str:
    return COLOURS[at % len(COLOURS)]


def cross(x: float, y: float) -> str:
    arms = f"M{px(x - 5)} {px(y - 5)}L{px(x + 5)} {px(y + 5)}M{px(x - 5)} {px(y + 5)}L{px(x + 5)} {px(y - 5)}"
    return f'<path d="{arms}" stroke="{MIND}" stroke-width="2"/>'


def stroke(points: Sequence[tuple[float, float]], paint: str, width: float, dashes: str = "") -> str:
    way = "L".join(f"{px(x)} {px(y)}" for x, y in points)
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'<path d="M{way}" stroke="{paint}" stroke-width="{width:g}"{dashed}/>'


def text(x: float, y: float, words: str, paint: str, anchor: str, bold: bool = False) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{px(x)}" y="{px(y)}" fill="{paint}" text-anchor="{anchor}"{weight}>{escape(words)}</text>'
    )


def px(value: float) -> str:
    return fixed(value, 1)
