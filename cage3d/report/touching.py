"""What lies on the wearer or on the floor."""

from __future__ import annotations

from cage3d.report.curves import hoop_curve, side_word
from cage3d.report.record import TouchReport
from cage3d.settle.state import SettledCage
from cage3d.steady import first_least

TOUCHING = 0.001  # m; closer than this, beside what lies between, a hoop counts as lying on something


def touch_reports(settled: SettledCage) -> tuple[TouchReport, ...]:
    """Every hoop that lies on the wearer's form or on the floor."""
    found = []
    forces, hoop_nodes = contact_forces(settled), settled.cage.connectivity.hoop_nodes
    for hoop in range(settled.cage.connectivity.hoop_count):
        points = hoop_curve(settled, hoop).points
        distances = {"floor": points[:, 2]}
        if settled.cage.form is not None:
            distances["wearer"] = settled.cage.form.clearance(points)
        off = {"floor": 0.0, "wearer": float(settled.cage.parameters.stand_off[hoop_nodes[hoop]].max())}
        for what, distance in distances.items():
            nearest = first_least(distance)
            if distance[nearest] < TOUCHING + off[what]:
                found.append(TouchReport(hoop + 1, what, side_word(*points[nearest, :2]), forces[what][hoop]))
    return tuple(found)


def contact_forces(settled: SettledCage) -> dict[str, list[float]]:
    """N on each hoop, by what pushes it."""
    hoops = settled.cage.connectivity.hoop_nodes
    return {
        what: [float(pushes[nodes].sum()) for nodes in hoops]
        for what, pushes in (("floor", settled.state.floor_push), ("wearer", settled.pressed_by_her))
    }
