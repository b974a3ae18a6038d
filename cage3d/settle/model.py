"""A cage as settling sees it: a list of energy terms over its unknowns, and what they say at one trial."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from cage3d.settle.assembly import Pattern, Symmetric, pattern_of
from cage3d.settle.posture import Posture, stepped
from cage3d.settle.terms import (
    Blocks,
    Pulls,
    Reading,
    SlidingCloth,
    Spring,
    Term,
    Weights,
    terms_of,
)
from cage3d.settle.terms.plain import NONE
from cage3d.settle.unknowns import Unknowns, unknowns_of
from cage3d.settle.watch import Watch
from cage3d.shape.arrays import Floats
from cage3d.shape.cage import Cage

Forces = tuple[Floats, ...]  # a term: (held,) N, the forces known so far of its constraints


@dataclass(frozen=True)
class Model:
    """A cage under a given weight, its constraints helped by springs of `spring` N a unit strain."""

    cage: Cage
    unknowns: Unknowns
    terms: tuple[Term, ...]
    pattern: Pattern
    metric: Floats  # (size,) scale that makes angles comparable with metres: 1 for metres, width^2 for angles
    weight: Floats  # (N,) N on each node
    spring: Spring
    watch: Watch = field(default_factory=Watch, compare=False)  # shared by all models of one settling

    @property
    def free_nodes(self) -> int:
        return self.unknowns.free_nodes

    def place(self, name: str) -> int:
        """Which of the terms has this name."""
        return [term.name for term in self.terms].index(name)


def model_of(cage: Cage, spring: Spring, skirt: float = 1.0, watch: Watch | None = None) -> Model:
    """The model with the skirt's weight times `skirt`."""
    numbers, unknowns = cage.parameters, unknowns_of(cage.connectivity)
    weight = numbers.own_weight + skirt * numbers.skirt_weight
    terms = terms_of(cage, unknowns, weight, skirt)
    pattern = pattern_of([term.stencil for term in terms], unknowns.size)
    metric = np.concatenate([np.ones(3 * unknowns.free_nodes), numbers.strip_width**2])
    return Model(cage, unknowns, terms, pattern, metric, weight, spring, watch or Watch())


def stiffer(model: Model, spring: Spring) -> Model:
    """The same model with other springs."""
    return replace(model, spring=spring)


def loaded(model: Model, share: float) -> Model:
    """The same model with the skirt's weight times `share`."""
    numbers = model.cage.parameters
    weight = numbers.own_weight + share * numbers.skirt_weight
    return replace(model, weight=weight, terms=tuple(with_load(term, weight, share) for term in model.terms))


def with_load(term: Term, weight: Floats, share: float) -> Term:
    if isinstance(term, Weights):
        return replace(term, weight=weight)
    return term.put_on(share) if isinstance(term, SlidingCloth) else term


def begin_at(model: Model, before: Model) -> None:
    """Strings over her are looked for first where those of a cage alike were found."""
    for own, other in zip(model.terms, before.terms, strict=False):
        if isinstance(own, Pulls) and isinstance(other, Pulls) and own.over and other.over:
            own.over.begin_at(other.over)


def skirt_pull(model: Model, posture: Posture) -> Floats:
    """(size,) N, what the whole skirt pulls with as the cage stands, cloth that slides without its friction."""
    cage = model.cage
    blocks: list[Blocks | None] = []
    for term in model.terms:
        if isinstance(term, Weights):
            blocks.append(replace(term, weight=cage.parameters.skirt_weight).at(posture).gradient(NONE, 0.0))
        elif isinstance(term, SlidingCloth):
            blocks.append(term.put_on(1.0).at(posture).gradient(np.zeros(term.held), 0.0))
        else:
            blocks.append(None)
    return -model.pattern.vector(blocks)


@dataclass(frozen=True)
class Trial:
    """What the terms say at one posture under forces known so far; each is worked out when first asked for."""

    model: Model
    posture: Posture
    forces: Forces
    readings: tuple[Reading, ...]

    @cached_property
    def energy(self) -> float:
        """J."""
        return sum(
            reading.energy(known, self.model.spring)
            for reading, known in zip(self.readings, self.forces, strict=True)
        )

    @cached_property
    def gradient(self) -> Floats:
        """(size,) N, and N m for angles."""
        return self.model.pattern.vector(
            [
                reading.gradient(known, self.model.spring)
                for reading, known in zip(self.readings, self.forces, strict=True)
            ]
        )

    @cached_property
    def hessian(self) -> Symmetric:
        """(size, size) N/m."""
        return self.model.pattern.matrix(
            [
                reading.hessian(known, self.model.spring)
                for reading, known in zip(self.readings, self.forces, strict=True)
            ]
        )

    @cached_property
    def tamed(self) -> Symmetric:
        """(size, size) N/m, the Hessian without what makes it fall in some direction."""
        return self.model.pattern.matrix(
            [
                reading.tamed(known, self.model.spring)
                for reading, known in zip(self.readings, self.forces, strict=True)
            ]
        )

    @cached_property
    def acting(self) -> Forces:
        """N, what the forces known so far and the springs make together."""
        return tuple(
            reading.acting(known, self.model.spring)
            for reading, known in zip(self.readings, self.forces, strict=True)
        )

    @property
    def broken(self) -> float:
        """m, by how much the worst constraint is broken."""
        told = zip(self.readings, self.acting, self.forces, strict=True)
        return max(reading.broken(acting, known) for reading, acting, known in told)

    def moved(self, step: Floats) -> Trial:
        """The trial after a step (size,) of the unknowns."""
        joined = self.model.cage.connectivity
        return trial_at(
            self.model, stepped(joined, self.posture, *self.model.unknowns.split(step)), self.forces
        )

    def held_by(self, forces: Forces, times: float = 1.0) -> Trial:
        """The same posture with other forces known so far, and with springs that many times as stiff."""
        model = self.model if times == 1.0 else stiffer(self.model, times * self.model.spring)
        return Trial(model, self.posture, forces, self.readings)

    def with_springs(self, spring: Spring) -> Trial:
        """The same posture under the same acting forces, with springs of another stiffness."""
        known = tuple(
            reading.known_for(acting, spring)
            for reading, acting in zip(self.readings, self.acting, strict=True)
        )
        return Trial(stiffer(self.model, spring), self.posture, known, self.readings)


def trial_at(model: Model, posture: Posture, forces: Forces) -> Trial:
    return Trial(model, posture, forces, tuple(posture.asked(term) for term in model.terms))


def no_forces(model: Model) -> Forces:
    return tuple(np.zeros(term.held) for term in model.terms)


def acting_at(model: Model, posture: Posture, acting: Forces) -> Trial:
    """The trial at which these forces act, whatever of them the springs make."""
    bare = trial_at(model, posture, acting)
    known = [
        reading.known_for(force, model.spring) for reading, force in zip(bare.readings, acting, strict=True)
    ]
    return Trial(model, posture, tuple(known), bare.readings)
