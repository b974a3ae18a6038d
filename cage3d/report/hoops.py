"""One hoop's figures."""

from __future__ import annotations

import numpy as np

from cage3d.foresee.stiffness import droop
from cage3d.report.curves import (
    DIRECTIONS,
    HoopCurve,
    height_towards,
    hoop_curve,
    off_the_band,
    plane_of,
    widths_in_plan,
)
from cage3d.report.record import HoopReport, PointReport
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats


def hoop_reports(settled: SettledCage) -> tuple[HoopReport, ...]:
    """Every hoop from the top."""
    return tuple(hoop_report(settled, hoop) for hoop in range(settled.cage.connectivity.hoop_count))


def hoop_report(settled: SettledCage, hoop: int) -> HoopReport:
    """Hoop `hoop` (from 0) as it hangs."""
    curve = hoop_curve(settled, hoop)
    points, length = curve.points, finished_length(settled, hoop)
    heights = {direction: height_towards(curve, direction) for direction in DIRECTIONS}
    # The point where a closed curve begins and ends counts once.
    tilt, out_of_plane = plane_of(points[:-1] if curve.closed else points)
    widths = widths_in_plan(points)
    radius, strain_used = sharpest_bend(settled, hoop)
    return HoopReport(
        number=hoop + 1,
        open=not curve.closed,
        length_m=length,
        height_front_m=heights["front"][0],
        height_left_m=heights["left"][0],
        height_back_m=heights["back"][0],
        height_right_m=heights["right"][0],
        lowest_m=float(points[:, 2].min()),
        highest_m=float(points[:, 2].max()),
        width_front_back_m=float(np.ptp(points[:, 1])),
        width_side_side_m=float(np.ptp(points[:, 0])),
        tilt_deg=tilt,
        out_of_plane_m=out_of_plane,
        smallest_bend_radius_m=radius,
        strain_used=strain_used,
        at_tapes=at_tapes(settled, hoop),
        front_to_axis_m=float(-points[:, 1].min()),
        back_to_axis_m=float(points[:, 1].max()),
        widest_m=float(widths.max()),
        narrowest_m=float(widths.min()),
        out_of_round_m=float(np.ptp(widths)),
        gap_m=gap(curve),
        measured_at_end=tuple(direction for direction, (_, at_end) in heights.items() if at_end),
        cut_length_m=settled.cage.steels[hoop].cut,
        clearance_m=clearance(settled, hoop),
        droop_m=droop(settled, hoop),
        back_share=back_share(points),
        load_N=load(settled, hoop),
        beside=settled.cage.design.hoops[hoop].beside,
    )


def hoop_figures(settled: SettledCage, hoop: int) -> Floats:
    """(6,) m: its heights at front, left, back and right, its widths from side to side and front to back."""
    curve = hoop_curve(settled, hoop)
    heights = [height_towards(curve, direction)[0] for direction in DIRECTIONS]
    return np.array([*heights, np.ptp(curve.points[:, 0]), np.ptp(curve.points[:, 1])])


def back_share(points: Floats) -> float:
    """The part of an extent from foremost to rearmost of places (n, 3) that lies behind the waist's axis."""
    front, back = float(points[:, 1].min()), float(points[:, 1].max())
    return max(back - max(front, 0.0), 0.0) / (back - front)


def finished_length(settled: SettledCage, hoop: int) -> float:
    """m of centre line, round or end to end."""
    return float(settled.cage.parameters.arc_length[settled.cage.connectivity.hoop_edges[hoop]].sum())


def at_tapes(settled: SettledCage, hoop: int) -> tuple[PointReport, ...]:
    """Where the hoop passes each of its tapes."""
    joined = settled.cage.connectivity
    tapes = joined.tapes_of(hoop)
    places = settled.positions[joined.crossing[hoop, tapes]]
    return tuple(
        PointReport(int(tape) + 1, *map(float, place)) for tape, place in zip(tapes, places, strict=True)
    )


def sharpest_bend(settled: SettledCage, hoop: int) -> tuple[float, float]:
    """(smallest radius in m, greatest strain as a share of that at yield)."""
    own = settled.cage.connectivity.bend_hoop == hoop
    easy, stiff = (curvature[own] for curvature in settled.curvatures)
    # A straight strip has no radius to speak of; 1 km stands for it.
    sharpest = max(float(np.hypot(easy, stiff).max()), 1e-3)
    return 1.0 / sharpest, float(settled.strains[own].max())


def gap(curve: HoopCurve) -> float | None:
    """m straight from one end of an open hoop to the other."""
    return None if curve.closed else float(np.linalg.norm(curve.points[-1] - curve.points[0]))


def clearance(settled: SettledCage, hoop: int) -> float | None:
    """m, least level distance to the wearer's form; negative inside it."""
    form = settled.cage.form
    return None if form is None else float(form.clearance(off_the_band(settled, hoop)).min())


def load(settled: SettledCage, hoop: int) -> float:
    """N, weight on the hoop's nodes; of a skirt that slides, what it presses down with."""
    numbers, nodes = settled.cage.parameters, settled.cage.connectivity.hoop_nodes[hoop]
    return float((numbers.own_weight + numbers.skirt_weight - settled.state.cloth[:, 2])[nodes].sum())
