"""Every warning in the order in which a maker should read them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from cage3d.report.record import WarningReport
from cage3d.report.warnings import hang, place, proof, wear
from cage3d.report.warnings.case import Case

Finder = Callable[[Case], Iterator[WarningReport]]

PROOF: tuple[Finder, ...] = (
    proof.not_settled,
    proof.not_stable,
    proof.on_the_way,
    wear.on_floor,
    proof.looks_like_a_slip,
)
HANGING: tuple[Finder, ...] = (
    hang.hoops_that_cross,
    hang.hoops_that_fold,
    hang.slack_tapes,
    hang.slack_ties,
    hang.little_margin,
    hang.tilted,
    hang.tilted_otherwise,
    hang.tipped_up,
    hang.strained,
)
WORN: tuple[Finder, ...] = (
    wear.hem_clearance,
    wear.hem_width,
    wear.trip,
    wear.heel_through,
    wear.on_wearer,
    wear.hip_close,
    place.door,
    place.riser,
    place.skirt_on_floor,
)


def warnings_of(case: Case) -> tuple[WarningReport, ...]:
    """All that apply; of a cage that did not settle only that, since nothing else about it is known."""
    finders = PROOF + HANGING + WORN if case.report.trusted else PROOF
    found = (warning for find in finders for warning in find(case))
    return tuple(replace(warning, text=case.report.says(warning.text)) for warning in found)
