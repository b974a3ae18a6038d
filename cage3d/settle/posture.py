"""Where everything is at one trial, with the rod's frames carried there."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Protocol, TypeVar

import numpy as np

from cage3d.settle.arithmetic import dot
from cage3d.settle.kinematics import (
    RodShape,
    edge_tangents,
    framed,
    orthonormal,
    reference_twists,
    rod_shape,
)
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage, Connectivity

SQUARE = 1e-12  # by which frames may be off a right angle and their length


Said = TypeVar("Said", covariant=True)


class Says(Protocol[Said]):
    """A part of the energy, that says something of every posture."""

    def at(self, posture: Posture) -> Said: ...


@dataclass(frozen=True)
class Posture:
    """One trial of the unknowns, and what has been asked of it so far."""

    positions: Floats  # (N, 3) m
    angles: Floats  # (E,) rad
    rod: RodShape
    said: dict[int, tuple[Any, Any]] = field(default_factory=dict, compare=False, repr=False)  # by the term

    def asked(self, term: Says[Said]) -> Said:
        """What a term says here, worked out once: models of other weights or springs share most of their terms."""
        if id(term) not in self.said:
            self.said[id(term)] = (term, term.at(self))
        reading: Said = self.said[id(term)][1]
        return reading


def first_posture(cage: Cage) -> Posture:
    """The laid out circles, frames as laid out."""
    angles = np.zeros(len(cage.connectivity.edges))
    return posture_at(cage.connectivity, cage.positions, angles, cage.normals, None)


def posture_at(
    joined: Connectivity, positions: Floats, angles: Floats, normals: Floats, twists: Floats | None
) -> Posture:
    """The posture of a known place and known reference frames, which are made exactly normal again."""
    _, tangents = edge_tangents(joined, positions)
    references = orthonormal(normals, tangents)
    near = np.zeros(len(joined.bends)) if twists is None else twists
    twists = reference_twists(joined, tangents, references, near)
    return Posture(positions, angles, rod_shape(joined, positions, angles, tangents, references, twists))


def posture_told(
    joined: Connectivity, positions: Floats, angles: Floats, normals: Floats, twists: Floats
) -> Posture:
    """The posture of a known place and frames just as they were told, to the last bit."""
    return Posture(positions, angles, framed(*edge_tangents(joined, positions), normals, twists, angles))


def squared(joined: Connectivity, posture: Posture) -> Posture:
    """The posture with its frames exactly normal again where rounding has built up; else itself."""
    rod = posture.rod
    off = max(
        np.abs(dot(rod.references, rod.tangents)).max(initial=0.0),
        np.abs(dot(rod.references, rod.references) - 1.0).max(initial=0.0),
    )
    if off <= SQUARE:
        return posture
    return posture_at(joined, posture.positions, posture.angles, rod.references, rod.twists)


def stepped(joined: Connectivity, posture: Posture, moves: Floats, turns: Floats) -> Posture:
    """The posture with free nodes moved (n, 3) and edges turned (E,); frames carried by parallel transport."""
    rod = posture.rod
    positions = posture.positions.copy()
    positions[: len(moves)] += moves
    angles = posture.angles + turns
    return Posture(
        positions, angles, rod_shape(joined, positions, angles, rod.tangents, rod.references, rod.twists)
    )
