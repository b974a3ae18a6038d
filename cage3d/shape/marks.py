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
from cage3d.shape.arrays import Floats
from cage3d.shape.steels import HoopSteel


@dataclass(frozen=True)
class CasingMarks:
    """m along each tape from the waistband's lower edge; one row a tape, one column a hoop."""

    upper: Floats  # (T, H) the casing's upper line of stitches
    steel: Floats  # (T, H) the steel's centre line at rest
    lower: Floats  # (T, H) the casing's lower line of stitches


def drops_of(design: Design) -> Floats:
    """(T, H) m, tape between two steels at rest."""
    return np.array(design.tapes.drops, dtype=np.float64)


def casing_marks(design: Design, steels: Sequence[HoopSteel]) -> CasingMarks:
    """The marks of every casing on every tape, cumulative from the waistband's lower edge."""
    steel = np.cumsum(drops_of(design), axis=1)
    filled = np.array([own.section.along for own in steels])
    lower = steel + filled / 2.0 + rest_heights(design, filled)
    return CasingMarks(lower - design.tapes.casing, steel, lower)


def rest_heights(design: Design, filled: Floats) -> Floats:
    """(T, H) m from the casing's lower line up to the steel's lower edge; filled: (H,) m of casing it fills."""
    tapes, hoops = design.tapes.count, len(design.hoops)
    heights = np.empty((tapes, hoops))
    for hoop in range(hoops):
        written = design.hoops[hoop].rest
        own = design.tapes.rest if written is None else written
        each = own if isinstance(own, tuple) else (own,) * tapes
        room = design.tapes.casing - float(filled[hoop])
        named = {"bottom": 0.0, "middle": room / 2.0, "top": room}
        heights[:, hoop] = [named[rest] if isinstance(rest, str) else rest for rest in each]
    return heights
