"""What came of a sweep, for reading and as JSON: a row a variant, what to mind, and why some are no answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from rich.console import Group, RenderableType
from rich.text import Text

from cage3d.design.baskets import hem_hoops
from cage3d.design.hoop_materials import what_it_bears
from cage3d.legible import in_signs_of, legible
from cage3d.report import Report, measure, with_certainty
from cage3d.report.as_json import VERSION
from cage3d.report.cautions import PREDICTIONS
from cage3d.report.figure_table import FigureTable
from cage3d.report.how_sure import give_or_take
from cage3d.report.view import Wrapped
from cage3d.shape.weights import GRAVITY
from cage3d.steady import fixed, percent
from cage3d.study.sweeping.told import Told
from cage3d.study.sweeping.vary import Varied
from cage3d.units import show_length
from cage3d.wording import capital

FINE = 1 / 16  # in, to which lengths are shown
WHICH = ("First", "Second")
MISSING = "–"
UNIT_WORDS = {
    "in": "inches",
    "ft": "feet and inches",
    "mm": "millimetres",
    "cm": "centimetres",
    "m": "metres",
}


@dataclass(frozen=True)
class Sure:
    """How sure lengths are, nine times in ten: worked out at one variant, the middle one of those that hang."""

    variant: int
    report: Report  # with its certainty


def sure_of(varied: Varied) -> Sure | None:
    """A second or more of work; None where no variant is an answer that was held."""
    held = [variant for variant in varied.answers if variant in varied.hung]
    if not held:
        return None
    middle = held[len(held) // 2]
    settled = varied.settled(middle)
    return Sure(middle, with_certainty(measure(settled), settled))


@dataclass(frozen=True)
class Column:
    """A column of figures. sure: its +- in the report of certainty, where it is a length."""

    head: str
    cell: Callable[[dict[str, Any]], str]
    sure: str = ""


def columns_of(varied: Varied) -> list[Column]:
    units = varied.sweep.design.units

    def length(head: str, name: str, sure: str = "") -> Column:
        return Column(head, lambda told: show_length(told[name], units, FINE, unit=False), sure or name)

    found = [
        length("Hem low", "hem_lowest_m"),
        length("Hem high", "hem_highest_m"),
        length("Wide", "width_side_side_m"),
        length("Deep", "width_front_back_m"),
        Column("Behind", lambda told: percent(told["back_share"])),
        Column("Tilt", lambda told: f"{fixed(told['most_tilt_deg'], 1)}°"),
        Column("Bent", lambda told: percent(told["most_strain_used"])),
        Column("Pull", lambda told: grams(told["most_tension_N"])),
    ]
    ties = len(varied.sweep.design.ties)
    if ties:
        names = [f"tie_{number}_tension_N" for number in range(1, ties + 1)]
        found.append(Column("Tie", lambda told: grams(max(told[name] for name in names))))
    if any(one.figures.get("slack_tapes") for one in varied.told):
        found.append(Column("Slack", lambda told: fixed(told["slack_tapes"], 0)))
    return found


def grams(newtons: float) -> str:
    return fixed(newtons / GRAVITY * 1000.0, 0)


def varied_view(varied: Varied, sure: Sure | None, encoding: str = "utf-8") -> Group:
    """For a rich console whose terminal or file has this encoding."""

    def said(text: str, style: str = "") -> Wrapped:
        return Wrapped(in_signs_of(encoding, legible(text)), style)

    parts: list[RenderableType] = [
        said(varied.sweep.design.name, "bold"),
        *(said(line) for line in title_lines(varied)),
        Text(""),
        variant_table(varied, sure),
        *(said(line) for line in key_lines(varied, sure)),
        Text(""),
        *(said(line, "yellow") for line in failure_lines(varied)),
        *(said(line, "yellow") for line in mind_lines(varied)),
        Text(""),
    ]
    return Group(*parts, said(PREDICTIONS))


def title_lines(varied: Varied) -> list[str]:
    """What varies, and how many variants there are."""
    count, good = varied.sweep.count, len(varied.answers)
    steps = varied.sweep.steps
    lines = [f"{capital(one.in_words)}." for one in steps]
    if len(steps) > 1:
        lines = [f"{which}: {one.in_words}." for which, one in zip(WHICH, steps, strict=True)]
    lines += [
        f"No step falls on {steps.last:g} {steps.unit}; the last is {steps.shown(steps.count - 1)}."
        for steps in varied.sweep.steps
        if steps.missed
    ]
    hang = "all of them hang" if good == count else f"{good} of them hang"
    return [*lines, f"{count} variants, {hang}."]


def value_heads(varied: Varied) -> list[str]:
    """Over the values: their unit."""
    steps = varied.sweep.steps
    words = ["At"] if len(steps) == 1 else WHICH
    return [f"{word}, {one.unit}" if one.unit else word for word, one in zip(words, steps, strict=True)]


def variant_table(varied: Varied, sure: Sure | None) -> FigureTable:
    columns, sweep = columns_of(varied), varied.sweep
    marks = mind_marks(varied)
    heads = [*value_heads(varied), *(column.head for column in columns), *(["Mind"] if marks else [])]
    rows = []
    for variant, told in enumerate(varied.told):
        pairs = zip(sweep.steps, sweep.places(variant), strict=True)
        values = [steps.shown(place, unit=False) for steps, place in pairs]
        cells = [column.cell(told.figures) if told.figures else MISSING for column in columns]
        minded = ", ".join(map(str, sorted({marks[code] for code, _ in told.warnings})))
        rows.append([*values, *cells, *([minded] if marks else [])])
    if sure is not None and sure.report.certainty is not None:
        spare = ["±", *[""] * (len(sweep.steps) - 1)]
        give = [
            f"±{give_or_take(getattr(sure.report.certainty, column.sure), sure.report.units)}"
            if column.sure
            else ""
            for column in columns
        ]
        rows.append([*spare, *give, *([""] if marks else [])])
    return FigureTable(heads, rows, keys=len(sweep.steps))


def key_lines(varied: Varied, sure: Sure | None) -> list[str]:
    """What the columns are."""
    unit = UNIT_WORDS[varied.sweep.design.units or "mm"]
    lowest = (
        "the lowest hoop" if len(hem_hoops(varied.sweep.design)) == 1 else "the lowest hoops of both baskets"
    )
    lines = [
        f"Lengths in {unit}. Hem: of {lowest} above the floor. Behind: of front to back, behind the waist. "
        f"Tilt: of the hoop that tilts most. Bent: at most, of {what_it_bears(varied.sweep.design.stuff)}. "
        "Pull: the strongest tape's, in g."
    ]
    if varied.sweep.design.ties:
        lines.append("Tie: the strongest tie's pull, in g.")
    if sure is not None:
        lines.append(f"±: nine times in ten, worked out at {varied.sweep.name(sure.variant)}.")
    return lines


def mind_marks(varied: Varied) -> dict[str, int]:
    """A number for every kind of warning, in the order in which they come."""
    codes = dict.fromkeys(code for told in varied.told for code, _ in told.warnings)
    return {code: number for number, code in enumerate(codes, start=1)}


def mind_lines(varied: Varied) -> list[str]:
    """Every kind of warning once, with the variants that have it, and its words at the first."""
    lines = []
    for code, number in mind_marks(varied).items():
        own = [variant for variant, told in enumerate(varied.told) if code in dict(told.warnings)]
        text = dict(varied.told[own[0]].warnings)[code]
        lines.append(f"Mind {number}, at {where(varied, own)}: {text}")
    return lines


def where(varied: Varied, variants: list[int]) -> str:
    """'72 in', '72 in and the 3 after it', or '5 variants, first 72 in'."""
    first, many = varied.sweep.name(variants[0]), len(variants)
    if many == 1:
        return first
    if len(varied.sweep.steps) == 1 and variants == list(range(variants[0], variants[0] + many)):
        return f"{first} to {varied.sweep.name(variants[-1])}"
    return f"{many} variants, the first {first}"


def failure_lines(varied: Varied) -> list[str]:
    """Why some variants are no answer: each reason once."""
    reasons: dict[str, list[int]] = {}
    for variant, told in enumerate(varied.told):
        if not told.figures:
            reasons.setdefault(told.why, []).append(variant)
    return [f"No answer at {where(varied, own)}: {why}." for why, own in reasons.items()]


def varied_json(varied: Varied, sure: Sure | None) -> dict[str, Any]:
    """Plain values for json.dumps: SI, figures to a micron."""
    sweep = varied.sweep
    return {
        "version": VERSION,
        "design": sweep.design.name,
        "varied": [
            {
                "figure": steps.figure.name, "unit": steps.unit, "change": steps.change,
                "places": list(steps.figure.places),
            }
            for steps in sweep.steps
        ],
        "variants": [variant_json(varied, variant, told) for variant, told in enumerate(varied.told)],
        "sure": None if sure is None else sure_json(varied, sure),
    }  # fmt: skip


def variant_json(varied: Varied, variant: int, told: Told) -> dict[str, Any]:
    sweep = varied.sweep
    pairs = list(zip(sweep.steps, sweep.places(variant), strict=True))
    return {
        "written": [steps.shown(place) for steps, place in pairs],
        "values": [round(steps.value(place), 9) for steps, place in pairs],
        "hangs": bool(told.figures),
        "refused": told.refused,
        "why": told.why or None,
        "figures": told.figures or None,
        "warnings": [{"code": code, "text": text} for code, text in told.warnings],
    }


def sure_json(varied: Varied, sure: Sure) -> dict[str, Any]:
    names = [column.sure for column in columns_of(varied) if column.sure]
    return {"variant": sure.variant} | {
        name: round(getattr(sure.report.certainty, name), 6) for name in names if sure.report.certainty
    }
