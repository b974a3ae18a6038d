"""The written design as data: every value in SI units (m, kg, N, Pa, rad).

The models say what may be written; `design.read` turns YAML into them and gives
every fault its line and column; `design.rules` holds what one value demands of
another.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, Tag, ValidationInfo, field_validator
from pydantic import ValidatorFunctionWrapHandler as Reader

from cage3d.design import trade
from cage3d.design.forms import Nothing, Written, form
from cage3d.design.values import (
    AsProcess,
    AsUnit,
    Cloth,
    CoilLength,
    Count,
    Currency,
    Density,
    Drops,
    Fraction,
    Fullness,
    Heights,
    Length,
    LengthOrZero,
    Mass,
    MassPerLength,
    Money,
    Name,
    Poisson,
    Pressure,
    Text,
    Word,
)  # fmt: skip

Opening = Literal["none", "front", "back"]
Rest = Literal["bottom", "middle", "top"]
Place = Literal["hips", "left", "right", "back", "roll", "round"]
Threaded = Literal["with", "against"]


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


class Steel(Written):
    """Flat strip. width, thickness in m; coating kg/m; modulus, yield_stress Pa; density kg/m3.

    set_radius: m, of the curve in which it lies free as it comes off its coil, None where it lies straight;
    threaded: with that curve round her, or against it.
    """

    width: Length
    thickness: Length
    strands: Count = 1
    coating: MassPerLength = 0.0
    modulus: Pressure = 205e9
    poisson: Poisson = 0.29
    density: Density = 7850.0
    yield_stress: Pressure = 1200e6
    set_radius: Length | None = None
    threaded: Word[Threaded] = "with"


class SteelOfHoop(Written):
    """The same keys in one hoop: what is not written is as in the design's `steel`."""

    width: Length | None = None
    thickness: Length | None = None
    strands: Count | None = None
    coating: MassPerLength | None = None
    modulus: Pressure | None = None
    poisson: Poisson | None = None
    density: Density | None = None
    yield_stress: Pressure | None = None
    set_radius: Length | None = None
    threaded: Word[Threaded] | None = None


class Allowance(Written):
    """Tape beyond the finished length, the same on every tape (m)."""

    top: LengthOrZero = trade.TAPE_ALLOWANCE
    bottom: LengthOrZero = trade.TAPE_ALLOWANCE


AtOnePlace = Annotated[
    Annotated[Word[Rest], Tag("@word")] | Annotated[LengthOrZero, Tag("@value")], form(word="@word")
]


class Stretch(Written):
    """How a finished tape stretches: by this share under this weight hung on it (kg)."""

    by: Fraction
    at: Mass


class Tapes(Written):
    """The vertical tapes.

    drops: metres along the tape, one row a tape and one column a hoop, always
    tapes.count x hoops once read. stations: `between`, `on`, or fractions of the girth.
    casing: height of a casing; rest: where in it the steel lies, a length being above its bottom.
    stretch: of a finished tape under a weight, or a ribbon's name in `design.stock`; none where not written.
    """

    count: Count
    stations: Annotated[
        Annotated[Word[Literal["between", "on"]], Tag("@value")]
        | Annotated[tuple[Fraction, ...], Tag("@each")],
        form(many="@each"),
    ] = "between"
    casing: Length = trade.CASING_HEIGHT
    rest: AtOnePlace = "bottom"
    drops: Drops
    weight: MassPerLength | None = None
    width: Length = trade.TAPE_WIDTH
    doubled: bool = True
    allowance: Allowance = Allowance()
    stretch: Annotated[
        Annotated[Text, Tag("@value")] | Annotated[Stretch, Tag("@how")] | Nothing,
        form(mapping="@how", many="@how"),
    ] = None

    @field_validator("drops", mode="wrap")
    @classmethod
    def _row_for_each_tape(cls, written: Any, read: Reader, info: ValidationInfo) -> Any:
        """One bare list of drops is every tape's."""
        bare = isinstance(written, (list, tuple)) and not any(
            isinstance(row, (list, tuple)) for row in written
        )
        rows = read([written] if bare else written)
        return rows * min(info.data.get("count", 1), 1000) if bare else rows


