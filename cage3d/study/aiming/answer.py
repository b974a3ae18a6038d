"""What the way back has found, as a maker reads it and as JSON."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from rich.console import Group, RenderableType
from rich.text import Text

from cage3d.design.models import Design
from cage3d.legible import in_signs_of, legible
from cage3d.report import measure, with_certainty
from cage3d.report.alike import SLACK
from cage3d.report.cautions import PREDICTIONS
from cage3d.report.figure_table import FigureTable
from cage3d.report.how_sure import legend
from cage3d.report.pulls import tape_reports
from cage3d.steady import fixed
from cage3d.study.aiming.aim import Aimed
from cage3d.study.aiming.outline import Outline
from cage3d.study.aiming.search import SPENT
from cage3d.study.aiming.unmet import figure_in_words
from cage3d.study.aiming.writing import girths_of, in_full
from cage3d.study.numbers import is_share, number_names, numbers_of
from cage3d.units import show_length, show_mm
from cage3d.units.showing import short
from cage3d.wording import capital, listed, numbered

KINDS = ("hoop", "drop", "level", "cloth", "tie", "panel")  # of numbers, in the order in which they are told
OTHERWISE = "hung anew, the cage that was found hangs another way"  # why a search ended
FINE = 1 / 16  # in, to which figures stand beside wanted ones


@dataclass(frozen=True)
class Answer:
    """The design as asked, the design that comes nearest, and how near that is."""

    before: Design
    found: Aimed
    exact_off: float  # m, the most that a figure is off before the numbers are rounded
    within: float  # m
    reasons: tuple[str, ...]
    text: str  # of the found design
    outlines: tuple[Outline, ...] = ()  # that were wanted

    @property
    def off(self) -> float:
        """m, the most that a figure is off."""
        return float(np.abs(self.found.off).max())

    @property
    def reached(self) -> bool:
        return self.found.settled.trusted and self.off <= self.within

    @property
    def changes(self) -> list[tuple[str, float, float]]:
        """(name, before, after) of every number that changed: m, a panel's tightness as a share."""
        pairs = zip(
            number_names(self.before), numbers_of(self.before), numbers_of(self.found.design), strict=True
        )
        changed = [(name, float(old), float(new)) for name, old, new in pairs if abs(new - old) > 1e-7]
        girths = zip(girths_of(self.before), girths_of(self.found.design), strict=True)
        return changed + [
            (f"cloth girth at hoop {hoop}", old, new)
            for hoop, (old, new) in enumerate(girths, start=1)
            if abs(new - old) > 1e-7
        ]

    @cached_property
    def how_sure(self) -> str:
        """How sure heights and widths of the found cage are; a second or more of work. Empty where it is no answer."""
        settled = self.found.settled
        told = legend(with_certainty(measure(settled), settled))
        return "; ".join(f"{one[0].lower()}{one[1:]}" for one in told)

    @property
    def loose(self) -> list[str]:
        """Tapes or seams that hang loose in the found cage: 'tape 3 above hoops 2 and 3'."""
        return [
            f"{self.before.line} {tape.tape} above {numbered('hoop', slack)}"
            for tape in tape_reports(self.found.settled)
            if (slack := [segment.to_hoop for segment in tape.segments if segment.slack_m > SLACK])
        ]


def answer_view(answer: Answer, encoding: str = "utf-8") -> Group:
    """Wanted beside settled, what to cut now, and what could not be had."""

    def said(text: str, style: str = "") -> Text:
        return Text(in_signs_of(encoding, legible(text)), style)

    parts: list[RenderableType] = [
        said(answer.before.name, "bold"),
        said("Wanted and settled", "bold"),
        wish_table(answer),
        *map(said, verdict(answer)),
        Text(""),
    ]
    if answer.changes:
        parts += [said("What changes", "bold"), change_table(answer), Text("")]
    return Group(*parts, said(PREDICTIONS))


def wish_table(answer: Answer) -> FigureTable:
    units = answer.before.units
    rows = [
        (
            capital(figure_in_words(wish.figure)),
            show_length(wish.value, units, FINE),
            show_length(wish.value + off, units, FINE),
            signed_mm(off),
        )
        for wish, off in zip(answer.found.wishes, answer.found.off, strict=True)
    ]
    return FigureTable(("", "Wanted", "Settled", "Off, mm"), rows, words=True)


