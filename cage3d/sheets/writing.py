"""How lengths and amounts are written on the sheets: fractions of an inch or millimetres, rounded once."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

from cage3d import units
from cage3d.report.how_sure import give_or_take
from cage3d.steady import steady

SIXTEENTH = units.INCH / 16.0  # m, finer than shears and chalk
MILLIMETRE = 0.001  # m
YARD = 36.0 * units.INCH  # m

RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


@dataclass(frozen=True)
class Writing:
    """The maker's own system: inches where the design is in inches or feet, millimetres otherwise."""

    inches: bool

    @classmethod
    def of(cls, design_units: str | None) -> Writing:
        return cls(design_units in ("in", "ft"))

    @property
    def unit(self) -> str:
        return "in" if self.inches else "mm"

    @property
    def step(self) -> float:
        """m, the finest step that is written."""
        return SIXTEENTH if self.inches else MILLIMETRE

    def rounded(self, metres: float) -> float:
        """m, the nearest length that can be written: what the maker reads and cuts."""
        return steady(metres / self.step, 0) * self.step

    def down(self, metres: float) -> float:
        """m, the longest length that can be written and is not longer."""
        return int(metres / self.step + 1e-6) * self.step

    def plain(self, metres: float) -> str:
        """'42 3/16' or '1072', without the unit, in letters any program reads."""
        return units.show_inches(metres, 1 / 16) if self.inches else units.show_mm(metres, 0)

    def figure(self, metres: float) -> str:
        """'42³⁄₁₆' or '1072': as it stands on paper, without the unit."""
        return typeset(self.plain(metres))

    def full(self, metres: float) -> str:
        """'42³⁄₁₆ in' or '1072 mm'."""
        return f"{self.figure(metres)} {self.unit}"

    def eighths(self, metres: float) -> str:
        """'42¹⁄₄': to an eighth of an inch, as heights are measured; whole millimetres as they are."""
        return typeset(units.show_inches(metres, 1 / 8)) if self.inches else self.figure(metres)

    def height(self, metres: float) -> str:
        """'42¹⁄₄ in' or '1072 mm': a height or width as it is measured on a hanging cage."""
        return f"{self.eighths(metres)} {self.unit}"

    def more_or_less(self, metres: float) -> str:
        """'¹⁄₈' or '3': what such a figure may be more or less, rounded up; without the unit."""
        return typeset(give_or_take(metres, self.unit))

    def long(self, metres: float) -> str:
        """A long length as it is bought: yards or metres, to a hundredth, rounded up."""
        size, unit = (YARD, "yd") if self.inches else (1.0, "m")
        return f"{ceil(metres / size * 100 - 1e-6) / 100:.2f} {unit}"

    @property
    def buying_unit(self) -> tuple[str, float]:
        """The unit that ribbon and the like are priced by, and its length in m."""
        return ("yd", YARD) if self.inches else ("m", 1.0)


def typeset(plain: str) -> str:
    """'-7 1/2' -> '−7¹⁄₂', 'to 1/2' -> 'to ¹⁄₂': real fractions, a real minus."""

    def fraction(found: re.Match[str]) -> str:
        return found[1].translate(RAISED) + "⁄" + found[2].translate(LOWERED)

    return re.sub(r"(?:(?<=\d) )?\b(\d+)/(\d+)", fraction, plain).replace("-", "−")


def plural(count: int, word: str) -> str:
    """'1 hoop', '4 hoops'."""
    return f"{count} {word}" + ("" if count == 1 else "s")


def ranges(numbers: tuple[int, ...]) -> str:
    """'1–4, 7': rising numbers with runs drawn together."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts = [f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs]
    return ", ".join(parts)


def hoops_named(hoops: Iterable[int]) -> str:
    """'hoop 3', 'hoops 1–4'."""
    numbers = tuple(sorted(hoops))
    return f"hoop{'s' if len(numbers) > 1 else ''} {ranges(numbers)}"
