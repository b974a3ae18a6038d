"""A petticoat's own cloth: its gores from the waistband to the hem, and the casings sewn on it round every hoop."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import numpy as np

from cage3d.design import trade
from cage3d.design.models import Design
from cage3d.mesh.cover import hoop_ring
from cage3d.mesh.extras import Extras
from cage3d.mesh.part import Part
from cage3d.mesh.sheet import sheet
from cage3d.mesh.strip_line import StripLine
from cage3d.mesh.tapes import OVER_WEARER
from cage3d.mesh.wearer import drawn_form, laid_over
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.shape.gores import cloth_girths, gap_of, seam_shares
from cage3d.shape.marks import drops_of
from cage3d.shape.waist import waist_ring

ACROSS = 16  # steps across a gore
DOWN = 6  # rows of cloth from one hoop to the next
THICKNESS = 0.0004  # m of cotton [common practice]; drawn only
CASING_ROWS = 4
OVER_CLOTH = (
    OVER_WEARER + 0.003
)  # m from the wearer's form to the cloth, which is straight between its points


def gore_parts(settled: SettledCage, lines: Sequence[StripLine]) -> list[Part]:
    """Every gore in one piece, from inside the waistband to the turned hem; each is a thin body."""
    seams = settled.cage.stations
    spans = np.diff(np.append(seams, seams[0] + 1.0))
    return [
        gore_part(settled, lines, number, seam + span * np.arange(ACROSS + 1) / ACROSS)
        for number, (seam, span) in enumerate(zip(seams, spans, strict=True), start=1)
    ]


def gore_part(settled: SettledCage, lines: Sequence[StripLine], number: int, places: Floats) -> Part:
    """One gore, from seam to seam at `places` (n,), shares of the girth."""
    design = settled.cage.design
    rows, _ = cloth_rows(settled, lines, places)
    grid = laid_over(drawn_form(settled), rows.reshape(-1, 3), OVER_CLOTH).reshape(rows.shape)
    told = partial(gore_facts, design, number, float(places[-1] - places[0]))
    return Part(f"gore {number}", "cloth", sheet(grid, THICKNESS), "cloth", number, told)


def gore_facts(design: Design, number: int, share: float) -> dict[str, object]:
    """Its widths as cut, without seams; share: of the girth."""
    girths = share * cloth_girths(design)
    measures = Extras(design.units)
    measures.add("width_at_waistband", float(girths[0]))
    for hoop, girth in enumerate(girths[1:], start=1):
        measures.add(f"width_at_hoop_{hoop}", float(girth))
    return measures.with_facts(between_seams=[number, number % design.tapes.count + 1])


def cloth_rows(settled: SettledCage, lines: Sequence[StripLine], places: Floats) -> tuple[Floats, Floats]:
    """((r, n, 3) m, (r, n) m down the cloth) of the cloth as it hangs, at shares of the girth, from the band down."""
    design, marks = settled.cage.design, settled.cage.marks
    fractions = np.mod(places, 1.0)
    into = min(design.tapes.allowance.top, design.waistband.drawn_depth) * 0.8
    edge = waist_ring(design, fractions, design.waistband.depth / 2.0)
    inward = edge[:, :2] / np.linalg.norm(edge[:, :2], axis=1)[:, None]
    # Sewn to the inside of the band, it comes out under its lower edge.
    edge[:, :2] -= (trade.BELTING_THICKNESS + THICKNESS) * 0.6 * inward
    rings = [edge, *(hoop_ring(line, fractions) for line in lines)]
    drops = drops_of(design).T @ seam_shares(design, fractions).T
    rows, along = [edge + np.array([0.0, 0.0, into])], [np.full(len(places), -into)]
    depth = np.zeros(len(places))
    for upper, lower, drop in zip(rings, rings[1:], drops, strict=False):
        for step in range(DOWN):
            share = step / DOWN
            rows.append((1.0 - share) * upper + share * lower)
            along.append(depth + share * drop)
        depth = depth + drop
    below = float((marks.lower[:, -1] - marks.steel[:, -1]).max())
    rows += [rings[-1], rings[-1] - np.array([0.0, 0.0, below])]
    along += [depth, depth + below]
    return np.stack(rows), np.stack(along)


def casing_parts(settled: SettledCage, lines: Sequence[StripLine]) -> list[Part]:
    """The casing of every hoop: a strip on the cloth over the steel, as long as the steel."""
    design, marks = settled.cage.design, settled.cage.marks
    parts = []
    for hoop, line in enumerate(lines):
        ends = line.fractions[[0, -1]]
        places = np.linspace(ends[0], ends[1], 8 * ACROSS + 1)
        rows, along = cloth_rows(settled, lines, places)
        shares = seam_shares(design, np.mod(places, 1.0))
        upper, lower = shares @ marks.upper[:, hoop], shares @ marks.lower[:, hoop]
        levels = upper + (lower - upper) * np.linspace(0.0, 1.0, CASING_ROWS + 1)[:, None]
        grid = np.stack([at_depth(rows, along, level) for level in levels])
        out = settled.cage.steels[hoop].section.covered[0] / 2.0 + 2.0 * THICKNESS
        bulge = out * np.sin(np.linspace(0.0, np.pi, CASING_ROWS + 1))[:, None, None] + THICKNESS
        outward = grid[..., :2] / np.linalg.norm(grid[..., :2], axis=2)[..., None]
        grid[..., :2] += bulge * outward
        grid = laid_over(drawn_form(settled), grid.reshape(-1, 3), OVER_CLOTH).reshape(grid.shape)
        body = sheet(grid, THICKNESS)
        parts.append(
            Part(
                f"casing of hoop {hoop + 1}",
                "casings",
                body,
                "casing",
                hoop + 1,
                partial(casing_facts, design, hoop),
            )
        )
    return parts


def casing_facts(design: Design, hoop: int) -> dict[str, object]:
    """How high and how long one hoop's casing is."""
    measures = Extras(design.units)
    measures.add("height", design.tapes.casing)
    measures.add("length", float(cloth_girths(design)[hoop + 1] - gap_of(design, hoop)))
    return measures.all


def at_depth(rows: Floats, along: Floats, depth: Floats) -> Floats:
    """(n, 3) m of every line down the cloth at its own depth (n,) m."""
    points = np.empty((len(depth), 3))
    for place, level in enumerate(depth):
        for axis in range(3):
            points[place, axis] = np.interp(level, along[:, place], rows[:, place, axis])
    return points
