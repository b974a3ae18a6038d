"""One line of the list of materials: metres or pieces, with the spare share, whole rolls and the price."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from cage3d.design.models import Design
from cage3d.sheets.writing import Writing, plural


@dataclass(frozen=True)
class Material:
    """One line of the list; amounts in m, or in pieces."""

    name: str
    key: str  # under which its price is written
    detail: str
    amount: float
    buy: float  # steel: the coils and lengths bought; all else: the amount with the spare share
    counted: bool  # in pieces, not in m
    weight: float  # kg, of what the cage holds
    cost: float | None  # of what is bought, in the design's currency
    rolls: str = ""  # '2 rolls of 25.00 m', where it is bought in whole ones

    @property
    def words(self) -> str:
        """What it is for, and how it is bought."""
        return "; ".join(part for part in (self.detail, self.rolls) if part)


def measured(design: Design, name: str, key: str, detail: str, amount: float, weight: float) -> Material:
    """A line in metres; in whole rolls where the design writes their length."""
    buy, roll, rolls = amount * (1.0 + design.buying.spare), design.buying.rolls.get(key), ""
    if roll is not None:
        count = ceil(buy / roll - 1e-9)
        buy, rolls = count * roll, f"{plural(count, 'roll')} of {Writing.of(design.units).long(roll)}"
    price = design.buying.prices.get(key)
    cost = None if price is None else price * buy / Writing.of(design.units).buying_unit[1]
    return Material(name, key, detail, amount, buy, False, weight, cost, rolls)


def counted(
    design: Design,
    name: str,
    key: str,
    detail: str,
    amount: int,
    weight: float,
    spare: bool = True,
) -> Material:
    """A line in pieces, whole ones also with the spare share."""
    many = ceil(amount * (1.0 + design.buying.spare) - 1e-9) if spare else amount
    price = design.buying.prices.get(key)
    return Material(name, key, detail, amount, many, True, weight, None if price is None else price * many)
