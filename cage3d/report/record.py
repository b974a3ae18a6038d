"""The report of a settled cage as data. Field names are the keys of `check --json`: a promise.

Everything is in SI units, as each name's ending says (m, N, kg, degrees where it says deg).
Hoops and tapes are numbered from 1, hoops from the top, tapes from centre front by the wearer's left.
"""

from __future__ import annotations

from dataclasses import dataclass

from cage3d.shape.in_short import InShort


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
    casing_upper_m: float  # marks along the tape from the waistband's lower edge: upper line of stitches
    steel_at_m: float  # the steel's centre line at rest
    casing_lower_m: float  # lower line of stitches
    on_wearer: bool  # bends round her form


@dataclass(frozen=True)
class TapeReport:
    tape: int
    segments: tuple[SegmentReport, ...]


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
    """The lowest hoop in the list, above the floor."""

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
class SlipReport:
    """How far the hem goes up at four places, in m, when a mark is off: settled again."""

    front_m: float
    left_m: float
    back_m: float
    right_m: float


@dataclass(frozen=True)
class SpreadReport:
    """How level the hem of a cage comes out that is sewn with the usual care."""

    mark_m: float  # one sigma of every mark
    hoop_m: float  # one sigma of every hoop's length
    share: float  # of cages sewn so
    level_within_m: float  # that keep the hem to its planned line, from lowest to highest departure


@dataclass(frozen=True)
class GiveReport:
    """What a hand's push inward on the hem does; None where it goes too far for a figure, or finds no rest."""

    side: str
    push_N: float
    inward_m: float | None  # how far the pushed place goes in
    dent_m: float | None  # of that, what the hoop gives; the rest is the cage swinging
    strain_used: float | None = None  # by the tightest bend meanwhile, as a share of the strain at yield


@dataclass(frozen=True)
class MarkReport:
    """What moving one casing mark down its tape does to the hem's height, in m a m (below zero: lower)."""

    tape: int
    hoop: int
    hem_front: float
    hem_left: float
    hem_back: float
    hem_right: float
    off_by_m: float = 0.0  # what `low` and `high` are settled again with
    low: SlipReport | None = (
        None  # the mark too low by that; None where no rest was found, or it was not tried
    )
    high: SlipReport | None = None


@dataclass(frozen=True)
class CapacityReport:
    """How much skirt the cage carries, as a factor on the planned one."""

    factor: float  # the largest load that still holds
    reached: bool  # False: no hoop gave way up to there, and no more was tried
    hoop: int | None  # the first to give way
    how: str  # in words; empty where none gives way
    wanted: float | None  # the factor for which the lightest steel was looked for
    lightest_width_m: float | None  # of the strip from stock that carries it in every hoop
    lightest_thickness_m: float | None


@dataclass(frozen=True)
class HoopMoves:
    """By how much one hoop's heights and widths differ."""

    number: int
    height_front_m: float
    height_left_m: float
    height_back_m: float
    height_right_m: float
    width_side_side_m: float
    width_front_back_m: float

    @property
    def heights(self) -> tuple[float, float, float, float]:
        return self.height_front_m, self.height_left_m, self.height_back_m, self.height_right_m

    @property
    def widths(self) -> tuple[float, float]:
        return self.width_side_side_m, self.width_front_back_m


@dataclass(frozen=True)
class SteelReport:
    """One strip, tried bare in every hoop."""

    width_m: float
    thickness_m: float
    mass_kg: float  # of all hoops
    least_radius_m: float  # bent tighter it keeps a kink
    gives: tuple[GiveReport, ...]
    droop_m: float | None  # at most; None where the cage finds no rest
    strain_used: float | None  # by its tightest bend at rest, as a share of the strain at yield
    fault: str  # why it does not do; empty where it does


@dataclass(frozen=True)
class SuitingReport:
    """Which steel suits by stiffness, knocks and load."""

    carries: float  # times the planned skirt, that was asked of each
    steel: SteelReport  # the lightest of the stock that is stiff enough, else the stiffest
    own: tuple[SteelReport, ...]  # sizes written under `buying`


@dataclass(frozen=True)
class SlidingReport:
    """What changes where the skirt slides over the hoops, without friction, and does not lie on them."""

    band_kg: float  # of the skirt, that then hangs on the waistband itself
    hem_front_m: float  # height of the lowest hoop
    hem_left_m: float
    hem_back_m: float
    hem_right_m: float
    wide_m: float  # of the lowest hoop, side to side
    deep_m: float  # front to back
    hoops: tuple[HoopMoves, ...]  # the same of every hoop


@dataclass(frozen=True)
class CauseReport:
    """What one cause alone makes of the figures."""

    what: str  # "sewing", "casings", "friction" or "skirt"
    height_m: float  # the most of all heights
    width_m: float  # the most of all widths


@dataclass(frozen=True)
class CertaintyReport:
    """Within what heights and widths come out, up or down, for this share of cages sewn and worn as people do."""

    share: float
    hoops: tuple[HoopMoves, ...]
    hem_lowest_m: float
    hem_highest_m: float
    hem_widest_m: float
    width_side_side_m: float  # of the whole cage
    width_front_back_m: float
    largest: str  # the cause that does most
    causes: tuple[CauseReport, ...]


@dataclass(frozen=True)
class WarningReport:
    """code: stays the same from version to version; text: for the maker, in the design's units."""

    code: str
    text: str


MOST_APART = (
    0.01  # m, between figures of the same cage with more and fewer nodes; farther apart they are no answer
)


@dataclass(frozen=True)
class RangeReport:
    """A figure of a hoop that differs with twice the nodes."""

    hoop: int
    figure: str  # its key in the hoop's own figures
    low_m: float
    high_m: float


@dataclass(frozen=True)
class FinerReport:
    """What twice the nodes change, where a snap, a touch or another way of hanging puts the cage in question."""

    nodes: int  # round a hoop, about
    finer_nodes: int
    apart_m: float  # the largest difference between two heights or two widths of a hoop
    ranges: tuple[RangeReport, ...]  # those that differ by more than a millimetre


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
    steel_cut_m: float  # lengths to cut, without spare
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

    @property
    def trusted(self) -> bool:
        """Only then are the numbers an answer."""
        return self.settled and self.stable and (self.finer is None or self.finer.apart_m <= MOST_APART)
