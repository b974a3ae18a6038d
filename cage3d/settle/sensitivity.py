"""What a small change of the maker's numbers does to the settled cage, without settling again.

Rest means g(q, p) = 0, so dq/dp = -H^-1 dg/dp: one solve a number with one factor (the implicit
function theorem). Good for as long as no tape goes slack or taut and nothing comes into touch.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from cage3d.settle.factor import factorise
from cage3d.settle.model import derivatives, model_of, posture_of, springs, stiffer
from cage3d.settle.settling import SPRINGS
from cage3d.settle.stability import RIGID, same_forces
from cage3d.settle.state import SettledCage
from cage3d.shape.arrays import Floats
from cage3d.steady import falling, first_least


def moves_with_pulls(settled: SettledCage, changes: Floats) -> Floats:
    """(N, 3, K) m a unit: how every node moves with K changes of pull lengths, (P, K), each column one change.

    Raises ValueError where the cage is not settled and stable.
    """
    return moves(settled, changes, np.zeros((len(settled.cage.parameters.edge_length), changes.shape[1])))


def moves_with_hoop(settled: SettledCage, hoop: int) -> Floats:
    """(N, 3) m a metre: how every node moves as one hoop grows in length, evenly along its steel."""
    joined, numbers = settled.cage.connectivity, settled.cage.parameters
    shares = np.zeros((len(numbers.edge_length), 1))
    edges = joined.hoop_edges[hoop]
    shares[edges, 0] = numbers.arc_length[edges] / numbers.arc_length[edges].sum()
    return np.asarray(moves(settled, np.zeros((len(numbers.pull_length), 1)), shares)[:, :, 0])


def moves(settled: SettledCage, pulls: Floats, edges: Floats) -> Floats:
    """(N, 3, K) m a unit for changes of pull lengths (P, K) together with changes of edge lengths (E, K).

    A taut line of stiffness k that grows by d pulls less by k d; a slack one does not matter.
    """
    if not settled.trusted:
        raise ValueError("only a settled and stable cage has sensitivities")
    model = stiffer(model_of(settled.cage, SPRINGS[-1]), RIGID)
    posture, forces = posture_of(settled.cage, settled.state)
    held = same_forces(stiffer(model, SPRINGS[-1]), model, posture, forces)
    _, hessian, excess = derivatives(model, posture, held)
    factor = factorise(hessian)
    if factor is None:
        raise ValueError("the settled cage's Hessian could not be factorised")
    edge, pull, _ = springs(model)
    lines = [
        (model.pattern.stencils.edges, edge, posture.rod.tangents, edges),
        (model.pattern.stencils.pulls, np.where(forces.pulls > 0.0, pull, 0.0), excess.pull_tangents, pulls),
    ]
    falls = np.zeros((model.pattern.size + 1, pulls.shape[1]))  # the last row gathers what is fixed
    for stencil, stiffness, tangents, growth in lines:
        along = np.concatenate([-tangents, tangents], axis=1) * stiffness[:, None]
        np.add.at(
            falls, stencil.ravel(), (along[:, :, None] * growth[:, None, :]).reshape(-1, growth.shape[1])
        )
    steps = factor.solve(falls[:-1])
    free = model.free_nodes
    out = np.zeros((settled.cage.connectivity.node_count, 3, pulls.shape[1]))
    out[:free] = steps[: 3 * free].reshape(free, 3, -1)
    return out


@dataclass(frozen=True)
class MarkEffect:
    """What moving one casing mark down its tape does to the hem; m of the hem a metre of the mark."""

    tape: int  # from 0
    hoop: int  # from 0
    front: float
    left: float
    back: float
    right: float

    @property
    def most(self) -> float:
        """The largest of the four, without sign."""
        return max(abs(self.front), abs(self.left), abs(self.back), abs(self.right))


def mark_changes(hoops: int, tapes: int, pulls: int) -> Floats:
    """(P, H*T): moving one mark alone lengthens the drop above it and shortens the one below."""
    changes = np.zeros((pulls, hoops * tapes))
    for mark in range(hoops * tapes):
        changes[mark, mark] = 1.0
        if mark + tapes < hoops * tapes:
            changes[mark + tapes, mark] = -1.0
    return changes


def mark_effects(settled: SettledCage) -> tuple[MarkEffect, ...]:
    """Every mark's effect on the hem's height at front, left, back and right.

    The strongest first, equal ones by tape and hoop.
    """
    joined = settled.cage.connectivity
    hoops, tapes = joined.hoop_count, joined.tape_count
    moved = moves_with_pulls(settled, mark_changes(hoops, tapes, len(joined.pulls)))
    hem = joined.hoop_nodes[-1]
    fractions = joined.node_fraction[hem]
    quarters = []
    for place in (0.0, 0.25, 0.5, 0.75):
        away = np.abs(np.mod(fractions - place + 0.5, 1.0) - 0.5)
        quarters.append(moved[hem[first_least(away)], 2])
    effects = [
        MarkEffect(tape, hoop, *(float(quarter[hoop * tapes + tape]) for quarter in quarters))
        for tape in range(tapes)
        for hoop in range(hoops)
    ]
    return tuple(effects[place] for place in falling([effect.most for effect in effects]))
