"""Where each casing is stitched on each tape, and where the steel comes to rest in it.

A drop is the tape between two steels at rest, so the rest moves the stitched marks and not
the drop: the casing's lower line lies under the steel by half its width and by the height at
which it rests.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cage3d.design.models import Design
from cage3d.design.routes import depth_table, drop_table, is_plain, passing, tapes_on
from cage3d.shape.arrays import Floats
from cage3d.shape.steels import HoopSteel


@dataclass(frozen=True)
class CasingMarks:
    """m along each tape from where it begins, the waistband's lower edge or the steel of a hoop.

    One row a tape, one column a hoop; nan where a tape does not pass.
    """

    upper: Floats  # (T, H) the casing's upper line of stitches
    steel: Floats  # (T, H) the steel's centre line at rest
    lower: Floats  # (T, H) the casing's lower line of stitches


def drops_of(design: Design) -> Floats:
    """(T, H) m, tape between two steels at rest; nan where no tape comes to a hoop."""
    return drop_table(design)


def mean_drops(design: Design) -> Floats:
    """(H,) m by which the tapes lie lower at each hoop than at the one before, in the mean of its tapes."""
    if is_plain(design):
        return np.asarray(drops_of(design).mean(axis=0))
    return np.diff(np.nanmean(depth_table(design), axis=0), prepend=0.0)


def casing_marks(design: Design, steels: Sequence[HoopSteel]) -> CasingMarks:
    """The marks of every casing on every tape, cumulative from where it begins."""
    steel = np.where(passing(design).T, np.nancumsum(drops_of(design), axis=1), np.nan)
    filled = np.array([own.section.along for own in steels])
    lower = steel + filled / 2.0 + rest_heights(design, filled)
    return CasingMarks(lower - design.tapes.casing, steel, lower)


def rest_heights(design: Design, filled: Floats) -> Floats:
    """(T, H) m from the casing's lower line up to the steel's lower edge; filled: (H,) m of casing it fills."""
    tapes, hoops = design.tapes.count, len(design.hoops)
    heights = np.full((tapes, hoops), np.nan)
    for hoop in range(hoops):
        written, passed = design.hoops[hoop].rest, tapes_on(design, hoop)
        own = design.tapes.rest if written is None else written
        each = own if isinstance(own, tuple) else (own,) * len(passed)
        room = design.tapes.casing - float(filled[hoop])
        named = {"bottom": 0.0, "middle": room / 2.0, "top": room}
        heights[passed, hoop] = [named[rest] if isinstance(rest, str) else rest for rest in each]
    return heights
