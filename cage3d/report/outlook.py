"""Beyond the resting shape: what a mark that is off does, and how much skirt is carried."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from cage3d.foresee.capacity import carries, lightest_steel
from cage3d.foresee.certainty import Certainty, certainty
from cage3d.foresee.materials import Gives, MaterialEnds, gives_at_ends, material_ends
from cage3d.foresee.read_off import OF_A_HOOP, OF_THE_WHOLE
from cage3d.foresee.second_way import second_way
from cage3d.foresee.sensitivity import MarkEffect, mark_effects
from cage3d.foresee.sliding import BothWays, both_ways
from cage3d.foresee.slips import HOOP_SIGMA, MARK_SIGMA, SHARE, Slip, level_within, sewing_moves, slip
from cage3d.foresee.stiffness import PUSH, Give, gives
from cage3d.foresee.suiting import Suit, own_steels, suiting_steel
from cage3d.report.foreseen import (
    CapacityReport,
    CauseReport,
    CertaintyReport,
    GiveReport,
    HoopMoves,
    HoopWithin,
    MarkReport,
    MaterialReport,
    SlidingReport,
    SlipReport,
    SpreadReport,
    SteelReport,
    SuitingReport,
)
from cage3d.report.hoops import hoop_figures
from cage3d.report.record import Report, WarningReport
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Bools, Floats
from cage3d.shape.weights import GRAVITY
from cage3d.steady import fixed, percent, steady
from cage3d.units import INCH

MARKS = 10
AGAIN = 6  # of these are settled again, twice each
LITTLE_RESERVE = (
    1.5  # times the planned skirt; wet cloth, a hand on it, a second petticoat. Our own judgement
)


def with_marks(report: Report, settled: SettledCage) -> Report:
    """The report with the ten marks that move the hem most; as it was where the cage is no answer."""
    if not report.trusted:
        return report
    moves, marked = sewing_moves(settled), len(report.hoops) * len(report.tapes)
    off, strongest = off_by(report), mark_effects(settled, moves[:, :, :marked])[:MARKS]
    marks = tuple(mark_report(settled, one, off, place < AGAIN) for place, one in enumerate(strongest))
    spread = SpreadReport(MARK_SIGMA, HOOP_SIGMA, SHARE, level_within(settled, moves))
    return replace(report, marks=marks, spread=spread)


def off_by(report: Report) -> float:
    """m, by which a mark is tried too low and too high: 1/8 in, or 3 mm."""
    return INCH / 8 if report.units in ("in", "ft") else 0.003


def mark_report(settled: SettledCage, effect: MarkEffect, off: float, again: bool) -> MarkReport:
    """One mark's slopes; with `again` the cage settled with it too low and too high by `off` m, too."""
    tried = (slip(settled, effect.tape, effect.hoop, down) if again else None for down in (off, -off))
    low, high = map(slip_report, tried)
    slopes = (effect.front, effect.left, effect.back, effect.right)
    return MarkReport(effect.tape + 1, effect.hoop + 1, *slopes, off, low, high)


def slip_report(found: Slip | None) -> SlipReport | None:
    return None if found is None else SlipReport(found.front, found.left, found.back, found.right)


def with_certainty(report: Report, settled: SettledCage) -> Report:
    """The report with what a skirt that slides would change, and how sure every height and width is."""
    if not report.trusted:
        return report
    ways, ends = both_ways(settled), material_ends(settled)
    return replace(
        report,
        sliding=None if ways is None else sliding_report(ways),
        certainty=certainty_report(certainty(settled, ways, ends), settled.cage.connectivity.passed),
        materials=tuple(material_report(settled, one) for one in ends),
    )


def material_report(settled: SettledCage, ends: MaterialEnds) -> MaterialReport:
    low, high = (None if end is None else hoop_moves(settled, end) for end in (ends.at_low, ends.at_high))
    between = ends.between
    return MaterialReport(ends.material, ends.what, between.low, between.usual, between.high, low, high)


def sliding_report(ways: BothWays) -> SlidingReport:
    moves = hoop_moves(ways.lies, ways.slides)
    on_band = float(-ways.slides.state.cloth_on_band[2] / GRAVITY)
    hem = moves[-1]
    return SlidingReport(on_band, *hem.heights, *hem.widths, moves)


def hoop_moves(before: SettledCage, after: SettledCage) -> tuple[HoopMoves, ...]:
    """By how much every hoop's figures grow from one cage to another that is joined alike."""
    return tuple(
        HoopMoves(hoop + 1, *map(float, hoop_figures(after, hoop) - hoop_figures(before, hoop)))
        for hoop in range(before.cage.connectivity.hoop_count)
    )


def certainty_report(found: Certainty, passed: Bools) -> CertaintyReport:
    """passed: (H, T) whether a tape passes a hoop."""
    hoops, whole, at_tapes = by_hoops(found.within, passed)
    lowest, highest, widest, side_side, front_back = map(float, whole)
    return CertaintyReport(
        share=SHARE,
        hoops=tuple(
            hoop_within(number, hoop, heights)
            for number, (hoop, heights) in enumerate(zip(hoops, at_tapes, strict=True), start=1)
        ),
        hem_lowest_m=lowest,
        hem_highest_m=highest,
        hem_widest_m=widest,
        width_side_side_m=side_side,
        width_front_back_m=front_back,
        largest=found.largest,
        causes=tuple(cause_report(what, part, passed) for what, part in found.parts.items()),
    )


