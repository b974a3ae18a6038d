"""The same cage relaxed to rest in PyElastica: Cosserat rods with shear and stretch, stepped in time.

Nothing of the discrete strip, of its energy or of Newton's method is used here. From the laid out
cage come the first circles, the lengths, the weights and what is joined to what. Only the place of
rest is wanted, so the masses are those that allow the largest stable time step and not those of
steel, and the motion is damped.
"""

from __future__ import annotations

from dataclasses import dataclass

import elastica
import numpy as np

from cage3d.shape.cage import Cage
from cage3d.shape.section_kinds import section_of

AXIAL = 3e4  # N, stretch and shear stiffness: steel's own (1.2e6 N) would only shrink the time step
PULLING = 3e4  # N per unit strain of tapes and ties that do not stretch
# Seconds here mean as little as the masses do.
TIME_STEP = 1e-3  # s
REELED = 5.0  # s in which a tie is shortened from the first circle to its length
DAMPING = 10.0  # 1/s times nodes a hoop: about critical for the slowest swing of a hoop on its tapes
STEEL = 7850.0  # kg/m3


class TapesTiesAndWeights(elastica.NoForces):
    """Springs that only pull, between nodes of all rods and the waistband, and a weight on every node."""

    def __init__(self, cage: Cage, rods: list[elastica.CosseratRod]) -> None:
        super().__init__()
        joined, numbers = cage.connectivity, cage.parameters
        self.rods = rods
        self.ends = np.cumsum([0, *(rod.n_nodes for rod in rods)])
        self.anchors = cage.positions[joined.anchors].T
        self.first, self.second = joined.pulls.T
        self.lengths = numbers.pull_length
        along = cage.positions[self.second] - cage.positions[self.first]
        self.too_far = np.maximum(np.linalg.norm(along, axis=1) - self.lengths, 0.0)
        incidence = np.zeros((len(joined.pulls), joined.node_count))
        incidence[np.arange(len(joined.pulls)), self.first] = 1.0
        incidence[np.arange(len(joined.pulls)), self.second] = -1.0
        self.incidence = incidence[:, : self.ends[-1]]
        self.weights = (numbers.own_weight + numbers.skirt_weight)[: self.ends[-1]]
        give = numbers.pull_give
        # N a unit strain.
        self.stiffness = np.where(give > 0.0, 1.0 / np.where(give > 0.0, give, 1.0), PULLING)

    def positions(self) -> np.ndarray:
        """(3, N) m."""
        return np.concatenate([*(rod.position_collection for rod in self.rods), self.anchors], axis=1)

    def pulls(self, time: float) -> tuple[np.ndarray, np.ndarray]:
        """(P,) N and (3, P) unit, from the first end to the second."""
        lengths = self.lengths + self.too_far * max(1.0 - time / REELED, 0.0)
        points = self.positions()
        along = points[:, self.second] - points[:, self.first]
        spans = np.sqrt((along**2).sum(axis=0))
        return self.stiffness * np.maximum(spans / lengths - 1.0, 0.0), along / spans

    def apply_forces(self, system: elastica.CosseratRod, time: float = 0.0) -> None:  # noqa: ARG002
        """To every rod, whichever of them PyElastica thinks that this belongs to."""
        forces, along = self.pulls(time)
        on_nodes = (forces * along) @ self.incidence
        on_nodes[2] -= self.weights
        for rod, start, end in zip(self.rods, self.ends[:-1], self.ends[1:], strict=True):
            rod.external_forces += on_nodes[:, start:end]


class Simulator(elastica.BaseSystemCollection, elastica.Constraints, elastica.Forcing, elastica.Damping):
    """PyElastica's way of saying what a simulation has."""


@dataclass
class Relaxation:
    """A cage in PyElastica, on its way to rest."""

    simulator: Simulator
    forcing: TapesTiesAndWeights
    time_step: float
    steps: int = 0

    @property
    def positions(self) -> np.ndarray:
        """(N, 3) m, nodes in the order of the cage."""
        return self.forcing.positions().T

    @property
    def pull_force(self) -> np.ndarray:
        """(P,) N."""
        return self.forcing.pulls(self.steps * self.time_step)[0]

    def advance(self, steps: int) -> None:
        stepper, time = elastica.PositionVerlet(), np.float64(self.steps * self.time_step)
        for _ in range(steps):
            time = stepper.step(self.simulator, time, self.time_step)
        self.steps += steps

    def relax(self, still: float, every: int, most: int) -> float:
        """Step until no node moves farther than `still` m in `every` steps; m, the last movement."""
        moved = np.inf
        while not moved <= still and self.steps < most:
            before = self.positions
            self.advance(every)
            moved = float(np.linalg.norm(self.positions - before, axis=1).max())
        return moved


