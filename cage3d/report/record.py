"""The report of a settled cage as data. Field names are the keys of `check --json`: a promise.

Everything is in SI units, as each name's ending says (m, N, kg, degrees where it says deg).
Hoops and tapes are numbered from 1, hoops from the top, tapes from centre front by the wearer's left.
"""

from __future__ import annotations

from dataclasses import dataclass

from cage3d.design.baskets import lowest_of
from cage3d.report.foreseen import (
    MOST_APART,
    CapacityReport,
    CertaintyReport,
    FinerReport,
    GiveReport,
    MarkReport,
    MaterialReport,
    SlidingReport,
    SlidReport,
    SpreadReport,
    SuitingReport,
    WishReport,
)
from cage3d.shape.in_short import InShort
from cage3d.wording import of_seams


@dataclass(frozen=True)
class PointReport:
    """Where a hoop's centre line passes one tape."""

    tape: int
    x_m: float  # to the wearer's left
    y_m: float  # to her back
    z_m: float  # above the floor


@dataclass(frozen=True)
class HoopReport:
    """One hoop as it hangs; every height is of the steel's centre line above the floor."""

    number: int
    open: bool
    length_m: float  # finished: round a closed hoop, end to end of an open one
    height_front_m: float  # where the hoop crosses that direction from the waist's axis
    height_left_m: float
    height_back_m: float
    height_right_m: float
    lowest_m: float
    highest_m: float
    width_front_back_m: float
    width_side_side_m: float
    tilt_deg: float  # best plane through the hoop against level
    out_of_plane_m: float  # furthest that the hoop leaves that plane, either way
    smallest_bend_radius_m: float
    strain_used: float  # greatest strain by bending as a share of the strain at yield
    at_tapes: tuple[PointReport, ...]
    front_to_axis_m: float  # from the waist's axis forward to the hoop's foremost place
    back_to_axis_m: float  # and back to its rearmost
    widest_m: float  # greatest width in plan in any direction
    narrowest_m: float  # least width in plan in any direction
    out_of_round_m: float  # widest less narrowest
    gap_m: float | None  # straight from end to end of an open hoop
    measured_at_end: tuple[str, ...]  # directions without steel, where the nearest end is measured
    cut_length_m: float  # finished length and what the join takes
    clearance_m: float | None  # least level distance to the wearer; None where no hip was measured
    droop_m: float  # of its steel at most below the straight line between two neighbouring tapes
    back_share: float  # of the hoop's extent from foremost to rearmost, what lies behind the waist's axis
    load_N: float  # weight on this hoop: steel, join, tapes, what it carries, skirt
    # At which side of her it stands where it does not go round her; its sides are then told from its own middle.
    beside: str | None = None

    @property
    def kind(self) -> str:
        """How it is told beside its number: '', 'open', 'left', 'left open'."""
        return " ".join(filter(None, (self.beside, "open" if self.open else None)))

    def at_tape(self, number: int) -> PointReport | None:
        """Where it passes a tape (from 1); None where it does not."""
        return next((point for point in self.at_tapes if point.tape == number), None)


@dataclass(frozen=True)
class SegmentReport:
    """One tape from the hoop above (or the waistband) to a hoop."""

    to_hoop: int
    length_m: float
    tension_N: float
    slack_m: float  # longer than what it spans by
    stretched_m: float  # by which its pull makes it longer than it was cut
    step_m: float  # level distance between its two ends
    drop_m: float  # height of its upper end above its lower one
    casing_upper_m: float  # marks along the tape from where it begins: upper line of stitches
    steel_at_m: float  # the steel's centre line at rest
    casing_lower_m: float  # lower line of stitches
    on_wearer: bool  # bends round her form


@dataclass(frozen=True)
class TapeReport:
    tape: int
    segments: tuple[SegmentReport, ...]  # from where it begins, the waistband or a hoop

    def to(self, hoop: int) -> SegmentReport | None:
        """The segment above a hoop (from 1); None where none comes to it."""
        return next((segment for segment in self.segments if segment.to_hoop == hoop), None)


