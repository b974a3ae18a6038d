"""What one mark that is off does to the hem of this cage, in words: the report's own rows, settled again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cage3d.design.baskets import hem_under
from cage3d.report.foreseen import MarkReport, SlipReport
from cage3d.report.mark_table import settled_again
from cage3d.report.record import Report
from cage3d.report.tables import fine, fine_unit
from cage3d.sheets.writing import typeset

SIDES = ("front", "left", "back", "right")
INNER_SIDE = "next to her"
# Of a hoop beside her, whose sides are its own; by where it stands.
OWN_SIDES = {
    "left": ("front", "outside", "back", INNER_SIDE),
    "right": ("front", INNER_SIDE, "back", "outside"),
}


@dataclass(frozen=True)
class Effect:
    """One mark, and what the hem does where it is sewn too low and too high."""

    mark: str
    low: str
    high: str


def effect_rows(report: Report, sides: Sequence[str]) -> tuple[Effect, ...]:
    """The marks that matter most, as the report has them; none where it was made without.

    sides: of each tape, L, R, CF or CB.
    """
    return tuple(effect_row(report, mark, sides[mark.tape - 1]) for mark in settled_again(report))


def effect_row(report: Report, mark: MarkReport, side: str) -> Effect:
    name = report.says(f"Tape {mark.tape} {side}, hoop {mark.hoop}")
    beside = [hoop.beside for hoop in report.hoops]
    passed = [hoop.number - 1 for hoop in report.hoops if hoop.at_tape(mark.tape) is not None]
    sides = OWN_SIDES.get(beside[hem_under(beside, mark.hoop - 1, passed)] or "", SIDES)
    return Effect(name, hem_words(report, mark.low, sides), hem_words(report, mark.high, sides))


def hem_words(report: Report, slip: SlipReport | None, sides: Sequence[str]) -> str:
    """'front ¹⁄₁₆ in lower, back ¹⁄₃₂ in higher', or that nothing can be measured.

    sides: what front, left, back and right of the hem are called.
    """
    if slip is None:
        return "finds no rest"
    moves = dict(zip(sides, (slip.front_m, slip.left_m, slip.back_m, slip.right_m), strict=True))
    if moves.get(INNER_SIDE) == slip.front_m:
        del moves[INNER_SIDE]  # a bow's end in front is the nearest to her too
    parts = [f"{side} {text}" for side, move in moves.items() if (text := moved(report, move))]
    return ", ".join(parts) or "nothing that can be measured"


def moved(report: Report, metres: float) -> str:
    """'¹⁄₁₆ in lower'; empty where it is too little to be measured."""
    text = fine(report, abs(metres))
    return (
        "" if text == "0" else f"{typeset(text)} {fine_unit(report)} {'lower' if metres < 0.0 else 'higher'}"
    )
