"""The wearer as written: her measures, what she wears below the cage, and the band at her waist (m)."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Tag

from cage3d.design import trade
from cage3d.design.forms import Written, form
from cage3d.design.quantities import (
    Length,
    LengthOrZero,
)
from cage3d.design.texts import Text, Word

Place = Literal["hips", "left", "right", "back", "roll", "round"]


class WaistHeights(Written):
    """Heights of the waist above the floor where the waist is not level (m)."""

    front: Length
    left: Length
    back: Length
    right: Length


class Wearer(Written):
    """Girths over what is worn below; heights from the floor, in the shoes (m)."""

    code: Text | None = None
    waist: Length
    waist_height: Annotated[
        Annotated[Length, Tag("@value")] | Annotated[WaistHeights, Tag("@sides")], form(mapping="@sides")
    ]
    waist_breadth: Length | None = None
    waist_depth: Length | None = None
    high_hip: Length | None = None
    high_hip_drop: Length | None = None
    hip: Length | None = None
    hip_drop: Length | None = None
    hip_breadth: Length | None = None
    hip_depth: Length | None = None
    knee: Length | None = None
    knee_height: Length | None = None


class Padding(Written):
    """A roll or pad under the cage: thickness at its middle, height from edge to edge, drop of its middle (m)."""

    place: Word[Place]
    thickness: Length
    height: Length
    drop: Length | None = None


class Waistband(Written):
    """depth: height of the band; overlap: extra length for the buckle and turning (m)."""

    depth: LengthOrZero = trade.BAND_DEPTH
    overlap: LengthOrZero = trade.BAND_OVERLAP

    @property
    def drawn_depth(self) -> float:
        """m; a band of no depth is a ring to hang tapes from, and drawn as a thin one."""
        return max(self.depth, 0.002)
