"""Every warning in the order in which a maker should read them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from cage3d.report import warn_hang, warn_proof, warn_wear
from cage3d.report.case import Case
from cage3d.report.record import WarningReport

Finder = Callable[[Case], Iterator[WarningReport]]

PROOF: tuple[Finder, ...] = (
    warn_proof.not_settled,
    warn_proof.not_stable,
    warn_proof.on_the_way,
    warn_wear.on_floor,
    warn_proof.looks_like_a_slip,
)
HANGING: tuple[Finder, ...] = (
    warn_hang.through_each_other,
    warn_hang.slack_tapes,
    warn_hang.slack_ties,
    warn_hang.little_margin,
    warn_hang.tilted,
    warn_hang.strained,
)
WORN: tuple[Finder, ...] = (
    warn_wear.hem_clearance,
    warn_wear.trip,
    warn_wear.heel_through,
    warn_wear.on_wearer,
    warn_wear.hip_close,
    warn_wear.tape_over_form,
    warn_wear.tie_through_wearer,
    warn_wear.door,
    warn_wear.riser,
)


def warnings_of(case: Case) -> tuple[WarningReport, ...]:
    """All that apply; of a cage that did not settle only that, since nothing else about it is known."""
    finders = PROOF + HANGING + WORN if case.report.trusted else PROOF
    return tuple(warning for find in finders for warning in find(case))