def hoop_within(number: int, figures: Floats, at_tapes: Floats) -> HoopWithin:
    """figures: (6,) m; at_tapes: (n,) m."""
    front, left, back, right, wide, deep = map(float, figures)
    return HoopWithin(number, front, left, back, right, wide, deep, tuple(map(float, at_tapes)))


def cause_report(what: str, part: Floats, passed: Bools) -> CauseReport:
    hoops = by_hoops(part, passed)[0]
    return CauseReport(what, float(hoops[:, :4].max()), float(hoops[:, 4:].max()))


def by_hoops(figures: Floats, passed: Bools) -> tuple[Floats, Floats, list[Floats]]:
    """((H, 6), (5,), H x (n,)): figures of every hoop, of the whole cage, of every hoop at each of its tapes."""
    hoops, ends = len(passed), np.cumsum(passed.sum(axis=1))[:-1]
    own, whole, at_tapes = np.split(figures, [hoops * OF_A_HOOP, hoops * OF_A_HOOP + OF_THE_WHOLE])
    return own.reshape(hoops, OF_A_HOOP), whole, np.split(at_tapes, ends)


def with_stiffness(report: Report, settled: SettledCage) -> Report:
    """The report with how far the hem gives under a hand at front, side and back."""
    if not report.trusted:
        return report
    ends = gives_at_ends(settled) if report.materials else {}
    told = tuple(
        with_gives(one, *ends[one.material]) if one.what == "stiffness" and one.material in ends else one
        for one in report.materials
    )
    return replace(report, gives=give_reports(gives(settled)), materials=told)


def with_gives(one: MaterialReport, low: Gives, high: Gives) -> MaterialReport:
    return replace(one, gives_at_low=give_reports(low or ()), gives_at_high=give_reports(high or ()))


def give_reports(found: Iterable[Give]) -> tuple[GiveReport, ...]:
    return tuple(GiveReport(one.side, PUSH, one.inward, one.dent, one.strain) for one in found)


def with_second_way(report: Report, settled: SettledCage) -> Report:
    """The report with a warning where another start ends in another shape: as much work as settling."""
    if not report.trusted:
        return report
    other = second_way(settled)
    found = (WarningReport("two_ways", other[0].upper() + other[1:] + "."),) if other else ()
    return replace(report, warnings=report.warnings + found)


def with_capacity(report: Report, settled: SettledCage, wanted: float | None = None) -> Report:
    """The report with the load at which the first hoop gives way: some seconds of work.

    wanted: a factor on the planned skirt for which the lightest strip from stock is looked for (a minute).
    """
    found = carries(settled) if report.trusted else None
    if found is None:
        return report
    steel = lightest_steel(settled.cage.design, wanted) if wanted is not None else None
    capacity = CapacityReport(
        factor=found.factor,
        reached=found.reached,
        hoop=found.hoop + 1 if found.reached else None,
        how=found.how,
        wanted=wanted,
        lightest_width_m=steel.width if steel else None,
        lightest_thickness_m=steel.thickness if steel else None,
    )
    warnings = report.warnings + little_reserve(capacity, report.stuff, report.on_cloth)
    return replace(report, carries=capacity, warnings=warnings)


def with_suiting(report: Report, settled: SettledCage, wanted: float = LITTLE_RESERVE) -> Report:
    """The report with the steel that suits, and whether the maker's own do: each settled with it, a second or more.

    wanted: times the planned skirt that it must carry.
    """
    if not report.trusted:
        return report
    design = settled.cage.design
    own = tuple(map(steel_report, own_steels(design, wanted)))
    return replace(report, suiting=SuitingReport(wanted, steel_report(suiting_steel(design, wanted)), own))


def steel_report(found: Suit) -> SteelReport:
    return SteelReport(
        width_m=found.strip.width,
        thickness_m=found.strip.thickness,
        mass_kg=found.mass,
        least_radius_m=found.least_radius,
        gives=give_reports(found.gives),
        droop_m=found.droop,
        strain_used=found.bent,
        fault=found.fault,
    )


def little_reserve(
    capacity: CapacityReport, stuff: str = "steel", on_cloth: bool = False
) -> tuple[WarningReport, ...]:
    if not capacity.reached or capacity.factor >= LITTLE_RESERVE:
        return ()
    return (
        WarningReport(
            "little_reserve",
            f"At {times(capacity.factor)} the planned skirt hoop {capacity.hoop} {capacity.how}. Use "
            f"stiffer {stuff}, {'' if on_cloth else 'more tapes, '}or a lighter skirt.",
        ),
    )


def times(factor: float) -> str:
    """'3.2 times'; of less than the whole '89% of', as warnings of snaps say it."""
    return f"{fixed(factor, 1)} times" if steady(factor, 3) >= 1.0 else f"{percent(factor)} of"
