"""The skirt's surface: from the waistband over the hoops to the hem."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import pairwise

import numpy as np

from cage3d.design import trade
from cage3d.design.rules.openings import is_half
from cage3d.mesh.cover_beside import hoops_at_one_level, taut_round
from cage3d.mesh.extras import lengths
from cage3d.mesh.loft import band
from cage3d.mesh.part import Part
from cage3d.mesh.slid import slid_rings
from cage3d.mesh.strip_line import StripLine
from cage3d.mesh.tapes import OVER_WEARER
from cage3d.mesh.waistband import outward
from cage3d.mesh.wearer import drawn_form, rings_over
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage
from cage3d.shape.waist import waist_ring

ROUND = 96  # points on each ring
STEPS = 4  # rings from one hoop to the next
RING_PARTS = 4  # of a hoop's edge, on which its places at shares of the girth are found
GAP = 0.002  # m between cloth and what it lies on; drawn only
GATHERED_STEP = 0.0005  # m from ring to ring of a skirt held up at the waist or where hoops meet; drawn only
OFF_FLOOR = 0.003  # m, the lowest a hem is drawn


def skirt_part(settled: SettledCage, lines: Sequence[StripLine]) -> Part | None:
    """The skirt over the hoops, an open surface; None where no skirt is written.

    One that lies goes over every hoop, and below a hoop that is wider than the next one straight down past it; one
    that slides as `slid.py` has it. Of several the outermost is seen.
    """
    design = settled.cage.design
    if not design.skirts:
        return None
    below_hem = max(skirt.below_hem for skirt in design.skirts)
    fractions = np.arange(ROUND) / ROUND
    waist = waist_ring(design, fractions, 0.0) + (2.0 * trade.BELTING_THICKNESS + GAP) * outward(
        design, fractions
    )
    half = np.array([0.0, 0.0, design.waistband.drawn_depth / 2.0])
    steels = settled.cage.steels
    levels = hoops_at_one_level(design)
    on_steel = [ring_on(settled, lines, hoops, fractions) for hoops in levels]
    thick = [steel.section.covered[0] / 2.0 + 2.0 * trade.RIBBON_THICKNESS + GAP for steel in steels]
    rings = [
        moved_out(ring, max(thick[h] for h in hoops)) for ring, hoops in zip(on_steel, levels, strict=True)
    ]
    if design.skirts[-1].slides:
        rings = slid_rings(design, fractions, on_steel, [waist - half, *rings])
    else:
        rings.append(rings[-1] - np.array([0.0, 0.0, below_hem + steels[-1].section.along / 2.0]))
    hem = rings[-1]
    hem[:, 2] = np.maximum(hem[:, 2], OFF_FLOOR)
    rings = [waist + half, waist - half, *rings]
    surface = never_upward(np.stack(rings if design.skirts[-1].slides else never_inward(rings)))
    cloth = between(surface) if put_on(settled.cage) else gathered(rings[1], (len(surface) - 1) * STEPS + 1)
    cloth = rings_over(drawn_form(settled), cloth, OVER_WEARER + 2.0 * GAP, OVER_WEARER + GAP)
    low, high = float(hem[:, 2].min()), float(hem[:, 2].max())
    told = partial(lengths, design.units, below_lowest_hoop=below_hem, hem_lowest=low, hem_highest=high)
    return Part("skirt", "skirt", band(cloth), "skirt", 0, told)


def ring_on(
    settled: SettledCage, lines: Sequence[StripLine], hoops: Sequence[int], fractions: Floats
) -> Floats:
    """(n, 3) m on the steel of hoops at one level, and straight from one to the other, at shares of the girth."""
    design, first = settled.cage.design, hoops[0]
    if design.hoops[first].beside is not None:
        return taut_round(settled, [lines[hoop] for hoop in hoops], fractions)
    return (
        round_her(settled, lines[first], fractions)
        if is_half(design, first)
        else hoop_ring(lines[first], fractions)
    )


def put_on(cage: Cage) -> bool:
    """Whether the skirt hangs on the cage; in a stage before that (mesh.dressing) it weighs nothing yet."""
    weightless = all(skirt.weight == 0.0 or skirt.on_cage == 0.0 for skirt in cage.design.skirts)
    return weightless or cage.parameters.skirt_hangs


def gathered(waist: Floats, count: int) -> Floats:
    """The skirt held up round the waist before it is let down: `count` rings close below one another."""
    steps = np.arange(count)
    return np.stack(
        [moved_out(waist, GATHERED_STEP * step) - [0.0, 0.0, GATHERED_STEP * step] for step in steps]
    )


def hoop_ring(line: StripLine, fractions: Floats) -> Floats:
    """(n, 3) m on a hoop at shares of the girth; the cloth spans an opening straight from end to end."""
    places = np.unique(np.linspace(line.along[:-1], line.along[1:], RING_PARTS + 1))
    share = np.interp(places, line.along, line.fractions)
    points = line.at(places)
    return np.column_stack([np.interp(fractions, share, column, period=1.0) for column in points.T])


def round_her(settled: SettledCage, line: StripLine, fractions: Floats) -> Floats:
    """(n, 3) m on a hoop that stands before or behind her; across its opening the cloth goes round her form."""
    ring, form = hoop_ring(line, fractions), drawn_form(settled)
    first, last = float(line.fractions[0]), float(line.fractions[-1])
    opening = (first - last) % 1.0
    ahead = (fractions - last) % 1.0
    free = ahead < opening
    if form is None or not free.any():
        return ring
    start, end = line.at(np.array([line.along[-1], 0.0]))
    turns = np.arctan2([start[0], end[0]], [-start[1], -end[1]])
    share = ahead[free] / opening
    angles = turns[0] + share * ((turns[1] - turns[0]) % (2.0 * np.pi))
    heights = start[2] + share * (end[2] - start[2])
    rays = np.column_stack([np.sin(angles), -np.cos(angles), heights])
    reach = 1.0 / form.fullness(rays)
    ring[free] = np.column_stack([rays[:, :2] * reach[:, None], heights])
    return ring


def moved_out(ring: Floats, out: float) -> Floats:
    """A ring moved level away from the waist's axis by `out` (m)."""
    level = ring[:, :2]
    size = np.linalg.norm(level, axis=1)[:, None]
    return np.column_stack([level * (1.0 + out / size), ring[:, 2]])


def never_inward(rings: Sequence[Floats]) -> list[Floats]:
    """Rings from the top, each no nearer to the waist's axis than the one above it at the same share."""
    result = [rings[0]]
    for ring in rings[1:]:
        above = np.linalg.norm(result[-1][:, :2], axis=1)
        own = np.linalg.norm(ring[:, :2], axis=1)
        level = ring[:, :2] * (np.maximum(own, above) / own)[:, None]
        result.append(np.column_stack([level, ring[:, 2]]))
    return result


def never_upward(rings: Floats) -> Floats:
    """Rings (r, n, 3) m from the top, each a hair lower than the one above it; where hoops meet, they cross."""
    result = rings.copy()
    for above, ring in pairwise(result):
        ring[:, 2] = np.minimum(ring[:, 2], above[:, 2] - GATHERED_STEP)
    return result


def between(rings: Floats) -> Floats:
    """More rings (r, n, 3) on the straight lines between the given ones, for even shading."""
    share = np.arange(STEPS)[None, :, None, None] / STEPS
    inner = rings[:-1, None] + share * np.diff(rings, axis=0)[:, None]
    return np.concatenate([inner.reshape(-1, *rings.shape[1:]), rings[-1:]])