@dataclass(frozen=True)
class TieReport:
    """A tie, or the lace of a panel on one hoop."""

    name: str
    length_m: float
    tension_N: float
    slack_m: float
    on_wearer: bool  # bends round her form


@dataclass(frozen=True)
class HemReport:
    """The lowest hoop in the list, or the lowest of both baskets, above the floor."""

    lowest_m: float
    highest_m: float
    widest_m: float  # greatest width in plan in any direction


@dataclass(frozen=True)
class TouchReport:
    """A hoop that lies on the wearer or on the floor."""

    hoop: int
    what: str  # "wearer" or "floor"
    where: str  # in words: "front left"
    force_N: float  # all the pushes on the hoop added up


@dataclass(frozen=True)
class WarningReport:
    """code: stays the same from version to version; text: for the maker, in the design's units."""

    code: str
    text: str


@dataclass(frozen=True, repr=False)
class Report(InShort):
    """What a settled cage tells; numbers of a cage that is not settled and stable are no answer."""

    design: str
    units: str | None  # of bare lengths in the design, and of the texts here
    settled: bool
    stable: bool
    residual_N: float  # largest force left unbalanced
    lowest_eigenvalue: float  # N/m; below zero the cage would move away by itself
    steps: int
    hoops: tuple[HoopReport, ...]
    tapes: tuple[TapeReport, ...]
    ties: tuple[TieReport, ...]
    weight_kg: float  # everything that hangs on the waistband
    cage_kg: float  # of which the cage: steel, joins, tapes, what hoops carry
    skirt_kg: float  # of which the skirt, as far as the cage bears it
    skirt_on_band_kg: float  # of that, what cloth that slides hangs on the waistband itself
    steel_m: float  # finished lengths
    steel_cut_m: float  # lengths to cut, without spare; of a hoop of several bare strips each
    width_front_back_m: float  # of the whole cage
    width_side_side_m: float
    back_share: float  # of its extent from foremost to rearmost, what lies behind the waist's axis
    hem: HemReport
    touching: tuple[TouchReport, ...]
    warnings: tuple[WarningReport, ...]
    marks: tuple[MarkReport, ...] = ()  # the ten that matter most, by `with_marks`
    spread: SpreadReport | None = None  # by `with_marks`
    sliding: SlidingReport | None = None  # by `with_certainty`; None where there is no skirt
    certainty: CertaintyReport | None = None  # by `with_certainty`
    gives: tuple[GiveReport, ...] = ()  # by `with_stiffness`
    finer: FinerReport | None = None  # by `with_finer`; None where nothing puts the cage in question
    carries: CapacityReport | None = None  # by `with_capacity`; None too where there is no skirt
    suiting: SuitingReport | None = None  # by `with_suiting`
    notes: str | None = None  # as the design has them
    stuff: str = "steel"  # what its hoops are made of
    wished: tuple[WishReport, ...] = ()  # of the hem by sides and of its widths
    slid: tuple[SlidReport, ...] = ()  # by `with_slides`; of joins that slide
    materials: tuple[MaterialReport, ...] = ()  # by `with_certainty`; of those that the design names
    # Whether cloth carries the hoops: `tapes` are then its seams, each with the cloth beside it.
    on_cloth: bool = False

    @property
    def hem_hoops(self) -> tuple[HoopReport, ...]:
        """The last hoop, or the lowest of each basket."""
        return tuple(self.hoops[hoop] for hoop in lowest_of([hoop.beside for hoop in self.hoops]))

    @property
    def trusted(self) -> bool:
        """Only then are the numbers an answer."""
        return self.settled and self.stable and (self.finer is None or self.finer.apart_m <= MOST_APART)

    def says(self, text: str) -> str:
        """A text about tapes, or about the seams that stand in their place."""
        return of_seams(text) if self.on_cloth else text
