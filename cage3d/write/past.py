"""What earlier runs wrote into a folder, as `cage3d-made.json` tells it: every file with its SHA-256.

While files are put into their places the record holds the generation that was there and the one that is
under way, so that after a kill either counts as ours.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import Any

from cage3d.errors import OutputError, Problem
from cage3d.write.places import present_at

MADE = "cage3d-made.json"


@dataclass(frozen=True)
class Generation:
    """Files of one cage. cage: changes with the design; empty where it was not told."""

    cage: str = ""
    sha256: Mapping[str, str] = field(default_factory=dict)  # by file name
    parts: Mapping[str, str] = field(default_factory=dict)  # what each file belongs to

    def as_json(self) -> dict[str, Any]:
        return {
            "cage": self.cage,
            "sha256": dict(sorted(self.sha256.items())),
            "parts": dict(sorted(self.parts.items())),
        }


@dataclass(frozen=True)
class Past:
    """The generation that stands, and those that were under way when a run ended."""

    generations: tuple[Generation, ...] = ()

    @property
    def names(self) -> list[str]:
        return sorted({name for made in self.generations for name in made.sha256})

    def owners(self, name: str, print_: str) -> list[Generation]:
        """The generations that have this very file."""
        return [made for made in self.generations if made.sha256.get(name) == print_]

    def with_under_way(self, new: Generation) -> Past:
        return Past((*(self.generations or (Generation(),)), new))

    def as_bytes(self) -> bytes:
        standing, *under_way = self.generations
        told: dict[str, Any] = {"made by": "cage3d", **standing.as_json()}
        if under_way:
            told["under way"] = [made.as_json() for made in under_way]
        return (json.dumps(told, indent=1, ensure_ascii=False) + "\n").encode()


def past_of(folder: Path, force: bool = False) -> tuple[Past, bytes | None]:
    """The record of a folder, and its bytes; none where there is none, or it is damaged and `force` is set.

    Raises OutputError where it cannot be read or is no plain file.
    """
    if present_at(folder, MADE) is None:
        return Past(), None
    try:
        data = (folder / MADE).read_bytes()
        told = json.loads(data)
        return Past(tuple(map(generation, [told, *told.get("under way", [])]))), data
    except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError) as fault:
        if force:
            return Past(), None
        why = "the list of what was made here cannot be read"
        advice = "Choose another folder, or write over it with --force"
        raise OutputError(Problem(str(folder / MADE), "", why, advice)) from fault


def generation(told: Any) -> Generation:
    prints, parts = (
        {inside(name): str(value) for name, value in table.items()}
        for table in (told["sha256"], told.get("parts", {}))
    )
    return Generation(str(told.get("cage", "")), prints, parts)


def inside(name: str) -> str:
    """A name that lies in the folder. Raises ValueError for one that leads out of it."""
    path = PurePosixPath(name)
    if path.is_absolute() or ".." in path.parts or "\\" in name or ":" in name or not path.parts:
        raise ValueError(name)
    return name
