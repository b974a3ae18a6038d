"""How a ribbon of given length runs: straight when taut, in an arc of its own length when slack."""

from __future__ import annotations

import numpy as np

from cage3d.shape.arrays import Floats
from cage3d.steady import first_least

BISECTIONS = 60  # halves pi down to the last bit
TAUT = 5e-5  # m; tapes are settled to this, and less slack than this is none


def ribbon_run(first: Floats, second: Floats, length: float, aside: Floats, parts: int) -> Floats:
    """(parts + 1, 3) m from `first` to `second`, evenly along the ribbon.

    length: m of ribbon; where it is longer than the span it bulges towards `aside` (3,) as an arc
    of a circle, the nearest simple shape to a short slack ribbon. Where it is shorter (within what
    the solver allows) it is drawn straight.
    """
    span = second - first
    reach = float(np.linalg.norm(span))
    share = np.arange(parts + 1)[:, None] / parts
    straight = first + share * span
    if length <= reach + TAUT or reach == 0.0:
        return np.asarray(straight)
    along = span / reach
    out = aside - (aside @ along) * along
    size = float(np.linalg.norm(out))
    if size < 1e-9:
        out = np.cross(along, np.eye(3)[first_least(np.abs(along))])
        size = float(np.linalg.norm(out))
    half = half_angle(reach / length)
    radius = length / (2.0 * half)
    turn = half * (2.0 * share - 1.0)
    middle = (first + second) / 2.0
    level = np.cos(half)
    return np.asarray(middle + radius * (np.sin(turn) * along + (np.cos(turn) - level) * out / size))


def half_angle(chord_per_arc: float) -> float:
    """rad, half the angle of the arc whose chord is this share of its length: sin(x) / x = share."""
    low, high = 0.0, np.pi
    for _ in range(BISECTIONS):
        middle = (low + high) / 2.0
        if np.sin(middle) > chord_per_arc * middle:
            low = middle
        else:
            high = middle
    return max((low + high) / 2.0, 1e-6)
