"""A figure over a range, as a maker says it: hoop 4 length 66..78 by 2, drop 3 at the back -1/2..+1/2 by 1/4."""

from __future__ import annotations

import math
from dataclasses import dataclass

from cage3d.design.faults import printable
from cage3d.errors import CommandError, Problem
from cage3d.study.sweeping.varying import COUNT, PLAIN, Varying
from cage3d.units import INCH, LENGTH, SHARE, Kind, NoUnitsError, UnitError, show_inches
from cage3d.units.kinds import factor, unit_word
from cage3d.units.showing import short
from cage3d.units.written import in_one_unit, in_two_units, refuse_no_number, tidied

FINEST = 64  # parts of an inch: a value that no such fraction says is shown as a decimal
DIGITS = 6  # of a value in its own unit, as it is written into the design
ON_STEP = 1e-6  # of a step, within which the range's end is on it
MOST_STEPS = 10**9
HOW = "Write 66..78 by 2, for instance"


@dataclass(frozen=True)
class Amount:
    """A number as it was written: with a sign, with a unit (empty where there is none)."""

    sign: str
    number: float  # with its sign
    unit: str


@dataclass(frozen=True)
class Steps:
    """A figure, and the values that it takes in turn."""

    figure: Varying
    first: float  # in `unit`; a change where `change` is set
    step: float  # in `unit`, below zero where the values fall
    count: int
    unit: str  # in its one spelling, empty for plain numbers
    scale: float  # SI value of one of it
    change: bool  # whether values are added to what is written
    last: float  # as it was asked for, in `unit`

    def number(self, place: int) -> float:
        """The value at a place (from 0), in `unit`."""
        return self.first + place * self.step

    def value(self, place: int) -> float:
        """The same in SI."""
        return self.number(place) * self.scale

    def shown(self, place: int, unit: bool = True) -> str:
        """'66 1/2 in', '+1/4 in', '0.8 kg', '5 %'; without its unit where that stands elsewhere."""
        return shown(self.number(place), self.unit, self.change, unit)

    def written(self, place: int) -> dict[str, str]:
        """What stands in the design's data, by place."""
        value, figure = self.number(place), self.figure
        shares = figure.shares or (1.0,) * len(figure.places)
        texts = {}
        for where, now, share in zip(figure.places, figure.values, shares, strict=True):
            own = share * value + (now or 0.0) / self.scale if self.change else value
            texts[where] = f"{short(own, DIGITS)} {self.unit}".strip()
        return texts

    @property
    def in_words(self) -> str:
        """'Hoop 4 length from 66 in to 78 in by 2 in'."""
        ends = self.shown(0), self.shown(self.count - 1)
        by = shown(abs(self.step), self.unit)
        return f"{self.figure.name} from {ends[0]} to {ends[1]} by {by}"

    @property
    def missed(self) -> bool:
        """Whether the range's end lies between two steps, and is left out."""
        return abs(self.number(self.count - 1) - self.last) > ON_STEP * abs(self.step)


def shown(number: float, unit: str, change: bool = False, with_unit: bool = True) -> str:
    text = short(number, DIGITS)
    if unit == "in" and abs(number * FINEST - round(number * FINEST)) < 1e-6 * FINEST:
        text = show_inches(number * INCH, 1 / FINEST)
    sign = "+" if change and not text.startswith("-") and text != "0" else ""
    return f"{sign}{text} {unit}".strip() if with_unit else f"{sign}{text}"


def steps_over(figure: Varying, low: str, high: str, by: str, units: str | None) -> Steps:
    """The figure from `low` to `high`; units: of bare lengths. Raises CommandError for what is no range of it."""
    said = printable(f"{low}..{high} by {by}")

    def refuse(why: str, try_this: str) -> CommandError:
        return CommandError(Problem(figure.name, said, why, try_this))

    try:
        first, last, step = (amount(text, figure.kind) for text in (low, high, by))
        unit = unit_of(figure.kind, (step, last, first), units)
        scale = factor(unit, figure.kind) if unit else 1.0
        begin, end, stride = (
            one.number * (factor(one.unit, figure.kind) / scale if one.unit else 1.0)
            for one in (first, last, step)
        )
    except UnitError as fault:
        raise refuse(fault.why, fault.try_this) from None
    change = bool(first.sign and last.sign) or (bool(first.sign or last.sign) and 0.0 in (begin, end))
    if not change and (first.sign or last.sign):
        raise refuse(
            "one end has a sign and the other has none",
            "Give both a sign for changes of what is written, -1/2..+1/2, or none",
        )
    if stride == 0.0 or begin == end:
        why = "a step of nothing goes nowhere" if stride == 0.0 else "both ends are the same"
        raise refuse(f"{why}, so nothing varies", HOW)
    places = (end - begin) / stride + ON_STEP
    if places < 0.0:
        turned = f"{high}..{low} by {by}" if stride > 0.0 else f"{low}..{high} by {by.lstrip('- ')}"
        raise refuse(
            "the step leads away from the end, so no value lies in the range", f"Write {printable(turned)}"
        )
    if places < 1.0 or places > MOST_STEPS:
        long = places < 1.0
        raise refuse(
            "the step is longer than the range" if long else "these are more steps than anybody looks at",
            "Take a smaller step" if long else "Take a larger step",
        )
    if figure.kind is COUNT and not (begin.is_integer() and stride.is_integer()):
        raise refuse("this figure is a whole number", "Write whole numbers: 6..10 by 2")
    if figure.uneven and not change:
        known = sorted({(value or 0.0) / scale for value in figure.values})
        raise refuse(
            f"it stands for numbers that differ, {shown(known[0], unit)} to {shown(known[-1], unit)}",
            "Write changes with their signs, -1/2..+1/2 by 1/4, or name one of them",
        )
    return Steps(figure, begin, stride, math.floor(places) + 1, unit, scale, change, end)


def amount(text: str, kind: Kind) -> Amount:
    """Raises UnitError for what is no number of this kind."""
    plain = tidied(text)
    refuse_no_number(plain, kind)
    sign, number, word = in_two_units(plain.lower(), kind) or in_one_unit(plain, kind)
    if not math.isfinite(number):
        raise UnitError("the number is far too large", f"Write {kind.examples}")
    return Amount(sign, -number if sign == "-" else number, unit_word(word) if word.strip() else "")


def unit_of(kind: Kind, amounts: tuple[Amount, ...], units: str | None) -> str:
    """The one unit of a range: the first that is written, or the design's own. Raises UnitError."""
    written = next((one.unit for one in amounts if one.unit), "")
    if written or kind in (PLAIN, COUNT, SHARE):
        return written
    if kind is LENGTH and units:
        return units
    raise NoUnitsError(f"{kind.name} needs its unit", f"Write {kind.examples}")