def relaxing(cage: Cage) -> Relaxation:
    """The cage with masses chosen for speed, ready to relax."""
    rods = [ring(cage, hoop) for hoop in range(cage.connectivity.hoop_count)]
    for rod in rods:
        make_quick(rod, cage)
    return assembled(cage, rods, DAMPING / rods[0].n_elems, TIME_STEP)


def in_real_time(cage: Cage, damping: float, time_step: float) -> Relaxation:
    """The cage with the masses and stiffness of steel. damping: 1/s; time_step: s."""
    rods = [ring(cage, hoop) for hoop in range(cage.connectivity.hoop_count)]
    return assembled(cage, rods, damping, time_step)


def ring(cage: Cage, hoop: int) -> elastica.CosseratRod:
    """A naturally straight strip closed into a ring where the cage has its first circle."""
    joined = cage.connectivity
    points = cage.positions[joined.hoop_nodes[hoop]].T
    along = np.roll(points, -1, axis=1) - points
    tangents = along / np.linalg.norm(along, axis=0)
    normals = cage.normals[joined.hoop_edges[hoop]].T
    count, steel = points.shape[1], cage.design.steel_of(hoop)
    rod = elastica.CosseratRod.ring_rod(
        n_elements=count,
        ring_center_position=points.mean(axis=1),
        direction=np.array([1.0, 0.0, 0.0]),
        normal=np.array([0.0, 0.0, 1.0]),
        base_length=float(np.linalg.norm(along, axis=0).sum()),
        base_radius=float(np.sqrt(steel.width * steel.thickness / np.pi)),
        density=STEEL,
        youngs_modulus=steel.modulus,
        shear_modulus=steel.modulus / (2.0 * (1.0 + steel.poisson)),
        position=points,
        directors=np.stack([normals, np.cross(tangents, normals, axis=0), tangents]),
        # All zero would silently be replaced by the curvature of the circle.
        rest_kappa=np.full((3, count), 1e-9),
    )
    easy, stiff, torsion = section_of(steel).stiffness
    # About the normal, about the width, about the tangent.
    rod.bend_matrix[:] = np.diag([stiff, easy, torsion])[:, :, None]
    return rod


def make_quick(rod: elastica.CosseratRod, cage: Cage) -> None:
    """AXIAL for stretch and shear, and the least masses with which TIME_STEP is stable.

    Gershgorin: no frequency squared exceeds the largest row sum of stiffness over mass, angles
    scaled by the length of an element. A quarter more for safety.
    """
    rod.shear_matrix[:] = AXIAL * np.eye(3)[:, :, None]
    length = float(rod.rest_lengths.min())
    per_node = 6.0 * AXIAL / length + 4.0 * PULLING / float(cage.parameters.pull_length.min())
    per_angle = 3.0 * AXIAL * length + 4.0 * float(rod.bend_matrix.max()) / length
    least = 1.25 * TIME_STEP**2 / 4.0
    rod.mass[:] = least * per_node
    rod.mass_second_moment_of_inertia[:] = least * per_angle * np.eye(3)[:, :, None]
    rod.inv_mass_second_moment_of_inertia[:] = np.eye(3)[:, :, None] / (least * per_angle)


def assembled(cage: Cage, rods: list[elastica.CosseratRod], damping: float, time_step: float) -> Relaxation:
    simulator = Simulator()
    for rod in rods:
        simulator.append(rod)
        simulator.dampen(rod).using(
            elastica.AnalyticalLinearDamper, uniform_damping_constant=damping, time_step=time_step
        )
    simulator.add_forcing_to(rods[0]).using(TapesTiesAndWeights, cage, rods)
    simulator.finalize()
    return Relaxation(simulator, TapesTiesAndWeights(cage, rods), time_step)
