"""The front door: a settled cage to its report."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from cage3d.design.baskets import hem_hoops
from cage3d.report.curves import hoop_curve, widths_in_plan
from cage3d.report.hoops import back_share, hoop_reports
from cage3d.report.pulls import tape_reports, tie_reports
from cage3d.report.record import HemReport, HoopReport, Report
from cage3d.report.touching import touch_reports
from cage3d.report.warnings import warnings_of
from cage3d.report.warnings.case import Case
from cage3d.report.wishes import wish_reports
from cage3d.settle.state import SettledCage
from cage3d.shape.gores import mass_on_band
from cage3d.shape.weights import GRAVITY, tape_mass_per_length


def measure(settled: SettledCage) -> Report:
    """Everything a settled cage tells: heights, widths, tensions, strains, warnings.

    Works on a cage that did not settle too, so that its numbers can be looked at: then
    `trusted` is false and a warning says that they are no answer.
    """
    hoops = hoop_reports(settled)
    cage, skirt = weights(settled)
    hems = hem_hoops(settled.cage.design)
    everywhere = np.vstack([hoop_curve(settled, hoop).points for hoop in range(len(hoops))])
    side_side, front_back, _ = (float(extent) for extent in np.ptp(everywhere, axis=0))
    report = Report(
        design=settled.cage.design.name,
        units=settled.cage.design.units,
        settled=settled.settled,
        stable=settled.stable,
        residual_N=settled.residual,
        lowest_eigenvalue=settled.lowest_eigenvalue,
        steps=settled.steps,
        hoops=hoops,
        tapes=tape_reports(settled),
        ties=tie_reports(settled),
        weight_kg=cage + skirt,
        cage_kg=cage,
        skirt_kg=skirt,
        # 0, and not -0, of a skirt that lies
        skirt_on_band_kg=0.0 - float(settled.state.cloth_on_band[2]) / GRAVITY,
        steel_m=sum(hoop.length_m for hoop in hoops),
        steel_cut_m=sum(
            steel.section.pieces * hoop.cut_length_m
            for steel, hoop in zip(settled.cage.steels, hoops, strict=True)
        ),
        width_front_back_m=front_back,
        width_side_side_m=side_side,
        back_share=back_share(everywhere),
        hem=hem(settled, [hoops[hoop] for hoop in hems]),
        touching=touch_reports(settled),
        warnings=(),
        notes=settled.cage.design.notes,
        stuff=settled.cage.design.stuff,
        on_cloth=settled.cage.design.cloth is not None,
        wished=wish_reports(settled.cage.design.hem, hoops[-1]),
    )
    return replace(report, warnings=warnings_of(Case(report, settled)))


def weights(settled: SettledCage) -> tuple[float, float]:
    """(cage, skirt) in kg, as far as they hang on the waistband.

    The upper half of the topmost tapes, or of the cloth there, is borne by the waistband itself and stands in no
    node's weight.
    """
    numbers, joined = settled.cage.parameters, settled.cage.connectivity
    on_band = np.isin(joined.pulls[: joined.segment_count, 0], joined.on_band)
    topmost = numbers.pull_length[: joined.segment_count][on_band].sum()
    topmost = topmost * tape_mass_per_length(settled.cage.design) / 2.0
    if settled.cage.design.cloth is not None:
        topmost = mass_on_band(settled.cage.design)
    skirt = numbers.skirt_weight.sum() + numbers.cloth_weight.sum()
    return float(numbers.own_weight.sum() / GRAVITY + topmost), float(skirt / GRAVITY)


def hem(settled: SettledCage, lowest: Sequence[HoopReport]) -> HemReport:
    """Of the hoops that make the hem."""
    if len(lowest) == 1:
        return HemReport(lowest[0].lowest_m, lowest[0].highest_m, lowest[0].widest_m)
    points = np.vstack([hoop_curve(settled, hoop.number - 1).points for hoop in lowest])
    widest = float(widths_in_plan(points).max())
    return HemReport(float(points[:, 2].min()), float(points[:, 2].max()), widest)
