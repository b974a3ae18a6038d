"""Figures, choices and orders that rounding noise cannot turn.

The last bits of a settled cage differ from processor to processor (positions by 1e-15 to 1e-9 m,
forces by 1e-10 to 1e-8 N), and a cage made alike to her left and right has many pairs that only
these bits tell apart. So nothing that is printed, drawn or written is decided by them: what lies
nearer together than NOISE counts as equal, and of equals the first is taken.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

NOISE = 1e-7  # of the largest that is compared, and of one: m, N and shares are of that order
SPARE = 5  # decimals beyond the last one shown, that a figure on the edge is rounded to first


def steady(value: float, digits: int) -> float:
    """Rounded to `digits` decimals, never -0; a value on the edge within 1e-5 of a step counts as on it."""
    return round(round(value, digits + SPARE), digits) + 0.0


def all_steady(values: Floats, digits: int) -> Floats:
    """Each as by `steady`, of any shape; what stands on the edge of a step goes to the even one."""
    return np.asarray(np.round(np.round(values, digits + SPARE), digits) + 0.0)


def fixed(value: float, digits: int) -> str:
    """'0.9': to so many decimals; see `steady`."""
    return f"{steady(value, digits):.{digits}f}"


def percent(share: float) -> str:
    """'28%'."""
    return f"{fixed(100.0 * share, 0)}%"


def first_largest(values: Sequence[float] | Floats, noise: float = NOISE) -> int:
    """The place of the first value that is the largest but for noise; nan is never it.

    values: (n,) and not empty; noise: share of the largest, or of one.
    """
    known = np.nan_to_num(np.asarray(values, dtype=np.float64), nan=-np.inf)
    most = float(known.max())
    return int(np.flatnonzero(known >= most - play(most, noise))[0])


def first_least(values: Sequence[float] | Floats, noise: float = NOISE) -> int:
    """The place of the first value that is the least but for noise."""
    return first_largest(-np.asarray(values, dtype=np.float64), noise)


def rising(values: Sequence[float] | Floats, noise: float = NOISE) -> list[int]:
    """Places from the least value to the largest; values that are equal but for noise stay in order."""
    known = np.asarray(values, dtype=np.float64)
    out: list[int] = []
    group: list[int] = []
    for place in np.argsort(known, kind="stable").tolist():
        if group and known[place] > known[group[0]] + play(float(known[group[0]]), noise):
            out += sorted(group)
            group = []
        group.append(place)
    return out + sorted(group)


def falling(values: Sequence[float] | Floats, noise: float = NOISE) -> list[int]:
    """Places from the largest value to the least; values that are equal but for noise stay in order."""
    return rising(-np.asarray(values, dtype=np.float64), noise)


def exceeds(value: float, limit: float) -> bool:
    """Whether a value lies above a limit by more than noise."""
    return value > limit + play(limit)


def play(size: float, noise: float = NOISE) -> float:
    """What counts as equal beside a value of this size."""
    return noise * max(abs(size), 1.0) if np.isfinite(size) else 0.0


def without_noise(points: Floats) -> Floats:
    """The same points or directions to seven decimals, a nought without its sign."""
    return np.asarray(np.round(points, 7) + 0.0)
