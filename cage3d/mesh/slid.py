"""A skirt that slides, as the mechanics has it: over those hoops that lie outermost, straight between them, and from
the last one straight down as far as its cloth is long."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from cage3d.design.models import Design
from cage3d.shape.arrays import Floats
from cage3d.shape.cloth import outermost
from cage3d.shape.cloth_lines import lengths_of_lines
from cage3d.shape.waist import waist_ring


def slid_rings(
    design: Design, fractions: Floats, steels: Sequence[Floats], drawn: Sequence[Floats]
) -> list[Floats]:
    """Rings (n, 3) m of the outermost skirt, one at every hoop and its edge, at shares of the girth (n,).

    steels: (n, 3) m on every hoop's centre line, over which its length is measured; drawn: where it is drawn on the
    waistband and just outside of every hoop.
    """
    tops = waist_ring(design, fractions, design.waistband.depth / 2.0)
    lines = np.stack([tops, *steels], axis=1)  # (n, K + 1, 3)
    outside = np.stack(drawn, axis=1)
    lengths = lengths_of_lines(design, design.skirts[-1], fractions)
    ways = np.array(
        [way_over(one, line, length) for one, line, length in zip(outside, lines, lengths, strict=True)]
    )
    return list(ways.transpose(1, 0, 2)[1:])


def way_over(drawn: Floats, line: Floats, length: float) -> Floats:
    """(K + 2, 3) m of one line of cloth: where it is fixed, its place at each of K hoops, its edge.

    drawn and line: (K + 1, 3) m, the places just outside of the steel and on it; length: of the cloth, m.
    """
    out, heights = np.hypot(line[:, 0], line[:, 1]), line[:, 2]
    kept = np.append(0, 1 + np.flatnonzero(outermost(out, heights)))
    way = drawn.copy()
    for above, below in pairwise(kept):
        way[above : below + 1] = straight_past(drawn[above : below + 1])
    last = kept[-1]
    way[last + 1 :, :2] = drawn[last, :2]
    left = length - float(np.linalg.norm(np.diff(line[kept], axis=0), axis=1).sum())
    edge = drawn[last] - [0.0, 0.0, max(left, 0.0)]
    way[last + 1 :, 2] = np.clip(way[last + 1 :, 2], edge[2], drawn[last, 2])
    return np.vstack([way, edge])


def straight_past(points: Floats) -> Floats:
    """(k, 3) m on the straight line from the first of falling points to the last, each as far down as its own."""
    fall = points[0, 2] - points[-1, 2]
    if fall <= 0.0:
        return np.linspace(points[0], points[-1], len(points))
    down = np.maximum.accumulate(np.clip((points[0, 2] - points[:, 2]) / fall, 0.0, 1.0))
    return np.asarray(points[0] + down[:, None] * (points[-1] - points[0]))
