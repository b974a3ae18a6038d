"""The written design as data: every value in SI units (m, kg, N, Pa, rad).

The models say what may be written; `spec.read` turns YAML into them and gives
every fault its line and column; `spec.rules` holds what one value demands of
another.
"""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from cage3d.spec.values import Count, Fraction, Length, Mass, MassPerArea, MassPerLength, Money, Pressure

Opening = Literal["none", "front", "back"]
Rest = Literal["bottom", "middle", "top"]


class Written(BaseModel):
    """A mapping in the design: unknown keys are faults, values never change once read."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class WaistHeights(Written):
    """Heights of the waist above the floor where the waist is not level (m)."""

    front: Length
    left: Length
    back: Length
    right: Length


class Wearer(Written):
    """Girths over what is worn below; heights from the floor, in the shoes (m)."""

    code: str | None = None
    waist: Length
    waist_height: Length | WaistHeights
    waist_breadth: Length | None = None
    waist_depth: Length | None = None
    high_hip: Length | None = None
    high_hip_drop: Length | None = None
    hip: Length | None = None
    hip_drop: Length | None = None
    hip_breadth: Length | None = None
    hip_depth: Length | None = None
    knee_height: Length | None = None


class Waistband(Written):
    """depth: height of the band; overlap: extra length for the buckle and turning (m)."""

    depth: Length = Field(default=0.0254)
    overlap: Length = Field(default=0.1524)


class Steel(Written):
    """Flat strip. width, thickness in m; coating in kg/m; modulus and yield_stress in Pa."""

    width: Length
    thickness: Length
    strands: Count = 1
    coating: MassPerLength = 0.0
    modulus: Pressure = 205e9
    poisson: float = 0.29
    density: float = 7850.0
    yield_stress: Pressure = 1200e6


class SteelOfHoop(Written):
    """The same keys in one hoop: what is not written is as in the design's `steel`."""

    width: Length | None = None
    thickness: Length | None = None
    strands: Count | None = None
    coating: MassPerLength | None = None
    modulus: Pressure | None = None
    poisson: float | None = None
    density: float | None = None
    yield_stress: Pressure | None = None


class Allowance(Written):
    """Tape beyond the finished length, the same on every tape (m)."""

    top: Length = 0.0254
    bottom: Length = 0.0254


class Tapes(Written):
    """The vertical tapes.

    drops: metres along the tape, one row a tape and one column a hoop, always
    tapes.count x hoops once read. stations: `between`, `on`, or fractions of the girth.
    casing: height of a casing; rest: where in it the steel lies.
    """

    count: Count
    stations: Literal["between", "on"] | tuple[Fraction, ...] = "between"
    casing: Length = 0.0254
    rest: Rest | Length = "bottom"
    drops: tuple[tuple[Length, ...], ...]
    weight: MassPerLength | None = None
    width: Length = 0.0254
    doubled: bool = True
    allowance: Allowance = Allowance()


class Join(Written):
    """How the two ends of a closed hoop meet: a tube over both, or an overlap (m)."""

    tube: Length | None = None
    overlap: Length | None = None


class Hoop(Written):
    """One hoop: finished length of its centre line, round or end to end (m)."""

    length: Length
    opening: Opening = "none"
    overhang: Length = 0.0127
    join: Literal["none"] | Join | None = None
    join_at: Literal["front", "back"] = "back"
    carries: Mass = 0.0
    steel: SteelOfHoop = SteelOfHoop()
    rest: Rest | Length | tuple[Rest | Length, ...] | None = None


class Tie(Written):
    """A ribbon from one point of the cage to another, e.g. 'hoop 3 tape 3' (length in m)."""

    from_: str = Field(alias="from")
    to: str
    length: Length
    name: str | None = None


class Panel(Written):
    """A laced panel between two tapes, over several hoops.

    widths: one width a hoop (m), or tightness: the share of the steel between the
    two tapes that lacing takes up (0.1 = a tenth shorter than the steel between).
    """

    tapes: tuple[Count, Count]
    hoops: tuple[Count, ...]
    widths: tuple[Length, ...] | None = None
    tightness: Fraction | None = None


class Skirt(Written):
    """What hangs on the cage: a weight (kg), or a cloth from which it follows."""

    weight: Mass | None = None
    cloth: MassPerArea | str | None = None
    layers: Count = 1
    fullness: float = 2.0
    below_hem: Length = 0.0
    on_cage: Fraction = 1.0


class Hem(Written):
    """clearance: wanted height of the lowest hoop above the floor, least and most (m)."""

    clearance: tuple[Length, Length] | None = None


class Stage(Written):
    """The place the cage is worn in (m)."""

    door: Length | None = None
    riser: Length | None = None
    tread: Length | None = None


class Stock(Written):
    """A length in which steel is bought (m), and what one costs."""

    length: Length
    count: Count | None = None
    price: Money | None = None


class Buying(Written):
    """What the maker buys, and her own spare share of it."""

    currency: str | None = None
    spare: Fraction = 0.1
    steel: tuple[Stock, ...] = ()
    prices: dict[str, Money] = Field(default_factory=dict)


class Printing(Written):
    """The miniature: scale as '1:6', and the process."""

    scale: str = "1:6"
    process: Literal["fdm", "resin", "powder"] = "fdm"


class Design(Written):
    """A whole written design, in SI units."""

    name: str
    production: str | None = None
    notes: str | None = None
    units: Literal["in", "ft", "mm", "cm", "m"] | None = None
    wearer: Wearer
    waistband: Waistband = Waistband()
    steel: Steel
    tapes: Tapes
    hoops: tuple[Hoop, ...]
    ties: tuple[Tie, ...] = ()
    panels: tuple[Panel, ...] = ()
    skirt: Skirt | None = None
    hem: Hem = Hem()
    stage: Stage = Stage()
    buying: Buying = Buying()
    printing: Printing = Printing()

    def steel_of(self, hoop: int) -> Steel:
        """The strip of hoop `hoop` (from 0): the design's steel with the hoop's own figures over it."""
        own = self.hoops[hoop].steel.model_dump(exclude_none=True)
        return self.steel.model_copy(update=own)
