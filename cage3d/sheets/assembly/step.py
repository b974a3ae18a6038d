"""One step of the assembly."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Step:
    """One thing to do."""

    title: str
    text: str
