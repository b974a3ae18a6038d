"""What lies on the wearer or on the floor."""

from __future__ import annotations

from cage3d.report.curves import off_the_band, side_word
from cage3d.report.record import TouchReport
from cage3d.settle.state import SettledCage
from cage3d.steady import first_least

TOUCHING = 0.001  # m; closer than this, beside what lies between, a hoop counts as lying on something


def touch_reports(settled: SettledCage) -> tuple[TouchReport, ...]:
    """Every hoop that lies on the wearer's form or on the floor."""
    found = []
    forces, hoop_nodes = contact_forces(settled), settled.cage.connectivity.hoop_nodes
    for hoop in range(settled.cage.connectivity.hoop_count):
        points = off_the_band(settled, hoop)
        distances = {"floor": points[:, 2]}
        if settled.cage.form is not None:
            distances["wearer"] = settled.cage.form.clearance(points)
        off = {"floor": 0.0, "wearer": float(settled.cage.parameters.stand_off[hoop_nodes[hoop]].max())}
        for what, distance in distances.items():
            nearest = first_least(distance)
            if what == "wearer" and sewn_to_band(settled, hoop) and forces[what][hoop] <= 0.0:
                continue  # it begins on her with the band, and may lie as deep as that
            if distance[nearest] < TOUCHING + off[what]:
                found.append(TouchReport(hoop + 1, what, side_word(*points[nearest, :2]), forces[what][hoop]))
    return tuple(found)


def sewn_to_band(settled: SettledCage, hoop: int) -> bool:
    joined = settled.cage.connectivity
    return hoop in joined.edge_hoop[joined.sewn_edges]


def contact_forces(settled: SettledCage) -> dict[str, list[float]]:
    """N on each hoop, by what pushes it."""
    hoops = settled.cage.connectivity.hoop_nodes
    return {
        what: [float(pushes[nodes].sum()) for nodes in hoops]
        for what, pushes in (("floor", settled.state.floor_push), ("wearer", settled.pressed_by_her))
    }
