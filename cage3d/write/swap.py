"""The exchange of one generation of files for the next: records and renames, and back again after a fault."""

from __future__ import annotations

import os
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from cage3d.errors import OutputError, Problem
from cage3d.write.files import refusal, sync_folder
from cage3d.write.past import MADE, Generation, Past
from cage3d.write.renames import Renames, beside, make_folders, mode_of, staged

OLD = "old"


@dataclass(frozen=True)
class Swap:
    """In the folder `path`, from what the record tells to the generation `new`."""

    path: Path
    past: Past
    new: Generation
    record: bytes | None  # as it is; None where there is none

    def put(self, data: Mapping[Path, bytes], stale: list[str]) -> list[Path]:
        """Puts all files into their places, and the stale ones into `old`; returns where these are.

        Raises OutputError where one of them cannot be; then all is as it was.
        """
        both, last, back = (self.path / f"{MADE}.{kind}" for kind in ("both", "last", "back"))
        records = {
            both: self.past.with_under_way(self.new).as_bytes(),
            last: Past((self.new,)).as_bytes(),
            back: self.record or b"",
        }
        modes = {path: mode for path in data if (mode := mode_of(path)) is not None}
        with staged({**data, **records}, modes) as waiting:
            renames, made = Renames(), list[Path]()
            try:
                replace(waiting[both], self.path / MADE)
                moved = [self._aside(name, renames, made) for name in stale]
                for path in data:
                    if os.path.lexists(path):
                        renames.move(path, beside(path, "was"))
                    renames.move(waiting[path], path)
                for folder in {path.parent for path in (*data, *moved)}:
                    sync_folder(folder)
                replace(waiting[last], self.path / MADE)
            except BaseException:
                if renames.take_back():
                    self._restore(waiting[back])
                for folder in reversed(made):
                    with suppress(OSError):
                        os.rmdir(folder)
                raise
        for path in data:
            with suppress(OSError):
                os.unlink(beside(path, "was"))
        return moved

    def _restore(self, back: Path) -> None:
        """The record as it was; where that fails, the record of both generations does as well."""
        with suppress(OSError):
            if self.record is None:
                os.unlink(self.path / MADE)
            else:
                os.replace(back, self.path / MADE)

    def _aside(self, name: str, renames: Renames, made: list[Path]) -> Path:
        """Moves a file to `old`, under the next number where one of its name is there already."""
        path = self.path / OLD / name
        for inner in (path, *path.parents):
            if inner.is_symlink() and inner != path and self.path in inner.parents:
                raise OutputError(Problem(str(inner), "", "is a link", "Move it away"))
        made += make_folders(path.parent)
        number, place = 1, path
        while os.path.lexists(place):
            number += 1
            place = path.with_name(f"{path.stem}-{number}{path.suffix}")
        renames.move(self.path / name, place)
        return place


def replace(source: Path, target: Path) -> None:
    try:
        os.replace(source, target)
    except OSError as fault:
        raise refusal(target, fault) from fault
    sync_folder(target.parent)
