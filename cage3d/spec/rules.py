"""What one value of a design demands of another: one function a rule."""

from __future__ import annotations

from collections.abc import Iterator

from cage3d.errors import Problem
from cage3d.spec.design import Design


def problems(design: Design) -> Iterator[Problem]:
    """Everything that makes the design impossible."""
    yield from ()


def remarks(design: Design) -> list[Problem]:
    """What is unusual and allowed."""
    return []
