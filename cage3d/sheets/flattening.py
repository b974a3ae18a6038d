"""A gore laid flat: one piece of cloth from the waistband to the lowest casing.

Every line down it is as long as the cloth is to be there, and every casing's line as long as the gore's share of the
cloth round that hoop; between two casings that is a frustum laid open (a ruled strip between two rings). Where one
stretch spreads more than the next the cloth gives a little on the bias, and no length changes.
"""

from __future__ import annotations

import numpy as np

from cage3d.shape.arrays import Floats

STEPS = 32  # across a gore; even, so that its middle is a line


class NotFlatError(ValueError):
    """Lengths that no flat piece has."""


def flat_gore(widths: Floats, lengths: Floats) -> Floats:
    """(R, n, 2) m, x across by her left, y down the middle from the waistband's edge: the lines laid flat.

    widths: (R,) m along the waistband's edge and each casing; lengths: (R - 1, n) m down n lines at even steps across,
    n odd. Raises NotFlatError where no flat piece has these lengths.
    """
    count = lengths.shape[1]
    middle = count // 2
    steps = widths / (count - 1)
    rows = [first_line(float(widths[0]), float(widths[1]), float(lengths[0, middle]), count)]
    for step, down in zip(steps[1:], lengths, strict=True):
        above = rows[-1]
        row = np.empty_like(above)
        row[middle] = above[middle] + [0.0, down[middle]]
        for side in (1, -1):
            for place in range(middle + side, middle + side * (middle + 1), side):
                row[place] = beside(row[place - side], step, above[place], float(down[place]), side)
        rows.append(row)
    return np.stack(rows)


def first_line(top: float, below: float, down: float, count: int) -> Floats:
    """(n, 2) m, the waistband's edge: an arc of the frustum of the first stretch laid open, its middle at nothing."""
    spread = (below - top) / down  # rad, the angle of that sector
    across = np.linspace(-0.5, 0.5, count)
    if abs(spread) < 1e-6:
        return np.column_stack([top * across, np.zeros(count)])
    # The chords of its steps add up to its width.
    chord = top / (count - 1)
    radius = chord / (2.0 * np.sin(spread / (count - 1) / 2.0))
    return np.column_stack([radius * np.sin(spread * across), radius * (np.cos(spread * across) - 1.0)])


def beside(nearer: Floats, step: float, above: Floats, down: float, side: int) -> Floats:
    """(2,) m, the place `step` from its neighbour and `down` from the place above it, on the outer side of both."""
    apart = nearer - above
    distance = float(np.hypot(*apart))
    if distance < 1e-12:
        raise NotFlatError
    along = (distance**2 + down**2 - step**2) / (2.0 * distance)
    across = down**2 - along**2
    if across <= 0.0:
        raise NotFlatError
    unit = apart / distance
    return np.asarray(above + along * unit + np.sqrt(across) * side * np.array([unit[1], -unit[0]]))


def area(outline: Floats) -> float:
    """m2 within a closed outline (k, 2), whichever way round."""
    x, y = outline.T
    return float(abs(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0)
