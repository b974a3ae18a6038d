"""The samples as models are made of them, and their dressing."""

from __future__ import annotations

from functools import cache

import pytest
import trimesh
from settled import LETTERS as LETTERS
from settled import sample_path, settled_sample

from cage3d.mesh.dressing import DressingStep, dressing_steps
from cage3d.mesh.part import ALL_KINDS, Part
from cage3d.mesh.parts import build_parts
from cage3d.miniature.body import PrintBody
from cage3d.results import plate_stl
from cage3d.settle import SettledCage

every_sample = pytest.mark.parametrize("letter", LETTERS)
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


def parts_of(letter: str, *kinds: str) -> tuple[Part, ...]:
    """Those kinds of part of a sample; all where none is named."""
    return build_parts(sample(letter), set(kinds) or ALL_KINDS)


def reloaded(bodies: tuple[PrintBody, ...]) -> trimesh.Trimesh:
    """What a reader makes of the STL of a miniature: single precision, vertices merged where equal."""
    return trimesh.load(trimesh.util.wrap_as_stream(plate_stl(bodies)), file_type="stl")
