"""The numbers of a design that a maker cuts and marks by, under the names she would say."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cage3d.design.models import Design
from cage3d.shape.arrays import Floats

# A number may not leave these shares of what it was: beyond, it is another design, and its first circles may cross.
LEAST_SHARE, MOST_SHARE = 0.5, 2.0


def number_names(design: Design) -> tuple[str, ...]:
    """Hoop lengths from the top, drops tape by tape, ties in their order: 'hoop 4 length', 'tape 1 drop 2'."""
    hoops, tapes = range(1, len(design.hoops) + 1), range(1, design.tapes.count + 1)
    return (
        *(f"hoop {hoop} length" for hoop in hoops),
        *(f"tape {tape} drop {hoop}" for tape in tapes for hoop in hoops),
        *(f"tie {tie} length" for tie in range(1, len(design.ties) + 1)),
    )


def numbers_of(design: Design) -> Floats:
    """(D,) m, in the order of `number_names`."""
    return np.array(
        [
            *(hoop.length for hoop in design.hoops),
            *(drop for row in design.tapes.drops for drop in row),
            *(tie.length for tie in design.ties),
        ]
    )


def with_numbers(design: Design, numbers: Sequence[float] | Floats) -> Design:
    """The design with other numbers (D,) m; the rules are not asked."""
    values = [float(number) for number in numbers]
    hoops, tapes = len(design.hoops), design.tapes.count
    ties_from = hoops + hoops * tapes
    drops = tuple(tuple(values[hoops + tape * hoops : hoops + (tape + 1) * hoops]) for tape in range(tapes))
    return design.model_copy(
        update={
            "hoops": tuple(
                hoop.model_copy(update={"length": length})
                for hoop, length in zip(design.hoops, values[:hoops], strict=True)
            ),
            "tapes": design.tapes.model_copy(update={"drops": drops}),
            "ties": tuple(
                tie.model_copy(update={"length": length})
                for tie, length in zip(design.ties, values[ties_from:], strict=True)
            ),
        }
    )


def bounds_of(design: Design) -> tuple[Floats, Floats]:
    """(least, most) (D,) m, between which the numbers may be sought."""
    numbers = numbers_of(design)
    return LEAST_SHARE * numbers, MOST_SHARE * numbers
