"""The numbers of a design that a maker cuts, marks and laces by, under the names she would say."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise

import numpy as np

from cage3d.design.models import Design, Panel
from cage3d.design.models.cage import Slide
from cage3d.shape.arrays import Floats
from cage3d.study.down import in_play, row_names, rows_down, steps_down, with_lengths, with_rows

# A number may not leave these shares of what it was: beyond, it is another design, and its first circles may cross.
LEAST_SHARE, MOST_SHARE = 0.5, 2.0
NOTHING = 1e-6  # m: up to which a drop of nothing, where hoops meet, may seem to go
BARELY = 1e-9  # m
LOOSEST, TIGHTEST = 0.0, 0.6  # of a panel: the share that lacing takes off its width


def number_names(design: Design) -> tuple[str, ...]:
    """Hoop lengths from the top, drops tape by tape or levels seam by seam, ties and panels in their order.

    'hoop 4 length', 'tape 1 drop 2', 'seam 1 level 2', 'level 2 at the back', 'tie 1 length',
    'panel 1 width at hoop 2', 'panel 1 tightness'.
    """
    return (
        *(f"hoop {hoop} length" for hoop in range(1, len(design.hoops) + 1)),
        *row_names(design),
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
            *(number for row in rows_down(design) for number in row),
            *(tie.length for tie in design.ties),
            *(number for panel in design.panels for number in numbers_of_panel(panel)),
        ]
    )


def row_starts(design: Design) -> list[int]:
    """(rows + 1,) the place of each row's first drop or level among the numbers, and where they end."""
    return list(accumulate(map(len, rows_down(design)), initial=len(design.hoops)))


def row_places(design: Design) -> list[dict[int, int]]:
    """rows x the places among the numbers of those drops or levels (from 0) that can change how the cage hangs."""
    starts, played = row_starts(design), in_play(design)
    return [{number: start + number for number in own} for start, own in zip(starts, played, strict=False)]


def numbers_of_panel(panel: Panel) -> tuple[float, ...]:
    """Its widths (m) from the top, or its tightness (share)."""
    return panel.widths if panel.widths is not None else (panel.tightness or 0.0,)


def with_numbers(design: Design, numbers: Sequence[float] | Floats) -> Design:
    """The design with other numbers (D,) m; the rules are not asked. Where hoops meet, a drop stays nothing."""
    values = [float(number) for number in numbers]
    starts = row_starts(design)
    ties_from = starts[-1]
    panels_from = ties_from + len(design.ties)
    hung = with_rows(design, [values[start:end] for start, end in pairwise(starts)])
    return with_lengths(hung, values[: len(design.hoops)]).model_copy(
        update={
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
    """(least, most) (D,) m, between which the numbers may be sought: a hoop that slides keeps to its slide."""
    numbers = numbers_of(design)
    shares = np.array([is_share(name) for name in number_names(design)])
    most = np.where(shares, np.maximum(numbers, TIGHTEST), MOST_SHARE * numbers)
    least = np.where(shares, LOOSEST, LEAST_SHARE * numbers)
    most = np.where(numbers > 0.0, most, NOTHING)
    for hoop, ends in slides_of(design).items():
        least[hoop], most[hoop] = ends
    return least, most


def slides_of(design: Design) -> dict[int, Slide]:
    """The ends between which hoops slide, by their places among the numbers."""
    return {number: slide for number, hoop in enumerate(design.hoops) if (slide := hoop.slide) is not None}


def in_bounds(design: Design, numbers: Floats) -> bool:
    """Whether no number (D,) m leaves its bounds, and no casing comes too near to the one above.

    Directions that are each within the bounds may add up.
    """
    least, most = bounds_of(design)
    if np.any(numbers < least - BARELY) or np.any(numbers > most + BARELY):
        return False
    own = steps_down(design)
    return bool(np.all(steps_down(with_numbers(design, numbers)) >= LEAST_SHARE * own - BARELY))
