"""One stretch of variants settled and told: the work that is sent to another process."""

from __future__ import annotations

from collections.abc import Sequence

from cage3d.design.models import Design
from cage3d.report import Report, measure, not_vouched_for, why_not, with_finer, with_second_way
from cage3d.settle import SettledCage
from cage3d.shape.lay_out import lay_out
from cage3d.study.sweeping.neighbours import Neighbours
from cage3d.study.sweeping.stowing import Outcome, stowed
from cage3d.study.sweeping.sweep import Variant
from cage3d.study.sweeping.told import Told, told_of

WHERE = "variant"


def settle_stretch(variants: Sequence[Variant], nodes: int | None = None) -> bytes:
    """What came of every variant, stowed. The same bytes wherever and after whatever it is run."""
    return stowed(outcomes(variants, nodes))


def outcomes(variants: Sequence[Variant], nodes: int | None = None) -> list[Outcome]:
    designs = {place: one for place, one in enumerate(variants) if isinstance(one, Design)}
    found = Neighbours([lay_out(design, nodes) for design in designs.values()])
    hung = {place: found.settled[number] for number, place in enumerate(designs)}
    words = {place: found.words.get(number, "") for number, place in enumerate(designs)}
    reports = vouched(hung)
    return [
        Outcome(told_as(reports[place], hung[place], words[place]), hung[place])
        if place in hung
        else Outcome(Told({}, why=refusal(variant), refused=True), None)
        for place, variant in enumerate(variants)
    ]


def vouched(hung: dict[int, SettledCage]) -> dict[int, Report]:
    """The report of each, asked as `check` asks it whether it hangs on the number of nodes.

    Whether the cage can hang in a second way takes as long as settling it, so it is asked at both ends of the stretch;
    where one of them can, and where something happened on the way to rest, it is asked of all.
    """
    reports = {place: measure(settled) for place, settled in hung.items()}
    ends = {min(hung), max(hung)} if hung else set()
    asked = {place: with_second_way(reports[place], hung[place]) for place in ends}
    two_ways = any(len(asked[place].warnings) > len(reports[place].warnings) for place in ends)
    for place, settled in hung.items():
        if place not in asked and (two_ways or settled.snaps or settled.notes):
            asked[place] = with_second_way(reports[place], settled)
    return {place: with_finer(asked.get(place, report), hung[place]) for place, report in reports.items()}


def told_as(report: Report, settled: SettledCage, words: str) -> Told:
    """Figures of a report that can be trusted; why not, of any other."""
    if not settled.trusted:
        return Told({}, why=why_not(settled, WHERE).why)
    if not report.trusted:
        return Told({}, why=not_vouched_for(report, WHERE).why)
    return told_of(report, words)


def refusal(variant: Variant) -> str:
    """The first of the faults that the rules find."""
    if isinstance(variant, Design):
        raise ValueError("this design is not refused")
    problem = variant.problems[0]
    return f"{problem.where}: {problem.why}"
