"""How a ribbon of given length runs: straight when taut, in an arc of its own length when slack."""

from __future__ import annotations

import numpy as np

from cage3d.mesh.vectors import cross, dot, size
from cage3d.shape.arrays import Floats
from cage3d.steady import first_least

BISECTIONS = 60  # halves pi down to the last bit
TAUT = 5e-5  # m; tapes are settled to this, and less slack than this is none
NO_WAY = 1e-9  # m; a bulge's direction that is told by less is lost


def ribbon_run(first: Floats, second: Floats, length: float, aside: Floats, parts: int) -> Floats:
    """(parts + 1, 3) m from `first` to `second`, evenly along the ribbon.

    length: m of ribbon; where it is longer than the span it bulges towards `aside` (3,) as an arc
    of a circle, the nearest simple shape to a short slack ribbon. Where it is shorter (within what
    the solver allows) it is drawn straight.
    """
    return np.asarray(ribbon_runs(first[None], second[None], np.array([length]), aside[None], parts)[0])


def ribbon_runs(first: Floats, second: Floats, lengths: Floats, aside: Floats, parts: int) -> Floats:
    """(b, parts + 1, 3) m, as `ribbon_run`, of b ribbons; first, second, aside: (b, 3), lengths: (b,)."""
    share = np.arange(parts + 1)[:, None] / parts
    runs = first[:, None] + share * (second - first)[:, None]
    reach = size(second - first)
    slack = (lengths > reach + TAUT) & (reach > 0.0)
    if slack.any():
        runs[slack] = arcs(first[slack], second[slack], lengths[slack], aside[slack], share)
    return np.asarray(runs)


def arcs(first: Floats, second: Floats, lengths: Floats, aside: Floats, share: Floats) -> Floats:
    """(b, k, 3) m on arcs of these lengths, at shares (k, 1) of each."""
    span = second - first
    reach = size(span)
    along = span / reach[:, None]
    out = aside - dot(aside, along)[:, None] * along
    for lost in np.flatnonzero(size(out) < NO_WAY):
        out[lost] = cross(along[lost], np.eye(3)[first_least(np.abs(along[lost]))])
    out /= size(out)[:, None]
    half = half_angle(reach / lengths)[:, None, None]
    radius = lengths[:, None, None] / (2.0 * half)
    turn = half * (2.0 * share - 1.0)
    middle = (first + second)[:, None] / 2.0
    return np.asarray(
        middle + radius * (np.sin(turn) * along[:, None] + (np.cos(turn) - np.cos(half)) * out[:, None])
    )


def half_angle(chord_per_arc: Floats) -> Floats:
    """rad, half the angle of arcs whose chords are these shares of their lengths: sin(x) / x = share."""
    low, high = np.zeros_like(chord_per_arc), np.full_like(chord_per_arc, np.pi)
    for _ in range(BISECTIONS):
        middle = (low + high) / 2.0
        wider = np.sin(middle) > chord_per_arc * middle
        low, high = np.where(wider, middle, low), np.where(wider, high, middle)
    return np.maximum((low + high) / 2.0, 1e-6)
