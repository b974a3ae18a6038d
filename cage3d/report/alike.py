"""Tapes with the same drops, told once for page and picture."""

from __future__ import annotations

from dataclasses import dataclass

from cage3d.report.record import Report
from cage3d.units import show_length
from cage3d.wording import capital, numbered

SLACK = 1e-3  # m, less than this nobody sees


@dataclass(frozen=True)
class TapesAlike:
    """Tapes with the same drops."""

    names: str  # "Tapes 1, 2 and 5"
    hoops: tuple[int, ...]  # from 1, to which a stretch of tape comes
    drops: tuple[str, ...]  # of these, in the design's units, without the unit
    whole: str
    slack: str  # "above hoops 1 and 6", or "none"


def tapes_alike(report: Report) -> list[TapesAlike]:
    """Every kind of tape once."""
    alike: dict[tuple[tuple[int, ...], tuple[str, ...], str], list[int]] = {}
    for tape in report.tapes:
        drops = [segment.length_m for segment in tape.segments]
        lengths = tuple(show_length(length, report.units, unit=False) for length in (*drops, sum(drops)))
        slack = [segment.to_hoop for segment in tape.segments if segment.slack_m > SLACK]
        where = f"above {numbered('hoop', slack)}" if slack else "none"
        hoops = tuple(segment.to_hoop for segment in tape.segments)
        alike.setdefault((hoops, lengths, where), []).append(tape.tape)
    return [
        TapesAlike(report.says(capital(numbered("tape", numbers))), hoops, lengths[:-1], lengths[-1], where)
        for (hoops, lengths, where), numbers in alike.items()
    ]
