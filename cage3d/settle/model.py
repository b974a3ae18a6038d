"""The whole cage's energy, gradient and Hessian at one posture."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.sparse import csc_array

from cage3d.settle import bending
from cage3d.settle.assembly import Pattern, pattern_of
from cage3d.settle.constraints import (
    both_ways_energy,
    both_ways_force,
    length_derivatives,
    one_way_energy,
    one_way_force,
)
from cage3d.settle.contact import FormGap
from cage3d.settle.kinematics import RodShape, edge_tangents, orthonormal, reference_twists, rod_shape
from cage3d.settle.state import State
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage

CONTACT_LENGTH = 0.1  # m, the length over which a contact's spring counts as one unit of strain


@dataclass(frozen=True)
class Posture:
    """One trial: where everything is, with the rod's frames carried there."""

    positions: Floats  # (N, 3) m
    angles: Floats  # (E,) rad
    rod: RodShape


@dataclass(frozen=True)
class Forces:
    """The constraints' forces known so far (N)."""

    edges: Floats  # (E,) tension positive
    pulls: Floats  # (P,)
    floor: Floats  # (hoop nodes,)
    body: Floats  # (hoop nodes,)


@dataclass(frozen=True)
class Excess:
    """By how much each constraint is broken, positive where the force must act (m)."""

    edges: Floats
    pulls: Floats
    pull_spans: Floats
    pull_tangents: Floats
    floor: Floats
    body: Floats  # large and negative where a node is far from the form


@dataclass(frozen=True)
class Model:
    """A cage under a given weight, its constraints held by springs of `spring` N per unit strain."""

    cage: Cage
    pattern: Pattern
    gap: FormGap | None
    weight: Floats  # (N,) N on each node
    spring: float

    @property
    def free_nodes(self) -> int:
        return self.cage.connectivity.node_count - self.cage.connectivity.tape_count

    @property
    def metric(self) -> Floats:
        """(size,) scale that makes angles comparable with metres: 1 for metres, width^2 for angles."""
        widths = np.array(
            [self.cage.design.steel_of(h).width for h in range(self.cage.connectivity.hoop_count)]
        )
        angle = widths[self.cage.connectivity.edge_hoop] ** 2
        return np.concatenate([np.ones(3 * self.free_nodes), angle])


def model_of(cage: Cage, spring: float, skirt: float = 1.0) -> Model:
    """The model with the skirt's weight times `skirt`."""
    gap = None if cage.form is None else FormGap(cage.form)
    weight = cage.parameters.own_weight + skirt * cage.parameters.skirt_weight
    return Model(cage, pattern_of(cage.connectivity), gap, weight, spring)


def first_posture(cage: Cage) -> Posture:
    """The laid out circles, frames as laid out."""
    _, tangents = edge_tangents(cage.connectivity, cage.positions)
    return posture_at(cage, cage.positions, np.zeros(len(tangents)), cage.normals, None)


def posture_at(
    cage: Cage, positions: Floats, angles: Floats, normals: Floats, twists: Floats | None
) -> Posture:
    """The posture of a known place and known reference frames."""
    joined = cage.connectivity
    _, tangents = edge_tangents(joined, positions)
    references = orthonormal(normals, tangents)
    near = np.zeros(len(joined.bends)) if twists is None else twists
    twists = reference_twists(joined, tangents, references, near)
    return Posture(positions, angles, rod_shape(joined, positions, angles, tangents, references, twists))


def moved(model: Model, posture: Posture, step: Floats) -> Posture:
    """The posture after a step (size,) of the unknowns; frames carried by parallel transport."""
    joined, rod, free = model.cage.connectivity, posture.rod, model.free_nodes
    positions = posture.positions.copy()
    positions[:free] += step[: 3 * free].reshape(-1, 3)
    angles = posture.angles + step[3 * free :]
    return Posture(
        positions, angles, rod_shape(joined, positions, angles, rod.tangents, rod.references, rod.twists)
    )


def no_forces(model: Model) -> Forces:
    joined, nodes = model.cage.connectivity, model.free_nodes
    return Forces(np.zeros(len(joined.edges)), np.zeros(len(joined.pulls)), np.zeros(nodes), np.zeros(nodes))


def excess_of(model: Model, posture: Posture) -> Excess:
    """How far every constraint is from holding."""
    joined, numbers, free = model.cage.connectivity, model.cage.parameters, model.free_nodes
    along = posture.positions[joined.pulls[:, 1]] - posture.positions[joined.pulls[:, 0]]
    spans = np.sqrt((along**2).sum(axis=1))
    body = np.full(free, -1.0)
    if model.gap is not None:
        near = model.gap.near(posture.positions[:free])
        body[near] = -model.gap.gaps(posture.positions[near])
    return Excess(
        edges=posture.rod.lengths - numbers.edge_length,
        pulls=spans - numbers.pull_length,
        pull_spans=spans,
        pull_tangents=along / spans[:, None],
        floor=-posture.positions[:free, 2],
        body=body,
    )


