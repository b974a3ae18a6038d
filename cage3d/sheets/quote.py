"""What an order costs: its materials, the maker's own hours at her own price, and what she adds for what goes wrong."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cage3d.design.models import Buying, Design
from cage3d.design.routes import drop_table, passing
from cage3d.sheets.material import Material

# What is done for a cage, and how often: the key of its minutes, what it is called.
WORKS = (
    ("band", "Waistbands"),
    ("tape", "Tapes"),
    ("casing", "Casings"),
    ("hoop", "Hoops"),
    ("tie", "Ties"),
    ("panel", "Laced panels"),
    ("threading", "Threading and balancing, a cage"),
    ("fitting", "Fitting, a cage"),
)


@dataclass(frozen=True)
class Work:
    """One kind of work; minutes: of each, as the maker wrote them, None where she did not."""

    key: str
    name: str
    count: int
    minutes: float | None

    @property
    def hours(self) -> float | None:
        return None if self.minutes is None else self.count * self.minutes / 60.0


@dataclass(frozen=True)
class Quote:
    """Amounts in the design's currency. Nothing is assumed: what is not written stands open."""

    works: tuple[Work, ...]
    hour: float | None  # price of one
    contingency: float | None  # share
    materials: float | None  # of all that has a price; None where nothing has
    unpriced: tuple[str, ...]  # materials without one
    currency: str | None

    @property
    def hours(self) -> float | None:
        """Of all works whose minutes are written; None where none are."""
        known = [work.hours for work in self.works if work.hours is not None]
        return sum(known) if known else None

    @property
    def untimed(self) -> tuple[str, ...]:
        """Keys of works whose minutes are not written."""
        return tuple(work.key for work in self.works if work.minutes is None)

    @property
    def labour(self) -> float | None:
        return None if self.hour is None or self.hours is None else self.hour * self.hours

    @property
    def before(self) -> float | None:
        """Materials and labour, as far as both are known."""
        known = [part for part in (self.materials, self.labour) if part is not None]
        return sum(known) if known else None

    @property
    def added(self) -> float | None:
        """The contingency."""
        return None if self.before is None or self.contingency is None else self.contingency * self.before

    @property
    def total(self) -> float | None:
        return None if self.before is None else self.before + (self.added or 0.0)

    @property
    def open(self) -> tuple[str, ...]:
        """What the total does not hold, in words."""
        said = []
        if self.materials is None:
            said.append("materials, none of which has a price")
        elif self.unpriced:
            said.append(f"materials without a price ({'; '.join(self.unpriced).lower()})")
        if self.hours is None:
            said.append("work, for which no minutes are written")
        elif self.untimed:
            said.append(f"work without minutes ({', '.join(self.untimed)})")
        if self.hours is not None and self.hour is None:
            said.append("the hours, which have no price")
        if self.contingency is None:
            said.append("a contingency")
        return tuple(said)


def works_of(design: Design) -> dict[str, int]:
    """How often each work is done for one cage, by its key."""
    tapes, hoops = design.tapes.count, len(design.hoops)
    return {
        "band": 1,
        "tape": tapes,  # or gores
        "casing": casings_of(design) if design.cloth is None else hoops,
        "hoop": hoops,
        "tie": len(design.ties),
        "panel": len(design.panels),
        "threading": 1,
        "fitting": 1,
    }


def casings_of(design: Design) -> int:
    """Casings to sew on tapes; where hoops meet they share one."""
    return int(passing(design).sum() - np.count_nonzero(drop_table(design) == 0.0))


def quote_of(designs: Sequence[Design], buying: Buying, materials: Sequence[Material]) -> Quote:
    """The quote for these cages together; buying: the maker's prices and minutes; materials: of all of them."""
    counts = [works_of(design) for design in designs]
    gored = any(design.cloth is not None for design in designs)

    def called(key: str, name: str) -> str:
        return "Gores" if gored and key == "tape" else name

    works = [
        Work(key, called(key, name), sum(count[key] for count in counts), getattr(buying.minutes, key))
        for key, name in WORKS
    ]
    priced = [row.cost for row in materials if row.cost is not None]
    return Quote(
        works=tuple(work for work in works if work.count),
        hour=buying.hour,
        contingency=buying.contingency,
        materials=sum(priced) if priced else None,
        unpriced=tuple(row.name for row in materials if row.cost is None),
        currency=buying.currency,
    )
