"""Where everything is at one trial, with the rod's frames carried there."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.kinematics import RodShape, edge_tangents, orthonormal, reference_twists, rod_shape
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage, Connectivity


@dataclass(frozen=True)
class Posture:
    """One trial of the unknowns."""

    positions: Floats  # (N, 3) m
    angles: Floats  # (E,) rad
    rod: RodShape


def first_posture(cage: Cage) -> Posture:
    """The laid out circles, frames as laid out."""
    angles = np.zeros(len(cage.connectivity.edges))
    return posture_at(cage.connectivity, cage.positions, angles, cage.normals, None)


def posture_at(
    joined: Connectivity, positions: Floats, angles: Floats, normals: Floats, twists: Floats | None
) -> Posture:
    """The posture of a known place and known reference frames."""
    _, tangents = edge_tangents(joined, positions)
    references = orthonormal(normals, tangents)
    near = np.zeros(len(joined.bends)) if twists is None else twists
    twists = reference_twists(joined, tangents, references, near)
    return Posture(positions, angles, rod_shape(joined, positions, angles, tangents, references, twists))


def stepped(joined: Connectivity, posture: Posture, moves: Floats, turns: Floats) -> Posture:
    """The posture with free nodes moved (n, 3) and edges turned (E,); frames carried by parallel transport."""
    rod = posture.rod
    positions = posture.positions.copy()
    positions[: len(moves)] += moves
    angles = posture.angles + turns
    return Posture(
        positions, angles, rod_shape(joined, positions, angles, rod.tangents, rod.references, rod.twists)
    )
