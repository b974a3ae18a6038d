"""Where the lines of cloth of a skirt that slides run, how long they are and what they weigh.

A line runs at one share of the girth of every hoop, as the tapes do. It is fixed at the band and as long as the
tapes beside it and what falls below the lowest hoop; its weight lies along it as the cloth is wide there.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.interpolate import PPoly

from cage3d.design.models import Design, Skirt
from cage3d.design.points import station_fractions
from cage3d.design.routes import depth_table
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.cage import Connectivity
from cage3d.shape.cloth import Cloth
from cage3d.shape.lines import HoopLine
from cage3d.shape.marks import mean_drops
from cage3d.shape.skirts import cloth_down_the_tapes, heaped, laid_between, skirt_mass
from cage3d.shape.waist import waist_ring
from cage3d.shape.weights import GRAVITY

ON_NODE = 1e-9  # share of the girth, within which a place is the node


def cloths_of(
    design: Design, lines: Sequence[HoopLine], joined: Connectivity
) -> tuple[tuple[Cloth, Floats, Floats], ...]:
    """Every skirt that slides: (its lines, (R,) N of each, (R,) m long), as if it touched all its hoops."""
    places, found, first = cloth_places(lines), [], 0
    drops = mean_drops(design)
    girths = np.array([line.girth for line in lines])
    for skirt in design.skirts:
        if not skirt.slides:
            continue
        held, depths, widths = cloth_down_the_tapes(skirt, girths, drops, design.wearer.waist)
        crossings = [on_hoop(joined, int(hoop), places) for hoop in held]
        cloth = Cloth(
            rows=slice(first, first + len(places)),
            tops=waist_ring(design, places, design.waistband.depth / 2.0),
            nodes=np.stack([nodes for nodes, _ in crossings], axis=1),
            shares=np.stack([shares for _, shares in crossings], axis=1),
            over=np.ones((len(places), len(held)), dtype=bool),
            heaviness=heaviness(np.append(0.0, depths), widths, skirt.below_hem),
            friction=skirt.friction,
        )
        mass = skirt_mass(skirt, girths, drops, design.wearer.waist)
        weights = mass * GRAVITY * shares_of_lines(skirt, places, station_fractions(design.tapes))
        found.append((cloth, weights, lengths_of_lines(design, skirt, places)))
        first += len(places)
    return tuple(found)


def cloth_places(lines: Sequence[HoopLine]) -> Floats:
    """(R,) shares of the girth at which lines of cloth run: at the nodes of a ring, rising from centre front."""
    rings = [line for line in lines if line.closed]
    at = (rings or lines)[0].fractions
    if not rings:
        opening = at[0] + 1.0 - at[-1]
        between = max(int(np.ceil(opening / np.median(np.diff(at)))), 1)
        at = np.append(at, at[-1] + opening * np.arange(1, between) / between)
    return np.sort(np.mod(at, 1.0))


def lengths_of_lines(design: Design, skirt: Skirt, places: Floats) -> Floats:
    """(R,) m: as long as the tapes down to the lowest hoop that it hangs on, and what falls below that."""
    hoops = skirt.hoops or (len(design.hoops),)
    down = depth_table(design)[:, max(hoops) - 1]
    there = ~np.isnan(down)
    stations = station_fractions(design.tapes)[there]
    return np.asarray(np.interp(places, stations, down[there], period=1.0) + skirt.below_hem)


def shares_of_lines(skirt: Skirt, places: Floats, stations: Floats) -> Floats:
    """(R,) of the skirt's weight that each line bears: the cloth half way to its neighbours."""
    around = np.concatenate([[places[-1] - 1.0], places, [places[0] + 1.0]])
    edges = (around[:-1] + around[1:]) / 2.0
    heaps = heaped(skirt, stations)
    shares = np.diff(edges) if heaps is None else laid_between(edges, *heaps)
    return np.asarray(shares / shares.sum())


def on_hoop(joined: Connectivity, hoop: int, places: Floats) -> tuple[Ints, Floats]:
    """((R, 2) nodes beside, (R, 2) their shares) of places round a hoop; straight over an opening from end to end."""
    nodes = joined.hoop_nodes[hoop]
    fractions = joined.node_fraction[nodes]
    around = np.append(fractions, fractions[0] + 1.0)
    at = fractions[0] + np.mod(places - fractions[0] + ON_NODE, 1.0) - ON_NODE
    before = np.clip(np.searchsorted(around, at + ON_NODE, side="right") - 1, 0, len(nodes) - 1)
    part = (at - around[before]) / (around[before + 1] - around[before])
    part = np.where(np.abs(part) < 1e-6, 0.0, part)
    beside = np.column_stack([nodes[before], nodes[(before + 1) % len(nodes)]])
    return beside, np.column_stack([1.0 - part, part])


def heaviness(depths: Floats, widths: Floats, below: float) -> PPoly:
    """Weight along a line of cloth as wide as widths (k,) at depths (k,) m, and as the last for `below` m more."""
    whole = depths[-1] + below
    knots, wide = depths / whole, widths
    if below > 0.0:
        knots, wide = np.append(knots, 1.0), np.append(wide, wide[-1])
    mean = float((np.diff(knots) * (wide[:-1] + wide[1:]) / 2.0).sum())
    return PPoly(np.stack([np.diff(wide) / np.diff(knots), wide[:-1]]) / mean, knots)
