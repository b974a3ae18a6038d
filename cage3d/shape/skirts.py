"""Skirts: how much of each hangs on every hoop, and where it lies round it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from cage3d.design import stock
from cage3d.design.models import Skirt, SkirtSides
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.lines import HoopLine
from cage3d.shape.weights import GRAVITY, shares_at_nodes

# The quarters about centre front, left, back and right end half way between these.
QUARTERS = np.array([0.0, 0.125, 0.375, 0.625, 0.875, 1.0])


def skirt_weights(
    skirt: Skirt, lines: Sequence[HoopLine], drops: Floats, stations: Floats, waist: float
) -> list[Floats]:
    """H x (n,) N of one skirt on the nodes of every hoop.

    drops: (H,) m, mean drop to each hoop; stations: (T,) of the tapes; waist: m, its girth.
    """
    masses = hoop_masses(skirt, np.array([line.girth for line in lines]), drops, waist)
    heaps = heaped(skirt, stations)
    weights = []
    for line, mass in zip(lines, masses, strict=True):
        share = shares_at_nodes(line) if heaps is None else shares_of_cells(line, *heaps)
        weights.append(mass * GRAVITY * share / share.sum())
    return weights


def hoop_masses(skirt: Skirt, girths: Floats, drops: Floats, waist: float) -> Floats:
    """(H,) kg of a skirt on each hoop, shared by the area of the cloth that hangs on it.

    Of each stretch between two hoops it hangs from, half hangs on either. The band
    carries its half of the first stretch where the skirt is given as a cloth; a weight as
    written hangs on the hoops whole.
    """
    held, depths, widths = cloth_down_the_tapes(skirt, girths, drops, waist)
    areas = (widths[:-1] + widths[1:]) / 2.0 * np.diff(depths, prepend=0.0)
    carried = areas / 2.0 + np.append(areas[1:], 0.0) / 2.0
    carried[-1] += widths[-1] * skirt.below_hem
    masses = np.zeros(len(girths))
    if skirt.weight is not None:
        masses[held] = skirt.weight * skirt.on_cage * carried / carried.sum()
    else:
        masses[held] = cloth_mass(skirt) * carried
    return masses


def skirt_mass(skirt: Skirt, girths: Floats, drops: Floats, waist: float) -> float:
    """kg of a whole skirt, with what the band bears of a cloth."""
    if skirt.weight is not None:
        return skirt.weight * skirt.on_cage
    _, depths, widths = cloth_down_the_tapes(skirt, girths, drops, waist)
    area = (widths[:-1] + widths[1:]) / 2.0 @ np.diff(depths, prepend=0.0) + widths[-1] * skirt.below_hem
    return float(cloth_mass(skirt) * area)


def cloth_mass(skirt: Skirt) -> float:
    """kg/m2 of all its layers, as far as the cage bears them."""
    return stock.cloth_weight(skirt.cloth or 0.0) * skirt.layers * skirt.on_cage


def cloth_down_the_tapes(
    skirt: Skirt, girths: Floats, drops: Floats, waist: float
) -> tuple[Ints, Floats, Floats]:
    """((k,) hoops from 0 that the skirt hangs from, (k,) m down the tapes, (k + 1,) m wide there, the waist first)."""
    held = np.array(sorted({hoop - 1 for hoop in skirt.hoops or range(1, len(girths) + 1)}))
    depths = np.cumsum(drops)[held]
    return held, depths, cloth_widths(skirt, np.append(waist, girths[held]), np.append(0.0, depths))


def cloth_widths(skirt: Skirt, girths: Floats, depths: Floats) -> Floats:
    """(k,) m of cloth side by side at the waist and at each hoop a skirt hangs from, before it is gathered.

    girths, depths: (k,) m round and down the tapes, the waist first. Gored cloth follows the girths, its
    fullness going evenly from the top's to the hem's. Gathered cloth has straight seams: as wide
    throughout as at the hem where one fullness is written, else evenly from the top's width to the hem's.
    """
    fullness, down = skirt.fullness, depths / depths[-1]
    if isinstance(fullness, float):
        return np.full(len(girths), fullness * girths[-1]) if skirt.cut == "gathered" else fullness * girths
    if skirt.cut == "gored":
        return np.asarray((fullness.top + (fullness.hem - fullness.top) * down) * girths)
    top, hem = fullness.top * girths[0], fullness.hem * girths[-1]
    return np.asarray(top + (hem - top) * down)


def heaped(skirt: Skirt, stations: Floats) -> tuple[Floats, Floats] | None:
    """(places (k + 1,) shares of the girth from 0 to 1, weight (k,) between two places), None for an even skirt.

    A tape's share lies half way to the tapes beside it.
    """
    if skirt.lies is None:
        return None
    if isinstance(skirt.lies, SkirtSides):
        front, side, back = skirt.lies.front, skirt.lies.sides / 2.0, skirt.lies.back
        return QUARTERS, np.array([front / 2.0, side, back, side, front / 2.0])
    shares = np.array(skirt.lies)
    beyond = np.append(stations, stations[0] + 1.0)
    middles = (beyond[:-1] + beyond[1:]) / 2.0  # the last of them may lie past centre front
    ends = np.concatenate([[middles[-1] - 1.0], middles])
    density = shares / np.diff(ends)
    places = np.unique(np.concatenate([[0.0, 1.0], np.mod(ends, 1.0)]))
    centres = (places[:-1] + places[1:]) / 2.0
    own = np.searchsorted(ends, ends[0] + np.mod(centres - ends[0], 1.0)) - 1
    return places, density[own] * np.diff(places)


def shares_of_cells(line: HoopLine, places: Floats, weights: Floats) -> Floats:
    """(n,) weight that lies on the steel of each node, half way to its neighbours on both sides."""
    at = line.fractions
    if line.closed:
        around = np.concatenate([[at[-1] - 1.0], at, [at[0] + 1.0]])
        edges = (around[:-1] + around[1:]) / 2.0
    else:
        edges = np.concatenate([at[:1], (at[:-1] + at[1:]) / 2.0, at[-1:]])
    return laid_between(edges, places, weights)


def laid_between(edges: Floats, places: Floats, weights: Floats) -> Floats:
    """(n,) weight that lies between n + 1 shares of the girth, of weights (k,) even between places (k + 1,)."""
    heap = np.concatenate([[0.0], np.cumsum(weights)])
    turns = np.floor(edges)
    return np.diff(turns * heap[-1] + np.interp(edges - turns, places, heap))
