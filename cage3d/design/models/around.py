"""What stands round a cage as written: the hem that is wanted, the place, what is bought, the miniature."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from cage3d.design.counts import Count, Money, Time
from cage3d.design.forms import LaterKeys, Written
from cage3d.design.hoop_materials import MaterialName
from cage3d.design.models.wanted import HEIGHTS, WIDTHS
from cage3d.design.quantities import (
    CoilLength,
    Fraction,
    Heights,
    Length,
)
from cage3d.design.texts import AsProcess, Currency, Text, Word


class Hem(LaterKeys):
    """What the lowest hoop should do, each wish least and most (m).

    clearance: its height above the floor all round, but for sides that have a wish of their own: front, back, left and
    right, or sides for both; width: both ways, or side_to_side and front_to_back.
    """

    later: ClassVar[frozenset[str]] = frozenset(
        {"front", "back", "sides", "left", "right", "width", "side_to_side", "front_to_back"}
    )

    clearance: Heights | None = None
    front: Heights | None = None
    back: Heights | None = None
    sides: Heights | None = None
    left: Heights | None = None
    right: Heights | None = None
    width: Heights | None = None
    side_to_side: Heights | None = None
    front_to_back: Heights | None = None

    @property
    def heights(self) -> dict[str, tuple[float, float]]:
        """(least, most) in m of every side that has a wish of its own, in the order of HEIGHTS."""
        own = {side: getattr(self, side) for side in HEIGHTS}
        for side in ("left", "right"):
            own[side] = own[side] if own[side] is not None else self.sides
        return {side: wish for side, wish in own.items() if wish is not None}

    @property
    def widths(self) -> dict[str, tuple[float, float]]:
        """(least, most) in m of every width that is wished, in the order of WIDTHS."""
        own = {key: wish if (wish := getattr(self, key)) is not None else self.width for key in WIDTHS}
        return {key: wish for key, wish in own.items() if wish is not None}

    def at(self, side: str) -> tuple[float, float] | None:
        """(least, most) in m wished at a side: its own, else the clearance."""
        return self.heights.get(side, self.clearance)


class Stage(Written):
    """The place the cage is worn in (m)."""

    door: Length | None = None
    riser: Length | None = None
    tread: Length | None = None


class Stock(LaterKeys):
    """A length in which steel is bought (m), its strip (None: any size needed), how many, what one costs.

    material: None for any; diameter: of what is round.
    """

    later: ClassVar[frozenset[str]] = frozenset({"material", "diameter"})

    length: CoilLength
    material: Word[MaterialName] | None = None
    diameter: Length | None = None
    width: Length | None = None
    thickness: Length | None = None
    count: Count | None = None
    price: Money | None = None


class Minutes(Written):
    """What her hands take (min): once a cage for band, threading and fitting, else for each; None: not told."""

    band: Time | None = None
    tape: Time | None = None
    casing: Time | None = None
    hoop: Time | None = None
    tie: Time | None = None
    panel: Time | None = None
    threading: Time | None = None
    fitting: Time | None = None


class Buying(Written):
    """What the maker buys, and her own spare share of it; what her work takes and costs.

    rolls: m in which other materials are bought whole; hour: price of an hour of hers; contingency: the share that a
    quote is raised by.
    """

    currency: Currency | None = None
    spare: Fraction = 0.1
    steel: tuple[Stock, ...] = ()
    rolls: dict[str, CoilLength] = Field(default_factory=dict)
    prices: dict[str, Money] = Field(default_factory=dict)
    minutes: Minutes = Minutes()
    hour: Money | None = None
    contingency: Fraction | None = None


class Printing(Written):
    """The miniature: scale as '1:6', and the process."""

    scale: Text = "1:6"
    process: Annotated[Literal["filament", "resin", "powder"], AsProcess] = "filament"
