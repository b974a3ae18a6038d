"""How far down each hoop hangs, as it is written: drops of tapes, or levels on the cloth that carries the hoops.

A row is one tape's drops, one seam's levels, or the levels at the front, the sides or the back. A level counts from
the waistband, so that one that changes takes no other hoop along.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from cage3d.design.models import Design, Gores, LevelsBySide
from cage3d.design.points import station_fractions
from cage3d.design.routes import drops_in_play
from cage3d.shape.arrays import Floats

Rows = tuple[tuple[float, ...], ...]
SIDES = {"front": 0.0, "sides": 0.25, "back": 0.5}  # shares of the girth from centre front
ALIKE = 1e-9  # m: rows of levels that differ by less are one list


def sides_of(cloth: Gores | None) -> tuple[str, ...]:
    """Those at which levels are written; none where they are written on the seams, and without cloth."""
    return (
        ()
        if cloth is None
        else tuple(side for side in SIDES if getattr(cloth.levels, side, None) is not None)
    )


def rows_down(design: Design) -> Rows:
    """m, the rows of the design from centre front by her left: of each tape or seam, or of each side."""
    cloth = design.cloth
    if cloth is None:
        return design.tapes.drops
    if sides := sides_of(cloth):
        return tuple(getattr(cloth.levels, side) for side in sides)
    return cloth.levels_at_seams()


def row_names(design: Design) -> tuple[str, ...]:
    """What each number of the rows is called: 'tape 1 drop 2', 'seam 1 level 2', 'level 2 at the back'."""
    cloth, rows = design.cloth, rows_down(design)
    if sides := sides_of(cloth):
        return tuple(
            f"level {number} at the {side}"
            for side, row in zip(sides, rows, strict=True)
            for number in range(1, len(row) + 1)
        )
    of, each = ("tape", "drop") if cloth is None else ("seam", "level")
    return tuple(
        f"{of} {line} {each} {number}"
        for line, row in enumerate(rows, 1)
        for number in range(1, len(row) + 1)
    )


def places_round(design: Design) -> Floats:
    """(rows,) shares of the girth from centre front by her left at which the rows stand."""
    if sides := sides_of(design.cloth):
        return np.array([SIDES[side] for side in sides])
    return station_fractions(design.tapes)


def in_play(design: Design) -> list[list[int]]:
    """rows x the numbers (from 0) of those that can change how the cage hangs."""
    if design.cloth is None:
        return drops_in_play(design)
    return [list(range(len(row))) for row in rows_down(design)]


def with_rows(design: Design, rows: Sequence[Sequence[float]]) -> Design:
    """The design with other rows (m). Where hoops meet, a drop stays nothing; seams follow the levels."""
    cloth = design.cloth
    if cloth is None:
        drops = tuple(
            tuple(value if was else 0.0 for value, was in zip(row, own, strict=True))
            for row, own in zip(rows, design.tapes.drops, strict=True)
        )
        return design.model_copy(update={"tapes": design.tapes.model_copy(update={"drops": drops})})
    found = tuple(tuple(row) for row in rows)
    levels: Rows | LevelsBySide
    if isinstance(cloth.levels, LevelsBySide):
        levels = cloth.levels.model_copy(update=dict(zip(sides_of(cloth), found, strict=True)))
    else:
        alike = len(cloth.levels) == 1 and np.ptp(np.array(found), axis=0).max() < ALIKE
        levels = found[:1] if alike else found
    longer = cloth.model_copy(update={"levels": levels})
    return design.model_copy(update={"cloth": longer, "tapes": longer.seams_as_tapes()})


def with_lengths(design: Design, lengths: Sequence[float]) -> Design:
    """The design with other hoops (m); cloth of written girths keeps its ease over each. The rules are not asked."""
    pairs = zip(design.hoops, lengths, strict=True)
    hoops = tuple(hoop.of_length(length) for hoop, length in pairs)
    cloth = design.cloth
    if cloth is None or cloth.girths is None:
        return design.model_copy(update={"hoops": hoops})
    girths = tuple(
        girth * cloth.circle_of(new) / cloth.circle_of(old) if new.length != old.length else girth
        for girth, old, new in zip(cloth.girths, design.hoops, hoops, strict=True)
    )
    return design.model_copy(update={"hoops": hoops, "cloth": cloth.model_copy(update={"girths": girths})})


def steps_down(design: Design) -> Floats:
    """(n,) m from each number of the rows to the next below: drops themselves, and cloth from level to level."""
    rows = rows_down(design)
    if design.cloth is not None:
        rows = tuple(tuple(below - above for above, below in pairwise((0.0, *row))) for row in rows)
    return np.array([step for row in rows for step in row])
