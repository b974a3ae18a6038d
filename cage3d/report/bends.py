"""How sharply the strip is bent, and how much of its elastic range that uses."""

from __future__ import annotations

import numpy as np

from cage3d.design.models import Steel
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats


def bend_curvatures(settled: SettledCage) -> tuple[Floats, Floats]:
    """(about the strip's width, about its thickness), each (B,) 1/m, never negative, at every bend.

    The angle between two chords of a circle is exactly arc over radius, so a true ring gives
    1/R at any resolution.
    """
    joined, lengths = settled.cage.connectivity, settled.cage.parameters.bend_length
    before, after = joined.bend_edges.T
    tangents = settled.tangents
    axis = np.cross(tangents[before], tangents[after])
    sine = np.linalg.norm(axis, axis=1)
    cosine = np.einsum("ij,ij->i", tangents[before], tangents[after])
    angle = np.arctan2(sine, cosine)
    # angle/sine tends to 1 for a straight strip, where the axis itself vanishes.
    turned = axis * np.divide(angle, sine, out=np.ones_like(sine), where=sine > 1e-12)[:, None]
    easy = np.abs(np.einsum("ij,ij->i", turned, between(settled.strip_widths, before, after)))
    stiff = np.abs(np.einsum("ij,ij->i", turned, between(settled.strip_normals, before, after)))
    return easy / lengths, stiff / lengths


def between(directions: Floats, before: Floats, after: Floats) -> Floats:
    """(B, 3) unit, the mean of a direction on the two edges of every bend."""
    mean = directions[before] + directions[after]
    return np.asarray(mean / np.linalg.norm(mean, axis=1)[:, None])


def bending_strain(easy: Floats, stiff: Floats, steel: Steel) -> Floats:
    """Strain at the corner of the strip's section, where both bendings add: t/2 and b/2 times the curvatures.

    On a plain hoop the second part is next to nothing and this is t/(2R).
    """
    return np.asarray(steel.thickness / 2.0 * easy + steel.width / 2.0 * stiff)


def yield_strain(steel: Steel) -> float:
    return steel.yield_stress / steel.modulus


def smallest_elastic_radius(steel: Steel) -> float:
    """m; bent tighter than E t / (2 yield stress) the strip keeps a kink."""
    return steel.modulus * steel.thickness / (2.0 * steel.yield_stress)
