"""What hangs hoops higher or lower on another wearer: first drops of tapes, or the cloth above the first casing.

Cloth that is longer there is so from the waistband to every casing below: all levels of a seam change together.
"""

from __future__ import annotations

import numpy as np

from cage3d.design.models import Design
from cage3d.design.routes import drop_table, ways
from cage3d.shape.arrays import Floats, Ints
from cage3d.steady import steady
from cage3d.study.down import Rows, rows_down
from cage3d.study.numbers import numbers_of, row_places, with_numbers

HALF = 0.5  # of a step: a correction that is less changes no mark


def on_band(design: Design) -> list[int]:
    """Tapes (from 0) that begin at the waistband."""
    return [tape for tape, way in enumerate(ways(design)) if way.from_band]


def rows_on_band(design: Design) -> list[int]:
    """Rows of the design (from 0) that begin at the waistband: of tapes some, of cloth all."""
    return on_band(design) if design.cloth is None else list(range(len(rows_down(design))))


def first_drops(design: Design) -> Ints:
    """Places of the first drop or level of every row from the waistband, among the numbers of a design."""
    places = row_places(design)
    return np.array([min(places[row].values()) for row in rows_on_band(design)], dtype=np.intp)


def first_columns(design: Design) -> Floats:
    """(D, rows) how the numbers go with a metre more above the first hoop: a first drop, or all levels of a seam."""
    places, columns = row_places(design), np.zeros((len(numbers_of(design)), len(rows_on_band(design))))
    for column, row in enumerate(rows_on_band(design)):
        own = places[row].values()
        columns[list(own) if design.cloth is not None else min(own), column] = 1.0
    return columns


def lengths_of_rows(design: Design) -> Floats:
    """(n, rows) how the tape or cloth above the first hoop of each line grows with each row's: levels by side share."""
    numbers, before = numbers_of(design), drop_table(design)
    firsts = [way.hoops[0] for way in ways(design) if way.from_band]
    grown = [
        drop_table(with_numbers(design, numbers + column)) - before for column in first_columns(design).T
    ]
    return np.stack([one[on_band(design), firsts] for one in grown], axis=1)


def stretched_rows(design: Design, stretch: float, step: float) -> Rows:
    """m, all drops below the first times `stretch`, put to marks; levels by as much as the cloth between them."""
    rows = rows_down(design)
    if design.cloth is not None:
        return tuple(
            tuple(on_mark(row[0] + stretch * (level - row[0]), level, step) for level in row) for row in rows
        )
    return tuple(
        (*row[:first], *(on_mark(drop * stretch, drop, step) for drop in row[first:]))
        for row, first in zip(rows, (int(way.from_band) for way in ways(design)), strict=True)
    )


def to_marks(design: Design, numbers: Floats, step: float) -> Floats:
    """(D,) m, the design's numbers with first drops (D,) m put to the nearest mark, or cloth above the first casing.

    What is within half a step of what it was stays so; levels below keep their distance from the first.
    """
    own, places = numbers_of(design), first_drops(design)
    marks = np.array([on_mark(float(numbers[place]), float(own[place]), step) for place in places])
    return np.asarray(own + first_columns(design) @ (marks - own[places]))


def on_mark(number: float, own: float, step: float) -> float:
    return own if abs(number - own) < HALF * step else steady(number / step, 0) * step
