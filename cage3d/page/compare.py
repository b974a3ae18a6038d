"""Two cages told side by side: what differs, in one unit, hoop by hoop from the top."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from html import escape

from cage3d.page.shown_cage import ShownCage
from cage3d.page.text import UNIT_NAMES, summary, table_html, text_html
from cage3d.report.how_sure import OFTEN, give_or_take
from cage3d.report.record import Report
from cage3d.steady import fixed, percent, steady
from cage3d.units import show_length
from cage3d.wording import capital

NONE = "\u2013"  # what one of the two cages does not have

HOOP_FIGURES = {
    "length": "length_m",
    "side to side": "width_side_side_m",
    "front to back": "width_front_back_m",
    "height front": "height_front_m",
    "height back": "height_back_m",
}
# Name, the figure, and how sure it is as `CertaintyReport` calls it.
WHOLE_FIGURES: tuple[tuple[str, Callable[[Report], float], str], ...] = (
    ("Lowest hoop above the floor, least", lambda report: report.hem.lowest_m, "hem_lowest_m"),
    ("Lowest hoop above the floor, most", lambda report: report.hem.highest_m, "hem_highest_m"),
    ("Lowest hoop at its widest", lambda report: report.hem.widest_m, "hem_widest_m"),
    ("Whole cage side to side", lambda report: report.width_side_side_m, "width_side_side_m"),
    ("Whole cage front to back", lambda report: report.width_front_back_m, "width_front_back_m"),
)


@dataclass(frozen=True)
class Told:
    """A length of one cage, and how sure it is; m."""

    metres: float
    within: float | None = None


def whole_figure(report: Report, figure: Callable[[Report], float], sure: str) -> Told:
    return Told(figure(report), getattr(report.certainty, sure, None))


def hoop_figure(report: Report, place: int, name: str) -> Told | None:
    """None where the cage has no such hoop; place: from 0."""
    if place >= len(report.hoops):
        return None
    within = None if report.certainty is None else getattr(report.certainty.hoops[place], name, None)
    return Told(getattr(report.hoops[place], name), within)


def told_apart(first: ShownCage, second: ShownCage) -> tuple[ShownCage, ShownCage]:
    """The same two, under names that differ."""
    if first.name != second.name:
        return first, second
    return replace(first, name=f"{first.name} (first)"), replace(second, name=f"{second.name} (second)")


def comparison_summary(first: ShownCage, second: ShownCage) -> str:
    return "<br>".join(f"<b>{escape(cage.name)}:</b> {summary(cage.report)}" for cage in (first, second))


def comparison_html(first: ShownCage, second: ShownCage) -> str:
    """Below the models: the table of differences, then what each cage alone would have said."""
    own = [
        f'<section class="of-one"><h2 class="whose">{escape(cage.name)}</h2>\n'
        f"{text_html(cage.settled.cage.design, cage.report)}</section>"
        for cage in (first, second)
    ]
    return "\n".join([differences(first, second), *own])


def differences(first: ShownCage, second: ShownCage) -> str:
    head = ["", first.name, second.name, "Second less first"]
    return table_html(
        "What differs", caption(first, second), head, difference_rows(first.report, second.report)
    )


def caption(first: ShownCage, second: ShownCage) -> str:
    """How the two were made comparable, said where it matters."""
    units = first.report.units or "mm"
    written = [cage.settled.cage.design.units or "mm" for cage in (first, second)]
    said = [f"In {UNIT_NAMES[units]}, the differences too; these are taken before rounding."]
    if first.report.certainty is not None or second.report.certainty is not None:
        said.append(f"±: more or less, {OFTEN}.")
    if written[0] != written[1]:
        said.append(f"{second.name} is written in {written[1]} and shown here in {units}.")
    counts = [len(cage.report.hoops) for cage in (first, second)]
    if counts[0] != counts[1]:
        said.append(
            f"The cages have {counts[0]} and {counts[1]} hoops. Hoops are counted from the top, so the same "
            "number need not hang at the same height; the lowest hoops are compared in the first rows."
        )
    return " ".join(said)


def difference_rows(first: Report, second: Report) -> list[list[str]]:
    """Name of a figure, the first's, the second's, second less first; lengths in the first's units."""
    units = first.units
    rows = [
        length_row(name, whole_figure(first, figure, sure), whole_figure(second, figure, sure), units)
        for name, figure, sure in WHOLE_FIGURES
    ]
    stuffs = {first.stuff, second.stuff}
    stuff = "hoops" if len(stuffs) > 1 else first.stuff
    rows.append(length_row(f"{capital(stuff)}, finished", Told(first.steel_m), Told(second.steel_m), units))
    rows.append(share_row("Of its depth behind the waist", first.back_share, second.back_share))
    rows.append(count_row("Hoops", len(first.hoops), len(second.hoops)))
    cloths = {first.on_cloth, second.on_cloth}
    rows.append(
        count_row(
            "Tapes, or seams of cloth" if len(cloths) > 1 else first.says("Tapes"),
            len(first.tapes),
            len(second.tapes),
        )
    )
    kilograms = [report.weight_kg for report in (first, second)]
    more = steady(kilograms[1] - kilograms[0], 2)
    weights = [f"{fixed(one, 2)} kg" for one in kilograms]
    rows.append(["Weight on the waist", *weights, f"{more:+.2f} kg" if more else "0"])
    for place in range(max(len(first.hoops), len(second.hoops))):
        rows += [
            length_row(
                f"Hoop {place + 1}, {name}",
                hoop_figure(first, place, figure),
                hoop_figure(second, place, figure),
                units,
            )
            for name, figure in HOOP_FIGURES.items()
        ]
    return rows


def length_row(name: str, first: Told | None, second: Told | None, units: str | None) -> list[str]:
    shown = [NONE if one is None else told(one, units) for one in (first, second)]
    more = NONE if first is None or second is None else signed_length(second.metres - first.metres, units)
    return [name, *shown, more]


def told(one: Told, units: str | None) -> str:
    """A length, and under it how sure it is."""
    shown = show_length(one.metres, units, unit=False)
    return shown if one.within is None else f"{shown}\n±{give_or_take(one.within, units)}"


def share_row(name: str, first: float, second: float) -> list[str]:
    """Two shares and how many hundredths the second is more."""
    more = fixed(100.0 * (second - first), 0)
    return [
        name,
        percent(first),
        percent(second),
        more if more == "0" or more.startswith("-") else f"+{more}",
    ]


def count_row(name: str, first: int, second: int) -> list[str]:
    return [name, str(first), str(second), f"{second - first:+d}" if second != first else "0"]


def signed_length(metres: float, units: str | None) -> str:
    """'+1 1/2', '\u22123', and '0' for what rounds to it."""
    size, nought = (show_length(one, units, unit=False) for one in (abs(metres), 0.0))
    return "0" if size == nought else f"{'+' if metres > 0 else chr(0x2212)}{size}"
