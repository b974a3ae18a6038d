"""A design as it was opened, and the same with the values that she has moved: through the rules of the design first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from cage3d.design.faults import printable
from cage3d.design.models import Design
from cage3d.design.putting import plain, put
from cage3d.design.read import read_data, text_as_written
from cage3d.design.text_files import text_of
from cage3d.errors import DesignError, Problem
from cage3d.live.controls import Control, controls_of, is_one_row
from cage3d.study.sweeping.sweep import DROPS, LEVELS, one_row_a_tape
from cage3d.units import LENGTH, SHARE, UnitError, quantity
from cage3d.units.kinds import LENGTHS

MOST_STEPS = 100_000  # of a slider
Values = Mapping[str, str]  # what differs from the file: by place, as she would write it


@dataclass(frozen=True)
class Opened:
    """A design as it stands in its file."""

    path: Path
    text: str
    design: Design
    data: Mapping[str, Any]  # plain, values as they are written

    @cached_property
    def controls(self) -> dict[str, Control]:
        """By place."""
        return {one.place: one for one in controls_of(self.design, self.data)}

    def data_with(self, values: Values) -> dict[str, Any]:
        """The plain data with these values in it. Raises DesignError for a place that cannot be moved."""
        data: dict[str, Any] = plain(self.data)
        part, key = ("tapes", "drops") if self.design.cloth is None else ("cloth", "levels")
        bare = is_one_row(data[part][key])
        for place, text in values.items():
            if place not in self.controls:
                why = "there is nothing here that can be moved"
                raise DesignError(Problem(printable(place), printable(text), why, "Move what the page shows"))
            if place.startswith((DROPS, LEVELS)):
                one_row_a_tape(data[part], self.design.tapes.count, key)
            put(data, place, text)
        rows = data[part][key]
        if bare and not is_one_row(rows) and all(row == rows[0] for row in rows):
            data[part][key] = rows[0]
        return data

    def design_with(self, values: Values) -> Design:
        """Raises DesignError with every fault, each at its place of the design."""
        return read_data(self.data_with(values))

    def number_of(self, place: str, text: str) -> float | None:
        """SI of what is written for a control; None for what is no number of its kind."""
        kind = self.controls[place].kind
        bare = LENGTHS[self.design.units] if kind is LENGTH and self.design.units else None
        if kind is SHARE or not kind.common:  # shares and plain numbers have no unit
            bare = 1.0
        try:
            return quantity(text, kind, bare)
        except UnitError:
            return None


def open_file(path: Path) -> Opened:
    """Raises DesignError with every fault at its line and column."""
    return open_text(path, text_of(path))


def open_text(path: Path, text: str) -> Opened:
    design, data = text_as_written(text, str(path))
    return Opened(path, text, design, data)


def nearest_that_can_be(opened: Opened, before: Values, refused: Values) -> dict[str, str]:
    """The values nearest to the refused ones, on the way from those before, that the rules accept: those that moved.

    before: the last that were accepted. Empty where what was refused is no number, or nothing lies between.
    """
    if not {*before, *refused} <= opened.controls.keys():
        return {}
    moved = {
        place: (number_at(opened, before, place), number_at(opened, refused, place))
        for place in {*before, *refused}
        if before.get(place) != refused.get(place)
    }
    ways = {
        place: (good, within_reach(good, bad, opened.controls[place].step))
        for place, (good, bad) in moved.items()
        if good is not None and bad is not None
    }
    if not ways or len(ways) < len(moved):
        return {}
    count = max(round(abs(bad - good) / opened.controls[place].step) for place, (good, bad) in ways.items())

    def at(step: int) -> dict[str, str]:
        return {
            place: opened.controls[place].text_of(
                stepped(good, bad, step / max(count, 1), opened.controls[place].step)
            )
            for place, (good, bad) in ways.items()
        }

    low, high = 0, count  # the rules accept the first and refuse the last
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if accepts(opened, {**before, **at(middle)}) else (low, middle)
    return at(low) if low else {}


def number_at(opened: Opened, values: Values, place: str) -> float | None:
    """SI of what stands there, None where that is no number."""
    return opened.number_of(place, values.get(place, opened.controls[place].text))


def within_reach(good: float, bad: float, step: float) -> float:
    """The refused value, or one so many steps from the good one that nobody has moved it further."""
    return min(max(bad, good - MOST_STEPS * step), good + MOST_STEPS * step)


def stepped(good: float, bad: float, share: float, step: float) -> float:
    """Whole steps from the good value towards the bad one, as many as the share of the way holds."""
    steps = int(abs(bad - good) * share / step + 1e-6)
    return good + steps * step * (1.0 if bad > good else -1.0)


def accepts(opened: Opened, values: Values) -> bool:
    try:
        opened.design_with(values)
    except DesignError:
        return False
    return True
