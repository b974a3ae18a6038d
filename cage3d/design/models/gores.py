"""A petticoat's own cloth as written: gores with casings sewn on them, which carry the hoops in place of tapes (m)."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Tag

from cage3d.design import trade
from cage3d.design.counts import Count
from cage3d.design.forms import Written, form
from cage3d.design.models.cage import Allowance, AtOnePlace, Hoop, Tapes
from cage3d.design.quantities import Drops, Fraction, Length, LengthOrZero
from cage3d.design.texts import Cloth, Word


class Seams(Tapes):
    """The seams of a petticoat's cloth, which stand in its design where tapes would."""


class GoreAllowance(Written):
    """Cloth beyond the finished gore (m): at both seams, above the waistband's edge, below the lowest casing."""

    seam: LengthOrZero = trade.SEAM_ALLOWANCE
    top: LengthOrZero = trade.TAPE_ALLOWANCE
    hem: LengthOrZero = trade.TAPE_ALLOWANCE


class LevelsBySide(Written):
    """Levels of the casings at centre front, at both sides and at centre back; the sides half way where left out."""

    front: tuple[Length, ...]
    sides: tuple[Length, ...] | None = None
    back: tuple[Length, ...]


def rows_of(written: Any) -> Any:
    """One bare list of levels is every seam's."""
    many = isinstance(written, (list, tuple))
    return [written] if many and not any(isinstance(row, (list, tuple)) for row in written) else written


class Gores(Written):
    """The cloth: so many gores, and on them a casing for each hoop.

    levels: m down the cloth from the waistband's lower edge to each hoop at rest; of all seams alike, one row a seam,
    or by side. fabric: kg/m2, or a name in `design.stock`; width: m of the cloth as it is bought. The cloth's girth at
    each casing: `ease` over hoop and opening, or written in `girths`. gap: m from one end of an open hoop to the
    other.
    """

    gores: Count
    seams: Annotated[
        Annotated[Word[Literal["between", "on"]], Tag("@value")]
        | Annotated[tuple[Fraction, ...], Tag("@each")],
        form(many="@each"),
    ] = "between"
    levels: Annotated[
        Annotated[LevelsBySide, Tag("@sides")] | Annotated[Drops, BeforeValidator(rows_of), Tag("@value")],
        form(mapping="@sides"),
    ]
    fabric: Cloth
    width: Length = trade.CLOTH_WIDTH
    ease: Fraction = trade.CLOTH_EASE
    girths: tuple[Length, ...] | None = None
    gap: Length = trade.OPENING_GAP
    casing: Length = trade.CASING_HEIGHT
    rest: AtOnePlace = "bottom"
    allowance: GoreAllowance = GoreAllowance()

    def gap_of(self, hoop: Hoop) -> float:
        """m from end to end of a hoop's steel, along its circle; 0 of a ring."""
        return self.gap if hoop.opening != "none" else 0.0

    def circle_of(self, hoop: Hoop) -> float:
        """m round a hoop, its opening with it."""
        return hoop.length + self.gap_of(hoop)

    def seams_as_tapes(self) -> Seams:
        """Its seams as tapes without width or weight: they stand where tapes would, with drops along the cloth.

        What is written is not judged here, but by the rules: a row may be empty, a drop less than nothing.
        """
        rows = tuple(
            tuple(below - above for above, below in pairwise((0.0, *row))) for row in self.levels_at_seams()
        )
        return Seams.model_construct(
            count=self.gores,
            stations=self.seams,
            casing=self.casing,
            rest=self.rest,
            drops=rows,
            routes=(),
            weight=0.0,
            width=self.casing,
            doubled=False,
            allowance=Allowance.model_construct(top=self.allowance.top, bottom=self.allowance.hem),
            stretch=None,
        )

    def levels_at_seams(self) -> tuple[tuple[float, ...], ...]:
        """m down every seam to each casing, one row a seam."""
        count = min(self.gores, trade.MOST_GORES)
        if not isinstance(self.levels, LevelsBySide):
            return self.levels * count if len(self.levels) == 1 else self.levels
        return tuple(levels_round(self.levels, place) for place in places_round(self.seams, count))


def levels_round(levels: LevelsBySide, place: float) -> tuple[float, ...]:
    """m down to each casing at a share of the girth: the smoothest wave through front, both sides and back."""
    front, back = levels.front, levels.back
    sides = levels.sides or tuple((one + other) / 2.0 for one, other in zip(front, back, strict=False))
    turn = 2.0 * pi * place
    return tuple(
        (ahead + behind) / 4.0 + beside / 2.0 + (ahead - behind) / 2.0 * cos(turn)
        + ((ahead + behind) / 4.0 - beside / 2.0) * cos(2.0 * turn)
        for ahead, beside, behind in zip(front, sides, back, strict=False)
    )  # fmt: skip


def places_round(stations: str | tuple[float, ...], count: int) -> tuple[float, ...]:
    """Shares of the girth from centre front by her left: as written, or even, `on` with the first at centre front."""
    if isinstance(stations, tuple):
        return stations
    start = 0.5 if stations == "between" else 0.0
    return tuple((number + start) / count for number in range(count))
