"""What is wished of the hem by its sides and of its widths, and whether it is so."""

from __future__ import annotations

from cage3d import units
from cage3d.design import trade
from cage3d.design.models.around import Hem
from cage3d.report.foreseen import WishReport
from cage3d.report.record import HoopReport, Report
from cage3d.steady import exceeds
from cage3d.wording import capital, listed

SAID = {
    "front": "front", "left": "her left", "back": "back", "right": "her right",
    "side_to_side": "side to side", "front_to_back": "front to back",
}  # fmt: skip
FIGURES = {"side_to_side": "width_side_side_m", "front_to_back": "width_front_back_m"}


def wish_reports(hem: Hem, lowest: HoopReport) -> tuple[WishReport, ...]:
    """Every wish of the hem's own, with the lowest hoop's figure."""
    found = []
    for what, (least, most) in (hem.heights | hem.widths).items():
        is_m = float(getattr(lowest, FIGURES.get(what, f"height_{what}_m")))
        low, high = least - trade.HEM_TOLERANCE, most + trade.HEM_TOLERANCE
        found.append(WishReport(what, least, most, is_m, not (exceeds(low, is_m) or exceeds(is_m, high))))
    return tuple(found)


def wish_lines(report: Report) -> list[str]:
    """'The hem as it is wanted: front 10 in (9 1/2 in to 10 1/2 in). Not as wanted: back ...'."""

    def full(metres: float) -> str:
        return units.show_length(metres, report.units)

    def told(met: bool) -> str:
        return listed([
            f"{SAID[one.what]} {full(one.is_m)} ({range_text(report, one)})"
            for one in report.wished
            if one.met is met
        ])  # fmt: skip

    parts = [("as it is wanted", told(True)), ("not as wanted", told(False))]
    said = [f"{capital(words) if place else f'The hem {words}'}: {text}." for place, (words, text) in enumerate(
        [(words, text) for words, text in parts if text]
    )]  # fmt: skip
    return [" ".join(said)] if said else []


def range_text(report: Report, one: WishReport) -> str:
    """'8 in to 10 in', or '8 in' where least and most are one."""
    low, high = (units.show_length(metres, report.units) for metres in (one.least_m, one.most_m))
    return low if low == high else f"{low} to {high}"
