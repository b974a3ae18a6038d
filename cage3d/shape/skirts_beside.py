"""Skirts over hoops that stand beside her: half of each hangs at either side, and none on what is next to her."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cage3d.design.baskets import HALVES
from cage3d.design.models import Design, Skirt
from cage3d.shape.arrays import Floats
from cage3d.shape.beside import outer_half
from cage3d.shape.lines import HoopLine
from cage3d.shape.skirts import heaped, hoop_masses, shares_of_cells
from cage3d.shape.weights import GRAVITY, shares_at_nodes


def weights_beside(design: Design, skirt: Skirt, lines: Sequence[HoopLine], drops: Floats) -> list[Floats]:
    """H x (n,) N of one skirt on the nodes of every hoop. drops: (H,) m, mean drop from the hoop before in the list.

    Each half goes over the basket at its side, and over hoops that go round her, by the usual shares of its own area:
    round a basket it lies on the outer steel and runs straight on to the middle of her.
    """
    depths, masses = np.cumsum(drops), np.zeros(len(lines))
    chains = [chain for side in HALVES if (chain := hoops_under(design, skirt, side))]
    half = skirt.model_copy(
        update={"hoops": None, "weight": None if skirt.weight is None else skirt.weight / len(chains)}
    )
    for chain in chains:
        girths = np.array([half_girth(design, hoop, lines[hoop]) for hoop in chain])
        down = np.diff(depths[chain], prepend=0.0)
        masses[chain] += hoop_masses(half, girths, down, design.wearer.waist / 2.0)
    shares = [share_at_nodes(design, skirt, hoop, line) for hoop, line in enumerate(lines)]
    return [mass * GRAVITY * share / share.sum() for mass, share in zip(masses, shares, strict=True)]


def hoops_under(design: Design, skirt: Skirt, side: str) -> list[int]:
    """Those hoops (from 0), from the top, that one half of a skirt hangs from."""
    named = range(len(design.hoops)) if skirt.hoops is None else sorted({hoop - 1 for hoop in skirt.hoops})
    return [hoop for hoop in named if design.hoops[hoop].beside in (side, None)]


def half_girth(design: Design, hoop: int, line: HoopLine) -> float:
    """m that half of a skirt measures round a hoop, from the middle of her front to that of her back."""
    if design.hoops[hoop].beside is None:
        return line.girth / 2.0
    steel = line.girth / 2.0 if line.closed else float(line.arcs.sum())
    return steel + 2.0 * abs(line.centre)


def share_at_nodes(design: Design, skirt: Skirt, hoop: int, line: HoopLine) -> Floats:
    """(n,) how a skirt lies on the nodes of one hoop, of any sum above 0."""
    heaps, written = heaped(skirt, np.zeros(0)), design.hoops[hoop]
    if written.beside is not None and line.closed:
        heaps = within(outer_half(written), heaps)
    share = shares_at_nodes(line) if heaps is None else shares_of_cells(line, *heaps)
    return share if share.sum() > 0.0 else shares_at_nodes(line)


def within(part: tuple[Floats, Floats], heaps: tuple[Floats, Floats] | None) -> tuple[Floats, Floats]:
    """(places, weights) of a heap where `part` (places, 1 or 0) lets it lie; an even one where there is none."""
    if heaps is None:
        return part
    places = np.union1d(part[0], heaps[0])
    lie = np.diff(np.interp(places, heaps[0], np.concatenate([[0.0], np.cumsum(heaps[1])])))
    middles = (places[:-1] + places[1:]) / 2.0
    return places, lie * part[1][np.searchsorted(part[0], middles) - 1]
