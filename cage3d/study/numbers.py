"""The numbers of a design that a maker cuts, marks and laces by, under the names she would say."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

import numpy as np

from cage3d.design.models import Design, Panel
from cage3d.design.routes import drops_in_play
from cage3d.shape.arrays import Floats

# A number may not leave these shares of what it was: beyond, it is another design, and its first circles may cross.
LEAST_SHARE, MOST_SHARE = 0.5, 2.0
NOTHING = 1e-6  # m: up to which a drop of nothing, where hoops meet, may seem to go
LOOSEST, TIGHTEST = 0.0, 0.6  # of a panel: the share that lacing takes off its width


def number_names(design: Design) -> tuple[str, ...]:
    """Hoop lengths from the top, drops tape by tape, ties and panels in their order.

    'hoop 4 length', 'tape 1 drop 2', 'tie 1 length', 'panel 1 width at hoop 2', 'panel 1 tightness'.
    """
    hoops, drops = range(1, len(design.hoops) + 1), design.tapes.drops
    return (
        *(f"hoop {hoop} length" for hoop in hoops),
        *(f"tape {tape} drop {drop}" for tape, row in enumerate(drops, 1) for drop in range(1, len(row) + 1)),
        *(f"tie {tie} length" for tie in range(1, len(design.ties) + 1)),
        *(
            f"panel {number} {word}"
            for number, panel in enumerate(design.panels, 1)
            for word in (
                ["tightness"] if panel.widths is None else [f"width at hoop {at}" for at in panel.hoops]
            )
        ),
    )


def is_share(name: str) -> bool:
    """Whether a number is a share and no length."""
    return name.endswith("tightness")


def numbers_of(design: Design) -> Floats:
    """(D,) m, a panel's tightness as a share, in the order of `number_names`."""
    return np.array(
        [
            *(hoop.length for hoop in design.hoops),
            *(drop for row in design.tapes.drops for drop in row),
            *(tie.length for tie in design.ties),
            *(number for panel in design.panels for number in numbers_of_panel(panel)),
        ]
    )


def row_starts(design: Design) -> list[int]:
    """(T + 1,) the place of each tape's first drop among the numbers, and where they end."""
    return list(accumulate(map(len, design.tapes.drops), initial=len(design.hoops)))


def drop_places(design: Design) -> list[dict[int, int]]:
    """T x the places among the numbers of those of a tape's drops (by number, from 0) that can change how it hangs."""
    starts, played = row_starts(design), drops_in_play(design)
    return [{drop: start + drop for drop in own} for start, own in zip(starts, played, strict=False)]


def numbers_of_panel(panel: Panel) -> tuple[float, ...]:
    """Its widths (m) from the top, or its tightness (share)."""
    return panel.widths if panel.widths is not None else (panel.tightness or 0.0,)


def with_numbers(design: Design, numbers: Sequence[float] | Floats) -> Design:
    """The design with other numbers (D,) m; the rules are not asked. Where hoops meet, a drop stays nothing."""
    values = [float(number) for number in numbers]
    hoops, starts = len(design.hoops), row_starts(design)
    ties_from = starts[-1]
    panels_from = ties_from + len(design.ties)
    drops = tuple(
        tuple(value if was else 0.0 for value, was in zip(values[start:], row, strict=False))
        for start, row in zip(starts, design.tapes.drops, strict=False)
    )
    return design.model_copy(
        update={
            "hoops": tuple(
                hoop.model_copy(update={"length": length})
                for hoop, length in zip(design.hoops, values[:hoops], strict=True)
            ),
            "tapes": design.tapes.model_copy(update={"drops": drops}),
            "ties": tuple(
                tie.model_copy(update={"length": length})
                for tie, length in zip(design.ties, values[ties_from:panels_from], strict=True)
            ),
            "panels": with_panels(design.panels, values[panels_from:]),
        }
    )


def with_panels(panels: Sequence[Panel], numbers: Sequence[float]) -> tuple[Panel, ...]:
    """The panels with other widths (m) or tightnesses (shares)."""
    left, found = list(numbers), []
    for panel in panels:
        own, left = left[: len(numbers_of_panel(panel))], left[len(numbers_of_panel(panel)) :]
        told = {"tightness": own[0]} if panel.widths is None else {"widths": tuple(own)}
        found.append(panel.model_copy(update=told))
    return tuple(found)


def bounds_of(design: Design) -> tuple[Floats, Floats]:
    """(least, most) (D,) m, between which the numbers may be sought."""
    numbers = numbers_of(design)
    shares = np.array([is_share(name) for name in number_names(design)])
    most = np.where(shares, np.maximum(numbers, TIGHTEST), MOST_SHARE * numbers)
    return np.where(shares, LOOSEST, LEAST_SHARE * numbers), np.where(numbers > 0.0, most, NOTHING)
