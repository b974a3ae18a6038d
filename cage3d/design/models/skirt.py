"""The skirts as written: what they weigh, and where and how they hang (m, kg)."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Tag

from cage3d.design import trade
from cage3d.design.counts import Count, Friction, Fullness
from cage3d.design.forms import Nothing, Written, form
from cage3d.design.quantities import (
    Fraction,
    LengthOrZero,
    Mass,
)
from cage3d.design.texts import Cloth, Word


class SkirtSides(Written):
    """Shares of a skirt's weight: in the quarter about centre front, in both at the sides, in that about the back."""

    front: Fraction
    sides: Fraction
    back: Fraction


class FullnessAtEnds(Written):
    """Width of the cloth over the girth it goes round: at the waist, and at the lowest hoop."""

    top: Fullness
    hem: Fullness


class Skirt(Written):
    """What hangs on the cage: a weight (kg), or a cloth (kg/m2, or a name in `design.stock`).

    cut: gored (its seams follow the cage) or gathered (straight seams from waist to hem).
    lies: how the weight lies round her, by side or one share a tape; evenly where it is not written.
    hoops: from which it hangs (from 1); from all where they are not written.
    slides: whether the cloth, fixed at the waist, runs over the hoops like ropes over pulleys with this friction.
    """

    weight: Mass | None = None
    cloth: Cloth | None = None
    layers: Count = 1
    cut: Word[Literal["gored", "gathered"]] = "gored"
    fullness: Annotated[
        Annotated[Fullness, Tag("@value")] | Annotated[FullnessAtEnds, Tag("@ends")], form(mapping="@ends")
    ] = 2.0
    below_hem: LengthOrZero = 0.0
    on_cage: Fraction = 1.0
    hoops: tuple[Count, ...] | None = None
    lies: Annotated[
        Annotated[SkirtSides, Tag("@sides")] | Annotated[tuple[Fraction, ...], Tag("@each")] | Nothing,
        form(mapping="@sides", many="@each"),
    ] = None
    slides: bool = False
    friction: Friction = trade.CLOTH_FRICTION
