"""What is foreseen of a settled cage, as data of its report; keys and units as in `report.record`."""

from __future__ import annotations

from dataclasses import dataclass


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
class MaterialReport:
    """What the hoops do where their material lies at either end of what is sold; the middle is what is told."""

    material: str
    what: str  # "stiffness" (Pa), "density" (kg/m3) or "cover" (kg/m)
    low: float
    taken: float
    high: float
    at_low: tuple[HoopMoves, ...] | None  # of every hoop; None where the cage then finds no rest
    at_high: tuple[HoopMoves, ...] | None
    gives_at_low: tuple[GiveReport, ...] = ()  # of the stiffness, under a hand, by `with_stiffness`
    gives_at_high: tuple[GiveReport, ...] = ()


@dataclass(frozen=True)
class WishReport:
    """A wish for one side of the hem, or for one of its widths, and what it is."""

    what: str  # front, left, back, right; side_to_side, front_to_back
    least_m: float
    most_m: float
    is_m: float
    met: bool  # to the step to which drops are marked


@dataclass(frozen=True)
class SlidReport:
    """The cage with every hoop whose join slides at one end of its range."""

    at: str  # "at their shortest" or "at their longest"
    lengths_m: tuple[float, ...]  # of every hoop, finished
    settled: (
        bool  # whether it then finds a rest that is an answer; the rest of this is None where it does not
    )
    hem_lowest_m: float | None
    hem_highest_m: float | None
    width_side_side_m: float | None  # of the whole cage
    width_front_back_m: float | None
    moves: tuple[HoopMoves, ...] | None  # of every hoop, against the lengths as written
    gives: tuple[GiveReport, ...] = ()  # under a hand, as `Report.gives`


@dataclass(frozen=True)
class CauseReport:
    """What one cause alone makes of the figures."""

    what: str  # "sewing", "casings", "friction", "skirt" or "material"
    height_m: float  # the most of all heights
    width_m: float  # the most of all widths


@dataclass(frozen=True)
class HoopWithin(HoopMoves):
    """Within what one hoop's heights and widths come out."""

    at_tapes_m: tuple[float, ...]  # its height where it crosses each of its tapes


@dataclass(frozen=True)
class CertaintyReport:
    """Within what heights and widths come out, up or down, for this share of cages sewn and worn as people do."""

    share: float
    hoops: tuple[HoopWithin, ...]
    hem_lowest_m: float
    hem_highest_m: float
    hem_widest_m: float
    width_side_side_m: float  # of the whole cage
    width_front_back_m: float
    largest: str  # the cause that does most
    causes: tuple[CauseReport, ...]


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
