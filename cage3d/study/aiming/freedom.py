"""What may change while a shape is sought: hoop lengths, and each row of drops or levels by waves round her.

A number for every tape would ask for more than a few heights can tell: the three waves (all round, front against
back, sides against both) hold what a maker means, and keep left and right alike.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from cage3d.design.models import Design
from cage3d.shape.arrays import Floats
from cage3d.study.down import places_round
from cage3d.study.numbers import number_names, row_places

OF_ONE_HOOP = re.compile(r"(?:seam \d+ )?(?:hoop|level) (\d+)\b")  # names of numbers of cloth
NEW = 1e-6  # share of itself by which a direction must differ from those before it, to be another
WAVES: tuple[tuple[str, Callable[[Floats], Floats]], ...] = (
    ("all round", np.ones_like),
    ("back against front", lambda around: -np.cos(2.0 * np.pi * around)),
    ("sides against front and back", lambda around: -np.cos(4.0 * np.pi * around)),
)


@dataclass(frozen=True)
class Freedom:
    """P directions in which the D numbers of a design may go."""

    names: tuple[str, ...]
    directions: Floats  # (D, P) m a metre

    def __len__(self) -> int:
        return len(self.names)

    def of_hoops(self, hoops: Iterable[int]) -> Freedom:
        """Lengths and levels of these hoops (from 1) alone, with all that belongs to no single one."""
        theirs = set(hoops)
        found = [OF_ONE_HOOP.match(name) for name in self.names]
        kept = [place for place, own in enumerate(found) if own is None or int(own[1]) in theirs]
        return Freedom(tuple(self.names[place] for place in kept), self.directions[:, kept])


def freedom_of(
    design: Design, keep: Iterable[str] = (), free: Iterable[str] = (), each_tape: bool = False
) -> Freedom:
    """Lengths and drops, by waves or for each tape; less what is kept; with the ties and panels that are free.

    keep, free: names as `number_names` gives them; a whole 'hoop 2', 'tape 3', 'drop 2', 'seam 3', 'level 2', 'tie 1'
    or 'panel 1' stands for all its numbers. Raises ValueError for a name that is none.
    """
    names = number_names(design)
    kept = {place for name in keep for place in places_named(name, names)}
    own = {place for name in free for place in places_named(name, names)}
    told: list[str] = []
    columns: list[Floats] = []
    for name, column in [*directions_of(design, names, each_tape), *single(own, names)]:
        left = column.copy()
        left[sorted(kept)] = 0.0
        if adds_to(columns, left):
            told.append(name)
            columns.append(left)
    return Freedom(tuple(told), np.stack(columns, axis=1) if columns else np.zeros((len(names), 0)))


def directions_of(design: Design, names: tuple[str, ...], each_tape: bool) -> list[tuple[str, Floats]]:
    """Every direction that is free by itself, by its name."""
    found = single(range(len(design.hoops)), names)
    places = row_places(design)
    if each_tape:
        return found + single((place for own in places for place in own.values()), names)
    around, word = places_round(design), "drop" if design.cloth is None else "level"
    for number in sorted({number for own in places for number in own}):
        rows = [row for row, own in enumerate(places) if number in own]
        for wave, shape in WAVES:
            column = np.zeros(len(names))
            column[[places[row][number] for row in rows]] = shape(around[rows])
            found.append((f"{word} {number + 1} {wave}", column))
    return found


def single(places: Iterable[int], names: tuple[str, ...]) -> list[tuple[str, Floats]]:
    """Numbers that change each for itself."""
    return [(names[place], np.eye(1, len(names), place)[0]) for place in sorted(places)]


def places_named(name: str, names: tuple[str, ...]) -> list[int]:
    """Places of a number, or of all that belong to a hoop, tape or seam, row of drops or levels, or tie."""
    asked = " ".join(name.lower().split())
    found = [place for place, known in enumerate(names) if f" {asked} " in f" {known} "]
    if not found:
        raise ValueError(asked)
    return found


def adds_to(columns: list[Floats], more: Floats) -> bool:
    """Whether a direction is no sum of those before it: on four tapes two waves may be one."""
    size = float(np.linalg.norm(more))
    if size < NEW:
        return False
    if not columns:
        return True
    before = np.stack(columns, axis=1)
    rest = more - before @ np.linalg.lstsq(before, more, rcond=None)[0]
    return float(np.linalg.norm(rest)) > NEW * size
