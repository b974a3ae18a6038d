"""From the written design to the laid out cage: level circles at their marks, connected and weighed."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cage3d.design.models import Design
from cage3d.design.points import station_fractions
from cage3d.design.routes import BAND, NOWHERE, above_table
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Cage
from cage3d.shape.cloth_lines import cloths_of
from cage3d.shape.cloth_pulls import fixed_places
from cage3d.shape.form import build_form
from cage3d.shape.joining import connect
from cage3d.shape.lines import HoopLine, default_resolution, hoop_lines
from cage3d.shape.marks import casing_marks, drops_of
from cage3d.shape.parameters import numbers_of
from cage3d.shape.steels import steels_of
from cage3d.shape.waist import waist_ring


def lay_out(design: Design, nodes_per_hoop: int | None = None) -> Cage:
    """The cage of a design as level circles; `settle` finds how it hangs.

    nodes_per_hoop: about how many round a hoop, else `lines.default_resolution`; every stretch between two tapes
    gets the same number or more. Error falls with its square.
    """
    lines, steels = hoop_lines(design, nodes_per_hoop), steels_of(design)
    zeros = waist_ring(design, fixed_places(design), design.waistband.depth / 2.0)
    joined = connect(design, lines)
    levels = first_levels(design, lines, zeros)
    circles = [line.on_circle(level) for line, level in zip(lines, levels, strict=True)]
    tapes = zeros[: joined.tape_count][joined.anchors >= 0]
    positions = np.vstack([*circles, tapes, zeros[joined.tape_count :]])
    return Cage(
        design=design,
        connectivity=joined,
        parameters=numbers_of(design, lines, joined, steels),
        positions=positions,
        normals=np.vstack([line.edge_normals() for line in lines]),
        form=build_form(design.wearer, design.padding),
        stations=station_fractions(design.tapes),
        steels=steels,
        marks=casing_marks(design, steels),
        nodes_per_hoop=nodes_per_hoop or default_resolution(design),
        cloths=tuple(cloth.laid_over(positions) for cloth, _, _ in cloths_of(design, lines, joined)),
    )


def first_levels(design: Design, lines: Sequence[HoopLine], zeros: Floats) -> Floats:
    """(H,) m above the floor: as if circles hung level on tapes of the mean drop."""
    drops, above = drops_of(design), above_table(design)
    radii = [
        *(line.girth / (2.0 * np.pi) for line in lines),
        float(np.hypot(zeros[:, 0], zeros[:, 1]).mean()),
    ]
    levels = np.append(np.zeros(len(lines)), float(zeros[:, 2].mean()))  # that of BAND is the last
    for hoop in range(len(lines)):
        own = np.flatnonzero(above[:, hoop] != NOWHERE)
        found = []
        for source in np.unique(above[own, hoop]):
            tapes = np.flatnonzero(above[:, hoop] == source)
            drop = drops[tapes].mean(axis=0)[hoop]
            step = radii[hoop] - radii[source]
            if source == BAND and design.hoops[hoop].beside is not None:
                step = steps_beside(lines[hoop], zeros, tapes)
            found.append(levels[source] - max(drop**2 - step**2, (0.1 * drop) ** 2) ** 0.5)
        levels[hoop] = np.mean(found)
    return np.asarray(levels[:-1])


def steps_beside(line: HoopLine, zeros: Floats, tapes: Ints) -> float:
    """m, in the mean, from the waistband level to the first circle of a hoop beside her, along its tapes."""
    places = line.on_circle(0.0)[line.crossing[tapes], :2]
    return float(np.linalg.norm(places - zeros[tapes, :2], axis=1).mean())
