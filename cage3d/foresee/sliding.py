"""The skirt as cloth that slides over the hoops, beside the weight that lies on them: nobody knows its friction.

Fixed at the waist, each strip of cloth from waist to hem runs over the hoops like a rope over pulleys: without
friction its pull at a height z is its weight a length times the height above its own lower edge, and a hoop gets
the pulls of both sides, along the cloth, and half the weight of either stretch. So a hoop that the cloth bends
over is pressed inward and down, and the band bears the rest. Both answers are without friction on one side and
with enough of it on the other; the truth lies between. How the cage moves from the one to the other is told by
its stiffness as it hangs, so it holds for small moves.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.design.models import Skirt
from cage3d.settle.state import SettledCage
from cage3d.settle.tangent import Tangent
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.skirts import heaped, hoop_masses, laid_between
from cage3d.shape.waist import waist_ring
from cage3d.shape.weights import GRAVITY

STRIPS = 96  # of cloth round her
LEAST_LENGTH = 1e-6  # m


@dataclass(frozen=True)
class Sliding:
    """What changes where the skirt slides instead of lying."""

    moves: Floats  # (N, 3) m
    on_hoops: Floats  # (H,) N downward on each hoop, of the sliding skirt
    on_band: float  # N downward


def sliding(settled: SettledCage) -> Sliding | None:
    """None where no skirt hangs on the cage. Raises ValueError where it is not settled and stable."""
    if not np.any(settled.cage.parameters.skirt_weight):
        return None
    forces = np.zeros_like(settled.positions)
    band = 0.0
    for skirt in settled.cage.design.skirts:
        band += add_sliding(settled, skirt, forces)
    joined = settled.cage.connectivity
    on_hoops = np.array([-forces[nodes, 2].sum() for nodes in joined.hoop_nodes])
    forces[:, 2] += settled.cage.parameters.skirt_weight
    return Sliding(Tangent(settled).moves_under(forces[:, :, None])[:, :, 0], on_hoops, band)


def add_sliding(settled: SettledCage, skirt: Skirt, forces: Floats) -> float:
    """Adds one skirt's pushes to forces (N, 3) N; returns what hangs on the band (N)."""
    cage = settled.cage
    girths = np.array([hoop.sum() for hoop in hoop_lengths(settled)])
    drops = np.array(cage.design.tapes.drops).mean(axis=0)
    weight = float(hoop_masses(skirt, girths, drops, cage.design.wearer.waist).sum()) * GRAVITY
    held = sorted({hoop - 1 for hoop in skirt.hoops or range(1, len(girths) + 1)})
    places = (np.arange(STRIPS) + 0.5) / STRIPS
    heaps = heaped(skirt, cage.stations)
    shares = (
        np.full(STRIPS, 1.0 / STRIPS)
        if heaps is None
        else laid_between(np.arange(STRIPS + 1) / STRIPS, *heaps)
    )
    found = [on_hoop(settled, hoop, places) for hoop in held]
    line = np.stack(
        [waist_ring(cage.design, places, cage.design.waistband.depth / 2.0)] + [at for at, _, _ in found]
    )
    pushes = pushes_of_ropes(line, weight * shares / shares.sum(), skirt.below_hem)
    for (_, nodes, parts), push in zip(found, pushes[1:], strict=True):
        for end in (0, 1):
            np.add.at(forces, nodes[:, end], parts[:, end, None] * push)
    return float(-pushes[0, :, 2].sum())


def hoop_lengths(settled: SettledCage) -> list[Floats]:
    """H x (n,) m of steel along each hoop's edges."""
    numbers = settled.cage.parameters
    return [numbers.arc_length[edges] for edges in settled.cage.connectivity.hoop_edges]


def on_hoop(settled: SettledCage, hoop: int, places: Floats) -> tuple[Floats, Ints, Floats]:
    """((n, 3) m, (n, 2) nodes beside, (n, 2) their parts) of places round a hoop, shares of the girth.

    Over an opening the cloth spans straight from end to end.
    """
    nodes = settled.cage.connectivity.hoop_nodes[hoop]
    fractions = settled.cage.connectivity.node_fraction[nodes]
    around = np.append(fractions, fractions[0] + 1.0)
    at = fractions[0] + np.mod(places - fractions[0], 1.0)
    before = np.clip(np.searchsorted(around, at, side="right") - 1, 0, len(nodes) - 1)
    part = (at - around[before]) / (around[before + 1] - around[before])
    beside = np.column_stack([nodes[before], nodes[(before + 1) % len(nodes)]])
    parts = np.column_stack([1.0 - part, part])
    return np.einsum("ne,nex->nx", parts, settled.positions[beside]), beside, parts


def pushes_of_ropes(line: Floats, weights: Floats, below: float) -> Floats:
    """(k + 1, n, 3) N on the band and on k pulleys, of n ropes that run over them without friction.

    line: (k + 1, n, 3) m, the band and then the pulleys from the top; weights: (n,) N of each whole rope, even
    along it; below: m that hangs straight down from the last pulley.
    """
    along = np.diff(line, axis=0)
    spans = np.linalg.norm(along, axis=2)
    each = weights / np.maximum(spans.sum(axis=0) + below, LEAST_LENGTH)  # N/m
    edge = line[-1, :, 2] - below
    pulls = each * ((line[:-1, :, 2] + line[1:, :, 2]) / 2.0 - edge)
    towards = along / np.maximum(spans, LEAST_LENGTH)[:, :, None]
    pushes = np.zeros_like(line)
    pushes[:-1] += pulls[:, :, None] * towards
    pushes[1:] -= pulls[:, :, None] * towards
    halves = each * spans / 2.0
    pushes[:-1, :, 2] -= halves
    pushes[1:, :, 2] -= halves
    pushes[-1, :, 2] -= each * below
    return pushes
