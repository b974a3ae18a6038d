"""Ties of a flat model: bars across the ring of the hoop that they tie, in one piece with it; mm."""

from __future__ import annotations

from manifold3d import CrossSection

from cage3d.miniature.flat.pack import turn
from cage3d.miniature.flat.plan import FlatPlan
from cage3d.miniature.flat.stand import tab, widest_beside
from cage3d.miniature.lines import TieLine


def tie_bars(plan: FlatPlan, with_stand: bool) -> tuple[dict[int, list[CrossSection]], tuple[TieLine, ...]]:
    """The bars of every hoop's ties, by the hoop from 0; and the ties that cannot lie flat.

    Left out are ties from one hoop to another, and those that would run through an upright of the stand.
    """
    bars: dict[int, list[CrossSection]] = {}
    left_out = []
    x, half = tab(plan) if with_stand else (0.0, 0.0)
    for tie in plan.lines.ties:
        bar = plan.bar(tie)
        if tie.hoop is None or bar is None or (with_stand and half > widest_beside(plan, tie.hoop, bar, x)):
            left_out.append(tie)
        else:
            bars.setdefault(tie.hoop, []).append(bar)
    return bars, tuple(left_out)


def without_slits(band: CrossSection, opening: float) -> CrossSection:
    """A hoop with its ties, what would not stay open in it filled: a lace of a small hoop lies close to its steel."""
    return CrossSection([
        polygon for polygon in band.to_polygons()
        if turn(polygon) > 0.0 or not CrossSection([polygon[::-1]]).offset(-opening / 2.0).is_empty()
    ])  # fmt: skip


def openings(outline: CrossSection) -> int:
    """How many openings a hoop with its ties has."""
    return int(outline.num_contour()) - 1
