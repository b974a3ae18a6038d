"""What all constraints have in common: an excess that a force holds at nothing, or keeps from growing.

Every constraint has the energy of the augmented Lagrangian (Nocedal and Wright, Numerical
Optimization, chapter 17): a force known so far plus a spring. Once the forces are right the
constraint holds exactly however soft the spring, so no spring needs to be stiff enough to
spoil the numbers. A row may give instead: then its force is that of a spring of its own, and
nothing is held.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from cage3d.settle.arithmetic import outer
from cage3d.settle.terms.term import Blocks, Spring
from cage3d.shape.arrays import Bools, Floats, Ints
from cage3d.shape.changes import ParameterChanges

IDENTITY = np.eye(3)


@dataclass(frozen=True)
class HeldReading(ABC):
    """Constraints at one posture, one a row. A new one says its excess and the excess's two derivatives."""

    excess: Floats  # (n,) m, by how much each constraint is broken, positive where the force must act
    spans: Floats  # (n,) m over which the excess counts as strain

    one_way: ClassVar[bool] = True  # holds the excess only from growing past nothing; else both ways
    # Whether the excess is a convex function of the places, as a length is of its ends.
    convex: ClassVar[bool] = False

    @abstractmethod
    def slopes(self, rows: Ints | slice) -> Floats:
        """(m, k) gradient of the excess over the unknowns of each row."""

    @abstractmethod
    def curves(self, rows: Ints | slice, weights: Floats) -> Floats:
        """(m, k, k) second derivative of the excess, times weights (m,)."""

    @abstractmethod
    def excess_change(self, acting: Floats, changes: ParameterChanges) -> Floats | None:
        """(n, K) m, growth of every active excess with the numbers, nothing moving; None where there is none."""

    def gradient_following(self, moves: Floats) -> Blocks | None:  # noqa: ARG002
        return None

    @property
    def gives(self) -> Bools | None:
        """(n,) which rows give; None for none."""
        return None

    @property
    def own_stiffness(self) -> Floats:
        """(n,) N/m of the rows that give."""
        return np.zeros(0)

    def stiffness(self, spring: Spring) -> Floats:
        gives = self.gives
        return (
            spring / self.spans if gives is None else np.where(gives, self.own_stiffness, spring / self.spans)
        )

    def held_only(self, values: Floats) -> Floats:
        """Values a row, nothing where it gives."""
        return values if self.gives is None else np.where(self.gives, 0.0, values)

    def acting(self, known: Floats, spring: Spring) -> Floats:
        force = self.held_only(known) + self.stiffness(spring) * self.excess
        return np.maximum(force, 0.0) if self.one_way else force

    def known_for(self, acting: Floats, spring: Spring) -> Floats:
        known = self.held_only(acting - self.stiffness(spring) * self.excess)
        return np.where(acting > 0.0, known, 0.0) if self.one_way else known

    def broken(self, acting: Floats, known: Floats) -> float:  # noqa: ARG002
        excess = self.held_only(self.excess)
        off = np.where(acting > 0.0, np.abs(excess), np.maximum(excess, 0.0)) if self.one_way else excess
        return float(np.abs(off).max(initial=0.0))

    def energy(self, known: Floats, spring: Spring) -> float:
        stiffness, known = self.stiffness(spring), self.held_only(known)
        if self.one_way:
            return float(((self.acting(known, spring) ** 2 - known**2) / (2.0 * stiffness)).sum())
        return float((known * self.excess + 0.5 * stiffness * self.excess**2).sum())

    def gradient(self, known: Floats, spring: Spring) -> Blocks | None:
        return self.drawn(self.acting(known, spring))

    def drawn(self, acting: Floats) -> Blocks | None:
        rows, index = self.active(acting)
        if rows is not None and not len(rows):
            return None
        return Blocks(acting[index, None] * self.slopes(index), rows)

    def hessian(self, known: Floats, spring: Spring) -> Blocks | None:
        acting = self.acting(known, spring)
        return self.second(spring, acting, acting)

    def tamed(self, known: Floats, spring: Spring) -> Blocks | None:
        """The springs alone, and of what is convex that which pulls."""
        acting = self.acting(known, spring)
        return self.second(spring, acting, np.maximum(acting, 0.0) if self.convex else None)

    def second(self, spring: Spring, acting: Floats, bent_by: Floats | None) -> Blocks | None:
        """The springs' second derivatives, and those of the excess times the forces that bend it; None: without."""
        rows, index = self.active(acting)
        if rows is not None and not len(rows):
            return None
        slopes = self.slopes(index)
        blocks = outer(self.stiffness(spring)[index, None] * slopes, slopes)
        if bent_by is not None:
            blocks += self.curves(index, bent_by[index])
        return Blocks(blocks, rows)

    def slope(self, acting: Floats) -> Blocks | None:
        rows, index = self.active(acting)
        return Blocks(self.slopes(index), rows)

    def gradient_change(self, acting: Floats, changes: ParameterChanges) -> Blocks | None:  # noqa: ARG002
        return None

    def active(self, acting: Floats) -> tuple[Ints | None, Ints | slice]:
        """The rows that act: None and a slice for all."""
        if not self.one_way:
            return None, slice(None)
        rows = np.flatnonzero(acting > 0.0)
        return rows, rows


def line_slopes(tangents: Floats) -> Floats:
    """(n, 6) gradient of the length of lines over both of their ends."""
    return np.concatenate([-tangents, tangents], axis=1)


def line_curves(tangents: Floats, lengths: Floats, weights: Floats) -> Floats:
    """(n, 6, 6) second derivative of the length of lines over both of their ends, times weights (n,)."""
    block = (weights / lengths)[:, None, None] * (IDENTITY - outer(tangents, tangents))
    curves = np.empty((len(weights), 6, 6), order="F")
    curves[:, :3, :3] = curves[:, 3:, 3:] = block
    curves[:, :3, 3:] = curves[:, 3:, :3] = -block
    return curves
