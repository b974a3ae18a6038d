"""What a term without constraints says to questions about forces."""

from __future__ import annotations

from abc import ABC, abstractmethod

import numpy as np

from cage3d.settle.terms.term import Blocks, Spring, Upper
from cage3d.shape.arrays import Floats
from cage3d.shape.changes import ParameterChanges

NONE = np.zeros(0)


class PlainReading(ABC):
    """A reading that holds nothing: base of energies such as bending and weight."""

    @abstractmethod
    def gradient(self, known: Floats, spring: Spring) -> Blocks | None: ...

    def drawn(self, acting: Floats) -> Blocks | None:
        return self.gradient(acting, 0.0)

    @abstractmethod
    def hessian(self, known: Floats, spring: Spring) -> Blocks | Upper | None: ...

    def tamed(self, known: Floats, spring: Spring) -> Blocks | Upper | None:
        """The whole, where nothing is known to make it fall."""
        return self.hessian(known, spring)

    def acting(self, known: Floats, spring: Spring) -> Floats:  # noqa: ARG002
        return NONE

    def known_for(self, acting: Floats, spring: Spring) -> Floats:  # noqa: ARG002
        return NONE

    def broken(self, acting: Floats, known: Floats) -> float:  # noqa: ARG002
        return 0.0

    def excess_change(self, acting: Floats, changes: ParameterChanges) -> Floats | None:  # noqa: ARG002
        return None

    def gradient_following(self, moves: Floats) -> Blocks | None:  # noqa: ARG002
        return None

    def slope(self, acting: Floats) -> Blocks | None:  # noqa: ARG002
        return None

    def stiffness(self, spring: Spring) -> Floats:  # noqa: ARG002
        return NONE

    def held_only(self, values: Floats) -> Floats:
        return values
