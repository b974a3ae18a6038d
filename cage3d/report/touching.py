"""What lies on the wearer or on the floor, and ties that pass through her."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.report.curves import hoop_curve, side_word
from cage3d.report.record import TouchReport
from cage3d.settle.state import SettledCage
from cage3d.shape.form import Form
from cage3d.steady import first_least

TOUCHING = 0.001  # m; closer than this a hoop counts as lying on something
# m from hip level to crotch: means of 1986 women, 834 and 782 mm (2012 survey Natick/TR-15/007).
HIP_TO_CROTCH = 0.052
INSIDE = 0.98  # fullness below which a place is inside the wearer, not on her skin


def touch_reports(settled: SettledCage) -> tuple[TouchReport, ...]:
    """Every hoop that lies on the wearer's form or on the floor."""
    found = []
    forces = contact_forces(settled)
    for hoop in range(settled.cage.connectivity.hoop_count):
        points = hoop_curve(settled, hoop).points
        distances = {"floor": points[:, 2]}
        if settled.cage.form is not None:
            distances["wearer"] = settled.cage.form.clearance(points)
        for what, distance in distances.items():
            nearest = first_least(distance)
            if distance[nearest] < TOUCHING:
                found.append(TouchReport(hoop + 1, what, side_word(*points[nearest, :2]), forces[what][hoop]))
    return tuple(found)


def contact_forces(settled: SettledCage) -> dict[str, list[float]]:
    """N on each hoop, by what pushes it."""
    state = settled.state
    hoops = settled.cage.connectivity.hoop_nodes
    return {
        what: [float(pushes[nodes].sum()) for nodes in hoops]
        for what, pushes in (("floor", state.floor_push), ("wearer", state.wearer_push))
    }


@dataclass(frozen=True)
class Crossing:
    """A straight tie that passes through the wearer."""

    name: str
    height: float  # m above the floor, of the place furthest inside
    body: str  # "hips" or "legs"


def ties_through_wearer(settled: SettledCage) -> tuple[Crossing, ...]:
    """Ties and laces whose straight line passes through the wearer, her feet together."""
    form, joined = settled.cage.form, settled.cage.connectivity
    if form is None:
        return ()
    found = []
    for row in range(joined.segment_count, len(joined.pulls)):
        first, second = settled.positions[joined.pulls[row]]
        line = first + np.linspace(0.0, 1.0, 65)[:, None] * (second - first)
        fullness = form.fullness(line)
        deepest = first_least(fullness)
        if fullness[deepest] < INSIDE:
            height = float(line[deepest, 2])
            body = "legs" if height < hip_height(form) - HIP_TO_CROTCH else "hips"
            found.append(Crossing(joined.pull_names[row], height, body))
    return tuple(found)


def hip_height(form: Form) -> float:
    """m above the floor: the fullest of the form's sections."""
    return max(form.sections, key=lambda section: section.half_breadth).height
