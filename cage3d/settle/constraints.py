"""What the cage must obey, each with a force that holds it: steel that does not stretch, tapes and
ties that only pull, nodes that stay outside the wearer and above the floor.

Every constraint has the energy of the augmented Lagrangian (Nocedal and Wright, Numerical
Optimization, chapter 17): a force known so far plus a spring. Once the forces are right the
constraint holds exactly however soft the spring, so no spring needs to be stiff enough to
spoil the numbers.
"""

from __future__ import annotations

import numpy as np

from cage3d.settle.arithmetic import outer
from cage3d.shape.arrays import Floats

IDENTITY = np.eye(3)


def both_ways_energy(force: Floats, spring: Floats, excess: Floats) -> float:
    """J, of constraints that pull and push: excess = 0."""
    return float((force * excess + 0.5 * spring * excess**2).sum())


def one_way_energy(force: Floats, spring: Floats, excess: Floats) -> float:
    """J, of constraints that act on one side only: excess <= 0."""
    acting = np.maximum(force + spring * excess, 0.0)
    return float(((acting**2 - force**2) / (2.0 * spring)).sum())


def both_ways_force(force: Floats, spring: Floats, excess: Floats) -> Floats:
    """(n,) N."""
    return force + spring * excess


def one_way_force(force: Floats, spring: Floats, excess: Floats) -> Floats:
    """(n,) N, never negative."""
    return np.maximum(force + spring * excess, 0.0)


def length_derivatives(
    force: Floats, spring: Floats, lengths: Floats, tangents: Floats
) -> tuple[Floats, Floats]:
    """(n, 6) gradient and (n, 6, 6) Hessian for both end nodes of lines under `force` with stiffness `spring`."""
    along = outer(tangents, tangents)
    across = (force / lengths)[:, None, None] * (IDENTITY - along)
    block = spring[:, None, None] * along + across
    pull = force[:, None] * tangents
    hessian = np.empty((len(force), 6, 6), order="F")
    hessian[:, :3, :3] = hessian[:, 3:, 3:] = block
    hessian[:, :3, 3:] = hessian[:, 3:, :3] = -block
    return np.concatenate([-pull, pull], axis=1), hessian
