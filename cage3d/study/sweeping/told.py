"""What is told of one variant: its figures by name, in SI, and what a maker should mind."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from cage3d.report.record import HoopReport, Report
from cage3d.report.tables import hangs_slack
from cage3d.steady import steady

OF_THE_WHOLE = (
    "width_side_side_m", "width_front_back_m", "back_share", "weight_kg", "cage_kg", "skirt_kg", "steel_m",
)  # fmt: skip
OF_A_HOOP = (
    "length_m", "height_front_m", "height_left_m", "height_back_m", "height_right_m", "lowest_m", "highest_m",
    "width_side_side_m", "width_front_back_m", "tilt_deg", "strain_used", "droop_m", "clearance_m", "load_N",
)  # fmt: skip
DIGITS = 6  # a micron: two ways to the same rest differ by some hundredths of it, and in a pull by 1e-5 N


@dataclass(frozen=True)
class Told:
    """One variant: figures where it is an answer, else why it is none."""

    figures: dict[str, float | None]  # empty where it is no answer; None for what this cage does not have
    warnings: tuple[tuple[str, str], ...] = ()  # (code, text)
    why: str = ""  # it is no answer
    refused: bool = False  # by the rules of a design, and not for want of a rest


def told_of(report: Report, words: str = "") -> Told:
    """words: what was found on the way, beside the report's own warnings."""
    warnings = [(warning.code, warning.text) for warning in report.warnings]
    warnings += [("two_ways", words)] if words and "two_ways" not in {code for code, _ in warnings} else []
    return Told(dict(figures_in(report)), tuple(warnings))


def figures_in(report: Report) -> Iterator[tuple[str, float | None]]:
    """('hem_lowest_m', 0.44), ..., ('hoop_4_tilt_deg', 0.0), ...: names as `check --json` has them."""
    for name in ("lowest_m", "highest_m", "widest_m"):
        yield f"hem_{name}", rounded(getattr(report.hem, name))
    yield "hem_tilt_deg", rounded(max(hem.tilt_deg for hem in report.hem_hoops))
    for name in OF_THE_WHOLE:
        yield name, rounded(getattr(report, name))
    yield "most_tilt_deg", rounded(max(hoop.tilt_deg for hoop in report.hoops))
    yield "most_strain_used", rounded(max(hoop.strain_used for hoop in report.hoops))
    rooms = [hoop.clearance_m for hoop in report.hoops if hoop.clearance_m is not None]
    yield "nearest_m", rounded(min(rooms)) if rooms else None
    segments = [part for tape in report.tapes for part in tape.segments]
    yield "most_tension_N", rounded(max(part.tension_N for part in segments if part.length_m))
    yield "slack_tapes", float(sum(hangs_slack(part.tension_N, part.slack_m) for part in segments))
    for hoop in report.hoops:
        yield from of_a_hoop(report, hoop)
    for number, tie in enumerate(report.ties, start=1):
        yield f"tie_{number}_length_m", rounded(tie.length_m)
        yield f"tie_{number}_tension_N", rounded(tie.tension_N)
        yield f"tie_{number}_slack_m", rounded(tie.slack_m)


def of_a_hoop(report: Report, hoop: HoopReport) -> Iterator[tuple[str, float | None]]:
    for name in OF_A_HOOP:
        yield f"hoop_{hoop.number}_{name}", rounded(getattr(hoop, name))
    parts = [part for tape in report.tapes if (part := tape.to(hoop.number)) is not None]
    tensions = [part.tension_N for part in parts if part.length_m]  # no tape is pulled in a seam of two hoops
    yield f"hoop_{hoop.number}_most_tension_N", rounded(max(tensions))


def rounded(value: float | None) -> float | None:
    """None for what is no number."""
    return None if value is None or not math.isfinite(value) else steady(value, DIGITS)
