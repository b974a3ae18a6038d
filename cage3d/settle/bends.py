"""How sharply the steel is bent, and how much of its elastic range that uses: report and capacity ask here."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage


class StripFrames(NamedTuple):
    """How the steel lies on every edge, each (E, 3) unit."""

    tangents: Floats
    normals: Floats  # across the strip's thickness
    widths: Floats  # along its width


def bend_curvatures(cage: Cage, frames: StripFrames) -> tuple[Floats, Floats]:
    """(the easy way, positive as a plain hoop goes round her, the stiff way), each (B,) 1/m, at every bend.

    The angle between two chords of a circle is exactly arc over radius, so a true ring gives
    1/R at any resolution.
    """
    before, after = cage.connectivity.bend_edges.T
    axis = np.cross(frames.tangents[before], frames.tangents[after])
    sine = np.linalg.norm(axis, axis=1)
    cosine = np.einsum("ij,ij->i", frames.tangents[before], frames.tangents[after])
    angle = np.arctan2(sine, cosine)
    # angle/sine tends to 1 for a straight strip, where the axis itself vanishes.
    turned = axis * np.divide(angle, sine, out=np.ones_like(sine), where=sine > 1e-12)[:, None]
    # The width points down where a strip goes round by her left, so its turn about it is negative.
    easy = -np.einsum("ij,ij->i", turned, between(frames.widths, before, after))
    stiff = np.einsum("ij,ij->i", turned, between(frames.normals, before, after))
    return easy / cage.parameters.bend_length, stiff / cage.parameters.bend_length


def between(directions: Floats, before: Floats, after: Floats) -> Floats:
    """(B, 3) unit, the mean of a direction on the two edges of every bend."""
    mean = directions[before] + directions[after]
    return np.asarray(mean / np.linalg.norm(mean, axis=1)[:, None])


def strain_shares(cage: Cage, frames: StripFrames) -> Floats:
    """(B,) strain of the fibre that is bent most, over the strain at which the steel stays bent."""
    easy, stiff = bend_curvatures(cage, frames)
    easy, stiff = np.abs(easy - cage.parameters.set_curvature), np.abs(stiff)
    shares = np.empty(len(easy))
    for hoop, steel in enumerate(cage.steels):
        own = cage.connectivity.bend_hoop == hoop
        shares[own] = steel.section.strain(easy[own], stiff[own]) / steel.section.yield_strain
    return shares