class Join(Written):
    """How the two ends of a closed hoop meet: a tube over both, or an overlap (m)."""

    tube: Length | None = None
    overlap: Length | None = None


class Hoop(Written):
    """One hoop: finished length of its centre line, round or end to end (m)."""

    length: Length
    opening: Word[Opening] = "none"
    overhang: LengthOrZero = trade.OVERHANG
    join: Annotated[
        Annotated[Word[Literal["none"]], Tag("@value")] | Annotated[Join, Tag("@how")] | Nothing,
        form(mapping="@how"),
    ] = None
    join_at: Word[Literal["front", "back"]] = "back"
    carries: Mass = 0.0
    steel: SteelOfHoop = SteelOfHoop()
    rest: Annotated[
        Annotated[AtOnePlace, Tag("@value")] | Annotated[tuple[AtOnePlace, ...], Tag("@each")] | Nothing,
        form(many="@each"),
    ] = None


class Tie(Written):
    """A ribbon from one point of the cage to another, e.g. 'hoop 3 tape 3' (length in m)."""

    from_: Text = Field(alias="from")
    to: Text
    length: Length
    name: Text | None = None


class Panel(Written):
    """A laced panel between two tapes, over several hoops.

    widths: one width a hoop (m), or tightness: the share of the steel between the
    two tapes that lacing takes up (0.1 = a tenth shorter than the steel between).
    """

    tapes: tuple[Count, Count]
    hoops: tuple[Count, ...]
    widths: tuple[Length, ...] | None = None
    tightness: Fraction | None = None


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


class Hem(Written):
    """clearance: wanted height of the lowest hoop above the floor, least and most (m)."""

    clearance: Heights | None = None


class Stage(Written):
    """The place the cage is worn in (m)."""

    door: Length | None = None
    riser: Length | None = None
    tread: Length | None = None


class Stock(Written):
    """A length in which steel is bought (m), its strip (None: any size needed), how many, what one costs."""

    length: CoilLength
    width: Length | None = None
    thickness: Length | None = None
    count: Count | None = None
    price: Money | None = None


class Buying(Written):
    """What the maker buys, and her own spare share of it."""

    currency: Currency | None = None
    spare: Fraction = 0.1
    steel: tuple[Stock, ...] = ()
    prices: dict[str, Money] = Field(default_factory=dict)


class Printing(Written):
    """The miniature: scale as '1:6', and the process."""

    scale: Text = "1:6"
    process: Annotated[Literal["filament", "resin", "powder"], AsProcess] = "filament"


class Design(Written):
    """A whole written design, in SI units."""

    name: Name
    production: Text | None = None
    notes: Text | None = None
    units: Annotated[Literal["in", "ft", "mm", "cm", "m"], AsUnit] | None = None
    wearer: Wearer
    waistband: Waistband = Waistband()
    padding: tuple[Padding, ...] = ()
    steel: Steel
    tapes: Tapes
    hoops: tuple[Hoop, ...]
    ties: tuple[Tie, ...] = ()
    panels: tuple[Panel, ...] = ()
    skirt: Annotated[
        Annotated[Skirt, Tag("@one")] | Annotated[tuple[Skirt, ...], Tag("@several")] | Nothing,
        form(mapping="@one", many="@several"),
    ] = None
    hem: Hem = Hem()
    stage: Stage = Stage()
    buying: Buying = Buying()
    printing: Printing = Printing()

    def __repr__(self) -> str:
        return f"Design('{self.name}', {len(self.hoops)} hoops, {self.tapes.count} tapes)"

    __str__ = __repr__

    @property
    def skirts(self) -> tuple[Skirt, ...]:
        """All that hang on the cage, from the innermost."""
        if self.skirt is None:
            return ()
        return self.skirt if isinstance(self.skirt, tuple) else (self.skirt,)

    def steel_of(self, hoop: int) -> Steel:
        """The strip of hoop `hoop` (from 0): the design's steel with the hoop's own figures over it."""
        own = self.hoops[hoop].steel.model_dump(exclude_none=True)
        return self.steel.model_copy(update=own)
