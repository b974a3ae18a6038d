"""Small changes of a cage's numbers, many at once."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np

from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Parameters


@dataclass(frozen=True)
class ParameterChanges:
    """K small changes side by side: of each of the `Parameters` (n, K) a unit, None where it does not change."""

    edge_length: Floats | None = None
    arc_length: Floats | None = None
    bend_length: Floats | None = None
    easy: Floats | None = None
    stiff: Floats | None = None
    torsion: Floats | None = None
    set_curvature: Floats | None = None
    pull_length: Floats | None = None
    pull_give: Floats | None = None
    own_weight: Floats | None = None
    skirt_weight: Floats | None = None
    cloth_weight: Floats | None = None
    cloth_length: Floats | None = None
    strip_width: Floats | None = None
    stand_off: Floats | None = None

    @property
    def count(self) -> int:
        """How many changes; 0 where nothing changes. Raises ValueError where the fields disagree."""
        counts = {
            change.shape[1] for field in fields(self) if (change := getattr(self, field.name)) is not None
        }
        if len(counts) > 1:
            raise ValueError(f"fields hold different numbers of changes: {sorted(counts)}")
        return counts.pop() if counts else 0

    def added_to(self, numbers: Parameters, amounts: Floats) -> Parameters:
        """The numbers after `amounts` (K,) of every change."""
        grown = {
            field.name: getattr(numbers, field.name) + change @ amounts
            for field in fields(self)
            if (change := getattr(self, field.name)) is not None
        }
        return replace(numbers, **grown)


def difference(after: Parameters, before: Parameters, step: float) -> ParameterChanges:
    """One change: how the numbers grow a unit of what grew by `step` between them."""
    grown = {}
    for field in fields(Parameters):
        change = (getattr(after, field.name) - getattr(before, field.name)) / step
        if np.any(change):
            grown[field.name] = change[:, None]
    return ParameterChanges(**grown)


def side_by_side(changes: list[ParameterChanges]) -> ParameterChanges:
    """Changes of one number each, as one object."""
    together = {}
    for field in fields(ParameterChanges):
        columns = [getattr(change, field.name) for change in changes]
        shape = next((column.shape for column in columns if column is not None), None)
        if shape is not None:
            together[field.name] = np.concatenate(
                [np.zeros((shape[0], change.count)) if column is None else column
                 for change, column in zip(changes, columns, strict=True)], axis=1
            )  # fmt: skip
    return ParameterChanges(**together)
