"""All variants of a design over one range or two, laid into stretches that are settled each for itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from importlib.metadata import version
from typing import Any

from cage3d.design.models import Design
from cage3d.design.putting import plain, put
from cage3d.design.read import read_data
from cage3d.errors import DesignError
from cage3d.study.sweeping.steps import Steps

LONGEST_STRETCH = (
    16  # variants; the answers hang on it in their last bits, so it is the same for every machine
)
DROPS, LEVELS = "tapes.drops", "cloth.levels["

Variant = Design | DesignError  # or why the rules refuse it


@dataclass(frozen=True)
class Stretch:
    """Neighbours along the first figure, at one value of the second."""

    number: int  # of the stretch, from 0
    row: int  # place of the second figure's value, 0 where there is none
    start: int
    end: int  # places of the first figure's values, the last not in it


@dataclass(frozen=True)
class Sweep:
    """A design and what varies. Variants count from 0: along the first figure, then along the second."""

    design: Design
    data: Mapping[str, Any]  # the same as it is written
    steps: tuple[Steps, ...]  # one or two

    @property
    def across(self) -> int:
        """How many values the first figure takes."""
        return self.steps[0].count

    @property
    def rows(self) -> int:
        return self.steps[1].count if len(self.steps) > 1 else 1

    @property
    def count(self) -> int:
        return self.across * self.rows

    def places(self, variant: int) -> tuple[int, ...]:
        """The place of every figure's value."""
        row, place = divmod(variant, self.across)
        return (place, row)[: len(self.steps)]

    def name(self, variant: int) -> str:
        """'66 in', or '66 in, 20 in' of two figures."""
        pairs = zip(self.steps, self.places(variant), strict=True)
        return ", ".join(steps.shown(place) for steps, place in pairs)

    def data_of(self, variant: int) -> dict[str, Any]:
        """The plain data of the design there, whether or not the rules accept it."""
        data: dict[str, Any] = plain(self.data)
        for steps, place in zip(self.steps, self.places(variant), strict=True):
            for where, text in steps.written(place).items():
                if where.startswith(DROPS):
                    one_row_a_tape(data["tapes"], self.design.tapes.count)
                if where.startswith(LEVELS):
                    one_row_a_tape(data["cloth"], self.design.tapes.count, "levels")
                put(data, where, text)
        return data

    def variant(self, variant: int) -> Variant:
        """The design there, or why there is none."""
        try:
            return read_data(self.data_of(variant))
        except DesignError as fault:
            return fault

    def stretches(self) -> Iterator[Stretch]:
        """All of them, in the order of the variants."""
        parts = -(-self.across // LONGEST_STRETCH)
        ends = [self.across * part // parts for part in range(parts + 1)]
        for row in range(self.rows):
            for part in range(parts):
                yield Stretch(row * parts + part, row, ends[part], ends[part + 1])

    @property
    def stretch_count(self) -> int:
        return -(-self.across // LONGEST_STRETCH) * self.rows

    def variants_of(self, stretch: Stretch) -> tuple[Variant, ...]:
        first = stretch.row * self.across
        return tuple(self.variant(first + place) for place in range(stretch.start, stretch.end))


def one_row_a_tape(part: dict[str, Any], count: int, key: str = "drops") -> None:
    """One list of drops or levels for all tapes or seams written out for each, so that one of them can change."""
    rows = part[key] if any(isinstance(row, list) for row in part[key]) else [part[key]]
    part[key] = [list(row) for row in rows] if len(rows) == count else [list(rows[0]) for _ in range(count)]


def print_of(variants: tuple[Variant, ...]) -> str:
    """Changes with anything in these designs, with their order, and with the version of the tool."""
    told = [version("cage3d")]
    told += [one.model_dump_json(by_alias=True) if isinstance(one, Design) else str(one) for one in variants]
    return sha256("\n".join(told).encode()).hexdigest()[:32]