def springs(model: Model) -> tuple[Floats, Floats, float]:
    """N/m of every edge, every pull, and every contact."""
    numbers = model.cage.parameters
    return (
        model.spring / numbers.edge_length,
        model.spring / numbers.pull_length,
        model.spring / CONTACT_LENGTH,
    )


def forces_after(model: Model, excess: Excess, forces: Forces) -> Forces:
    """The forces that the springs and the forces known so far make together."""
    edge, pull, contact = springs(model)
    touch = np.full(model.free_nodes, contact)
    return Forces(
        both_ways_force(forces.edges, edge, excess.edges),
        one_way_force(forces.pulls, pull, excess.pulls),
        one_way_force(forces.floor, touch, excess.floor),
        one_way_force(forces.body, touch, excess.body),
    )


def energy(model: Model, posture: Posture, forces: Forces) -> float:
    """J: bending, twist, constraints, and height of the weights."""
    cage = model.cage
    edge, pull, contact = springs(model)
    touch = np.full(model.free_nodes, contact)
    excess = excess_of(model, posture)
    total = bending.energy(cage.connectivity, cage.parameters, posture.angles, posture.rod)
    total += both_ways_energy(forces.edges, edge, excess.edges)
    total += one_way_energy(forces.pulls, pull, excess.pulls)
    total += one_way_energy(forces.floor, touch, excess.floor)
    total += one_way_energy(forces.body, touch, excess.body)
    return total + float(model.weight @ posture.positions[:, 2])


def derivatives(model: Model, posture: Posture, forces: Forces) -> tuple[Floats, csc_array, Excess]:
    """(gradient (size,), Hessian (size, size), excess)."""
    cage, free = model.cage, model.free_nodes
    edge, pull, contact = springs(model)
    excess = excess_of(model, posture)
    acting = forces_after(model, excess, forces)
    bend_gradient, bend_hessian = bending.derivatives(
        cage.connectivity, cage.parameters, posture.angles, posture.rod
    )
    edge_gradient, edge_hessian = length_derivatives(
        acting.edges, edge, posture.rod.lengths, posture.rod.tangents
    )
    taut = np.where(acting.pulls > 0.0, pull, 0.0)
    pull_gradient, pull_hessian = length_derivatives(
        acting.pulls, taut, excess.pull_spans, excess.pull_tangents
    )
    touch_gradient, touch_hessian = contact_derivatives(model, posture, acting, contact)
    touch_gradient[:, 2] += model.weight[:free]
    gradient = model.pattern.vector([bend_gradient, edge_gradient, pull_gradient, touch_gradient])
    hessian = model.pattern.matrix([bend_hessian, edge_hessian, pull_hessian, touch_hessian])
    return gradient, hessian, excess


def contact_derivatives(
    model: Model, posture: Posture, acting: Forces, spring: float
) -> tuple[Floats, Floats]:
    """((nodes, 3) gradient, (nodes, 3, 3) Hessian) of the floor and the wearer's form."""
    gradient, hessian = np.zeros((model.free_nodes, 3)), np.zeros((model.free_nodes, 3, 3))
    gradient[:, 2] -= acting.floor
    hessian[:, 2, 2] += np.where(acting.floor > 0.0, spring, 0.0)
    touching = np.flatnonzero(acting.body > 0.0)
    if model.gap is not None and len(touching):
        _, slope, curve = model.gap.derivatives(posture.positions[touching])
        push = acting.body[touching]
        gradient[touching] -= push[:, None] * slope
        hessian[touching] += spring * slope[:, :, None] * slope[:, None, :] - push[:, None, None] * curve
    return gradient, hessian


def state_of(posture: Posture, forces: Forces) -> State:
    """The posture and its forces as the solver hands them out."""
    return State(
        positions=posture.positions,
        angles=posture.angles,
        normals=posture.rod.references,
        twists=posture.rod.twists,
        pull_force=forces.pulls,
        edge_force=forces.edges,
        contact_force=np.concatenate([forces.floor, forces.body]),
    )


def posture_of(cage: Cage, state: State) -> tuple[Posture, Forces]:
    """A state taken up again."""
    nodes = len(state.contact_force) // 2
    forces = Forces(
        state.edge_force, state.pull_force, state.contact_force[:nodes], state.contact_force[nodes:]
    )
    return posture_at(cage, state.positions, state.angles, state.normals, state.twists), forces


def stiffer(model: Model, spring: float) -> Model:
    """The same model with other springs."""
    return replace(model, spring=spring)
