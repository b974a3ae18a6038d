"""The cage as written: tapes, hoops, ties and laced panels (m, kg)."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal, NamedTuple

from pydantic import Field, Tag, ValidationInfo, field_validator, model_validator
from pydantic import ValidatorFunctionWrapHandler as Reader

from cage3d.design import trade
from cage3d.design.counts import Count
from cage3d.design.forms import LaterKeys, Nothing, Written, form
from cage3d.design.models.steel import SteelOfHoop
from cage3d.design.quantities import (
    Drops,
    Fraction,
    Length,
    LengthOrZero,
    Mass,
    MassPerLength,
)
from cage3d.design.texts import Text, Word

Opening = Literal["none", "front", "back", "left", "right"]
Beside = Literal["left", "right"]
Ends = Literal["free", "sewn"]
Rest = Literal["bottom", "middle", "top"]
Runs = Literal["behind", "before", "left", "right"]


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


class Route(Written):
    """Tapes that do not run from the band over every hoop.

    from_, to: where they begin, the waistband or a hoop, and at which hoop they end (the lowest where it is not
    written); hoops: those they pass on the way, all of them where they are not written.
    """

    tapes: tuple[Count, ...]
    from_: Text = Field(default="waistband", alias="from")
    to: Text | None = None
    hoops: tuple[Count, ...] | None = None


class Tapes(LaterKeys):
    """The tapes.

    drops: metres along the tape, one row a tape, always tapes.count rows once read; a row has a drop for each stretch
    of its tape, or one for each hoop of the cage (`design.routes`). routes: of tapes that do not run from the
    band over every hoop. stations: `between`, `on`, or fractions of the girth.
    casing: height of a casing; rest: where in it the steel lies, a length being above its bottom.
    stretch: of a finished tape under a weight, or a ribbon's name in `design.stock`; none where not written.
    """

    later: ClassVar[frozenset[str]] = frozenset({"routes"})

    count: Count
    stations: Annotated[
        Annotated[Word[Literal["between", "on"]], Tag("@value")]
        | Annotated[tuple[Fraction, ...], Tag("@each")],
        form(many="@each"),
    ] = "between"
    casing: Length = trade.CASING_HEIGHT
    rest: AtOnePlace = "bottom"
    drops: Drops
    routes: tuple[Route, ...] = ()
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


class Join(LaterKeys):
    """How the two ends of a closed hoop meet: a tube over both, or an overlap (m).

    least, most: the hoop's finished lengths between which its join slides; None where it is fixed. The overlap is then
    that at the most.
    """

    later: ClassVar[frozenset[str]] = frozenset({"least", "most"})

    tube: Length | None = None
    overlap: Length | None = None
    least: Length | None = None
    most: Length | None = None

    @property
    def slides(self) -> bool:
        """Whether the hoop's length may be slid."""
        return self.least is not None or self.most is not None

    def at(self, length: float) -> Join:
        """The join with the hoop at this finished length, fixed: what the hoop is shorter by lies double."""
        if self.most is None or self.overlap is None:
            return self
        return Join(overlap=self.overlap + self.most - length)


class Slide(NamedTuple):
    """The shortest and the longest that a hoop may be, finished (m)."""

    least: float
    most: float


class Hoop(LaterKeys):
    """One hoop: finished length of its centre line, round or end to end (m).

    tapes: those that pass it, all where they are not written; stations: where on it each of these does, as shares of
    its girth, where not as `tapes.stations` has it. ends: of an open hoop; sewn ones end in their last casings, or on
    the waistband where the drop to it is nothing, along which they then lie. beside: the side of her at which it
    stands where it does not go round her; front, back, left and right of it are then its own, and so are its stations.
    """

    later: ClassVar[frozenset[str]] = frozenset({"beside", "tapes", "stations", "ends"})

    length: Length
    beside: Word[Beside] | None = None
    tapes: tuple[Count, ...] | None = None
    stations: tuple[Fraction, ...] | None = None
    opening: Word[Opening] = "none"
    overhang: LengthOrZero = trade.OVERHANG
    ends: Word[Ends] = "free"
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

    @property
    def slide(self) -> Slide | None:
        """Between what lengths its join slides; None where it is fixed, or its ends do not meet."""
        join = self.join
        if self.opening != "none" or not isinstance(join, Join) or join.least is None or join.most is None:
            return None
        return Slide(join.least, join.most)

    def slid_to(self, length: float) -> Hoop:
        """This hoop made fast at another finished length."""
        join = self.join.at(length) if isinstance(self.join, Join) else self.join
        return self.model_copy(update={"length": length, "join": join})

    def of_length(self, length: float) -> Hoop:
        """This hoop with another finished length (m): slid as far as its join allows, else the slide goes along."""
        slide, longer = self.slide, length - self.length
        if slide is None or slide.least <= length <= slide.most or not isinstance(self.join, Join):
            return self.model_copy(update={"length": length})
        ends = {"least": slide.least + longer, "most": slide.most + longer}
        return self.model_copy(update={"length": length, "join": self.join.model_copy(update=ends)})

    @property
    def stands_out(self) -> float:
        """m by which either end of an open hoop passes its last casing."""
        return 0.0 if self.ends == "sewn" else self.overhang


class Tie(Written):
    """A ribbon from one point of the cage to another, e.g. 'hoop 3 tape 3' (length in m).

    runs: the side on which it passes her; where it is not written, that on which its straight line does.
    """

    from_: Text = Field(alias="from")
    to: Text
    length: Length
    name: Text | None = None
    runs: Word[Runs] | None = None


class Panel(LaterKeys):
    """A laced panel between two tapes (of cloth: two seams), over several hoops.

    widths: one width a hoop (m), or tightness: the share of the steel between the
    two tapes that lacing takes up (0.1 = a tenth shorter than the steel between).
    """

    later: ClassVar[frozenset[str]] = frozenset({"seams"})

    tapes: tuple[Count, Count]
    seams: tuple[Count, Count] | None = None
    hoops: tuple[Count, ...]
    widths: tuple[Length, ...] | None = None
    tightness: Fraction | None = None

    @model_validator(mode="before")
    @classmethod
    def _between_seams(cls, written: Any) -> Any:
        """Seams of cloth count as tapes do."""
        seamed = isinstance(written, dict) and "seams" in written and "tapes" not in written
        return {**written, "tapes": written["seams"]} if seamed else written
