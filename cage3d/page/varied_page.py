"""The page of a sweep: sliders step through the settled variants; below are table, curves and contact sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from html import escape

from cage3d.page.contact_sheet import contact_sheet_svg
from cage3d.page.curves import curves_svg
from cage3d.page.page import StepsShown, page
from cage3d.page.shown_cage import variants_shown
from cage3d.page.text import cautions, table_html
from cage3d.report import Report, WarningReport, measure
from cage3d.settle import SettledCage
from cage3d.study.sweeping.steps import ON_STEP
from cage3d.study.sweeping.variant_table import Sure, variant_table
from cage3d.study.sweeping.varied_view import failure_lines, key_lines, mind_lines, title_lines
from cage3d.study.sweeping.vary import Varied, evenly
from cage3d.wording import capital

MOST_SHOWN = 40  # variants in one page, of a quarter of a megabyte each
MOST_ROWS = 6  # of the second figure among these


def places_shown(varied_across: int, rows: int) -> tuple[list[int], list[int]]:
    """Places of the first figure's values and of the second's that the sliders step through: all, or some evenly."""
    second = evenly(range(rows), MOST_ROWS if varied_across * rows > MOST_SHOWN else rows)
    return evenly(range(varied_across), max(MOST_SHOWN // len(second), 2)), second


def variants_on_page(across: int, rows: int) -> list[int]:
    """The variants that the sliders step through, in the order of all."""
    first, second = places_shown(across, rows)
    return [row * across + place for row in second for place in first]


def varied_page(varied: Varied, sure: Sure | None, drawn: Sequence[int]) -> bytes:
    """The page (UTF-8 HTML). drawn: the variants on the contact sheet; these and `variants_on_page` were held.

    Raises ValueError where the variants are not made of the same parts.
    """
    sweep = varied.sweep
    shown = variants_on_page(sweep.across, sweep.rows)
    hung = {sweep.name(at): told_again(varied, at) for at in shown if varied.told[at].figures}
    opening = opening_of(varied, [at for at in shown if varied.told[at].figures])
    cage = variants_shown(sweep.design.name, hung, sweep.name(opening))
    opens = f"The page opens at {sweep.name(opening)}, the nearest to what is written."
    said = "<br>".join(map(escape, [*title_lines(varied), opens]))
    return page(
        [cage],
        cage.name,
        said,
        article(varied, sure, drawn, cage.report),
        steps_shown(varied, shown, opening),
    )


def told_again(varied: Varied, variant: int) -> tuple[SettledCage, Report]:
    """How it hangs, with the warnings that were found when it was settled."""
    settled = varied.settled(variant)
    warnings = tuple(WarningReport(code, text) for code, text in varied.told[variant].warnings)
    return settled, replace(measure(settled), warnings=warnings)


def opening_of(varied: Varied, answers: Sequence[int]) -> int:
    """The variant nearest to the design as it is written; the first of several. Raises ValueError for none."""
    if not answers:
        raise ValueError("no variant hangs")

    def off(variant: int) -> float:
        total = 0.0
        for steps, place in zip(varied.sweep.steps, varied.sweep.places(variant), strict=True):
            written = 0.0 if steps.change else (steps.figure.values[0] or 0.0) / steps.scale
            total += abs(steps.number(place) - written) / abs(steps.step)
        return round(total / ON_STEP) * ON_STEP

    return min(answers, key=off)


def steps_shown(varied: Varied, shown: Sequence[int], opening: int) -> StepsShown:
    """A slider for every figure."""
    sweep = varied.sweep
    places = places_shown(sweep.across, sweep.rows)[: len(sweep.steps)]
    values = [[steps.shown(place) for place in own] for steps, own in zip(sweep.steps, places, strict=True)]
    sliders = "".join(
        f'<label>{escape(capital(steps.figure.name))} <input type="range" data-step="{number}" min="0" '
        f'max="{len(own) - 1}" value="{own.index(place)}" aria-valuetext="{escape(steps.shown(place))}"> '
        f"<output>{escape(steps.shown(place))}</output></label>"
        for number, (steps, own, place) in enumerate(
            zip(sweep.steps, places, sweep.places(opening), strict=True)
        )
    )
    buttons = (
        '<button type="button" data-go="-1" aria-label="Variant before">&lsaquo;</button>'
        '<button type="button" data-go="1" aria-label="Next variant">&rsaquo;</button>'
    )
    words = "".join(
        f'<p class="stage-words" data-words-of="{escape(sweep.name(at))}" hidden>{escape(capital(sweep.name(at)))}: '
        f"no answer. {escape(varied.told[at].why)}.</p>"
        for at in shown
        if not varied.told[at].figures
    )
    html = f'<div class="steps" role="group" aria-label="Variants">{sliders}{buttons}</div>'
    names = [sweep.name(at) for at in shown]
    return StepsShown(html, words, sweep.name(opening), {"values": values, "names": names})


def article(varied: Varied, sure: Sure | None, drawn: Sequence[int], opening: Report) -> str:
    """Everything below the model: HTML."""
    table = variant_table(varied, sure)
    minded = "".join(f"<li>{escape(line)}</li>" for line in [*failure_lines(varied), *mind_lines(varied)])
    parts = [
        f'<section class="warnings"><h2>Mind this</h2><ul>{minded}</ul></section>' if minded else "",
        table_html("How the cage answers", " ".join(key_lines(varied, sure)), table.heads, table.rows),
        f"<section><h2>Curves</h2><div class='wide drawn'>{curves_svg(varied)}</div></section>",
        f"<section><h2>Side by side</h2><div class='wide drawn'>{contact_sheet_svg(varied, drawn)}</div></section>",
        cautions(varied.sweep.design, opening),
    ]
    return "\n".join(part for part in parts if part)
