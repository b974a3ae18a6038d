"""Small cages in inches for the report's tests, settled once each."""

from __future__ import annotations

from functools import cache
from typing import Any

from cage3d.design.read import read_data
from cage3d.report import Report, measure
from cage3d.settle import SettledCage, settle
from cage3d.shape.lay_out import lay_out

NODES = 32  # a coarse line is enough to see whether a warning fires

WEARER = {"waist": 26, "waist_height": 41.5}
WITH_HIP = WEARER | {"hip": 39, "hip_drop": 8}


def data(**changes: Any) -> dict[str, Any]:
    """A round petticoat that gives no warning, with some keys written otherwise."""
    plain: dict[str, Any] = {
        "name": "plain",
        "units": "in",
        "wearer": WEARER | {"waist_breadth": 8.28, "waist_depth": 8.28},
        "waistband": {"depth": 1},
        "steel": {"width": "12 mm", "thickness": "0.6 mm"},
        "tapes": {"count": 8, "drops": [9, 8, 7]},
        "hoops": [{"length": 52}, {"length": 62}, {"length": 70}],
        "hem": {"clearance": [17, 21]},
        "stage": {"door": 34, "riser": 7},
    }
    return plain | changes


def drops(**tapes: list[float]) -> dict[str, Any]:
    """Eight tapes alike, but for some: t3=[...]."""
    rows = [tapes.get(f"t{tape}", [9, 8, 7]) for tape in range(1, 9)]
    return {"count": 8, "drops": rows}


def hung(**changes: Any) -> tuple[Report, SettledCage]:
    settled = settle(lay_out(read_data(data(**changes)), NODES))
    return measure(settled), settled


@cache
def plain() -> tuple[Report, SettledCage]:
    return hung()


def codes(report: Report) -> list[str]:
    return [warning.code for warning in report.warnings]