def signed_mm(metres: float) -> str:
    text = fixed(1000.0 * metres, 1)
    return text if text.startswith("-") or float(text) == 0.0 else f"+{text}"


def change_table(answer: Answer) -> FigureTable:
    """Numbers that changed; drops that all tapes share, or levels that all seams do, stand in one row."""
    units, lines, line = answer.before.units, answer.before.tapes.count, answer.before.line
    rows: dict[tuple[str, str, str], list[int]] = {}
    for name, old, new in answer.changes:
        what, number = name, 0
        if name.startswith(line):
            said, what = name.removeprefix(f"{line} ").split(" ", 1)
            number = int(said)
        key = (what, number_text(name, old, units), number_text(name, new, units))
        rows.setdefault(key, []).append(number)
    told = [
        (capital(what) + on_lines(line, found, lines), old, new)
        for (what, old, new), found in sorted(rows.items(), key=by_kind)
    ]
    return FigureTable(("", "Was", "Now"), told, words=True)


def number_text(name: str, number: float, units: str | None) -> str:
    """A length with its unit, a panel's tightness in per cent."""
    return f"{short(100.0 * number, 2)} %" if is_share(name) else in_full(number, units)


def by_kind(row: tuple[tuple[str, str, str], list[int]]) -> tuple[int, str, list[int]]:
    """Hoops first, then drops or levels by their hoop and line, then cloth, ties and panels."""
    what = row[0][0]
    return KINDS.index(what.split()[0]), what, row[1]


def on_lines(line: str, numbers: list[int], count: int) -> str:
    """', tapes 1 and 8', ', all seams'; nothing of a number that belongs to none."""
    if numbers == [0]:
        return ""
    return f", all {line}s" if len(numbers) == count else f", {numbered(line, numbers)}"


def verdict(answer: Answer) -> list[str]:
    """Reached or not, how many settlings, what could not be had, which tapes hang loose."""
    within, most = show_mm(answer.within), show_mm(answer.off)
    lines = [
        f"Reached: every figure within {within} mm; the farthest is {most} mm off."
        if answer.reached
        else f"Not reached: a figure is {most} mm off, and {within} mm are allowed.",
        f"{answer.found.settlings} settlings: {answer.found.why}.",
        *([f"As people sew: {answer.how_sure}."] if answer.how_sure else []),
        *answer.reasons,
    ]
    if not answer.reached:
        lines += remedy(answer)
    if answer.loose:
        on_tapes = "their drops are not told by any figure"
        why = on_tapes if answer.before.cloth is None else "the cloth beside them bears there"
        lines.append(f"Hanging loose: {listed(answer.loose)}; {why}.")
    return lines


def remedy(answer: Answer) -> list[str]:
    """What to do where a wish is not reached for no reason of its own."""
    if answer.found.why == SPENT:
        return ["Aim again at the design that was written: the search then goes on from there."]
    if answer.found.why == OTHERWISE:
        return [
            "It can hang in more ways than one. Begin from drops that leave it one, more even round each hoop."
        ]
    if answer.exact_off <= answer.within:
        return ["Unrounded numbers would reach it: round more finely with --to."]
    return []


def answer_json(answer: Answer) -> dict[str, Any]:
    """Lengths in m."""
    return {
        "reached": answer.reached,
        "within_m": answer.within,
        "farthest_off_m": answer.off,
        "unrounded_off_m": answer.exact_off,
        "settlings": answer.found.settlings,
        "ended": answer.found.why,
        "figures": [
            {"figure": wish.figure.name, "wanted_m": wish.value, "settled_m": wish.value + float(off)}
            for wish, off in zip(answer.found.wishes, answer.found.off, strict=True)
        ],
        "changes": [change_json(*change) for change in answer.changes],
        "reasons": list(answer.reasons),
        "loose": answer.loose,
        "how_sure": answer.how_sure,
    }


def change_json(name: str, old: float, new: float) -> dict[str, Any]:
    kind = "share" if is_share(name) else "m"
    return {"number": name, f"was_{kind}": old, f"now_{kind}": new}
