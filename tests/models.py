"""The samples as models are made of them, and their dressing."""

from __future__ import annotations

from functools import cache

from settled import LETTERS as LETTERS
from settled import sample_path, settled_sample

from cage3d.mesh.dressing import DressingStep, dressing_steps
from cage3d.settle import SettledCage

SLOTTED = tuple(
    letter for letter in LETTERS if letter != "j"
)  # can be laid flat: the fan's hoops meet, and so would slots


def sample(letter: str) -> SettledCage:
    """Sample `letter` ("a", "b", ...) as it hangs."""
    return settled_sample(sample_path(letter))


@cache
def sample_stages(letter: str) -> tuple[DressingStep, ...]:
    """The steps of hanging it."""
    return dressing_steps(sample(letter))
