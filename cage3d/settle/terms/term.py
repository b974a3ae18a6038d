"""What settling asks of every part of the energy.

A new part (a tape that stretches, a padded roll) is one new file with a `Term` and a `Reading`, and
one more entry in `terms_of`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from cage3d.settle.posture import Posture
from cage3d.shape.arrays import Floats, Ints
from cage3d.shape.changes import ParameterChanges

# N per unit strain: how stiff the springs are that help the forces to hold a constraint.
Spring = float


@dataclass(frozen=True)
class Blocks:
    """What a term adds to gradient (values (m, k)) or Hessian (values (m, k, k))."""

    values: Floats
    rows: Ints | None = None  # (m,) rows of the term's stencil; None for all of them in turn


@dataclass(frozen=True)
class Upper:
    """What a term adds to the Hessian, of every symmetric block (k, k) the upper entries, column after column."""

    values: Floats  # (k (k + 1) / 2, m)
    rows: Ints | None = None  # as of `Blocks`


class Reading(Protocol):
    """What a term tells at one posture.

    A term that holds a constraint has a force a row, known so far as `known` (N), and a spring; one
    that does not has no rows of force and pays no heed to either.
    """

    def energy(self, known: Floats, spring: Spring) -> float:
        """J."""

    def gradient(self, known: Floats, spring: Spring) -> Blocks | None:
        """N (N m for angles); None where the term acts nowhere."""

    def drawn(self, acting: Floats) -> Blocks | None:
        """The gradient where the constraints' forces are these (N)."""

    def hessian(self, known: Floats, spring: Spring) -> Blocks | Upper | None:
        """N/m; None where the term bends nothing."""

    def tamed(self, known: Floats, spring: Spring) -> Blocks | Upper | None:
        """N/m, the Hessian without those parts that could make it fall in some direction."""

    def acting(self, known: Floats, spring: Spring) -> Floats:
        """N, what the forces known so far and the springs make together."""

    def known_for(self, acting: Floats, spring: Spring) -> Floats:
        """N, the known forces with which a spring of another stiffness makes the same acting ones here."""

    def broken(self, acting: Floats, known: Floats) -> float:
        """m, by how much the worst constraint is broken: too long, or slack while its force acts.

        Of friction, how far the forces known are from those that act.
        """

    def excess_change(self, acting: Floats, changes: ParameterChanges) -> Floats | None:
        """(rows of force, K) m, growth of every active constraint's excess with the numbers, nothing moving."""

    def gradient_change(self, acting: Floats, changes: ParameterChanges) -> Blocks | None:
        """(m, k, K), growth of the gradient with the numbers while forces and places stay; None where there is none.

        The part that comes of `excess_change` is not in it.
        """

    def gradient_following(self, moves: Floats) -> Blocks | None:
        """(n, k, K), growth of the gradient as forces that hold nothing follow moves (n, k, K) of the unknowns; None
        where there are none, or they stay.
        """

    def slope(self, acting: Floats) -> Blocks | None:
        """(m, k), gradient of every active constraint's excess; None for terms that hold nothing."""

    def stiffness(self, spring: Spring) -> Floats:
        """(rows of force,) N/m of the springs."""

    def held_only(self, values: Floats) -> Floats:
        """(rows of force,) the values, nothing for rows that give like springs of their own."""


class Term(Protocol):
    """One part of the cage's energy: a sum over n rows, each of which touches k unknowns."""

    @property
    def name(self) -> str:
        """By which its forces are found in a `State`."""

    @property
    def stencil(self) -> Ints:
        """(n, k) unknowns, -1 where fixed."""

    @property
    def held(self) -> int:
        """How many forces hold its constraints; 0 for a plain energy."""

    def at(self, posture: Posture) -> Reading: ...
