"""A folder of results: it holds one generation, and nothing in it is overwritten but what this tool wrote
and nobody changed since.

Everything is written and synced beside its place first; then the record tells the old and the new
fingerprints, then come the renames, then the final record. A fault takes the renames back; after a kill
either fingerprint counts as ours, so that the next run goes through.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from cage3d.errors import CageError, OutputError, Problem
from cage3d.write.lock import locked
from cage3d.write.past import MADE, Generation, Past, past_of
from cage3d.write.places import NotPlainError, fingerprint, present_at, refuse_file_as_folder
from cage3d.write.renames import make_folders, put_back, sweep
from cage3d.write.swap import OLD, Swap

__all__ = ["MADE", "OLD", "Folder", "Held", "Run"]


@dataclass(frozen=True)
class Run:
    """What one run answers for."""

    cage: str = ""  # changes with the design; empty: not told, then no older file is moved
    parts: Mapping[str, str] = field(default_factory=dict)  # what each file belongs to
    answers_for: frozenset[str] = frozenset()  # its parts, those that could not be made too
    to_fill_in: frozenset[str] = frozenset()  # files that she writes in, never overwritten once she has


@dataclass(frozen=True)
class Folder:
    """A place for results. force: overwrite what is in the way."""

    path: Path
    force: bool = False

    @contextmanager
    def held(self) -> Iterator[Held]:
        """The folder, made where it is missing, with no other run in it; an empty one is taken away again.

        Raises OutputError where it cannot be written.
        """
        refuse_file_as_folder(self.path)
        made = make_folders(self.path)
        try:
            with locked(self.path):
                yield Held(self.path, self.force)
        finally:
            for path in reversed(made):
                with suppress(OSError):
                    os.rmdir(path)

    def put(
        self, files: Mapping[str, bytes], run: Run | None = None, told: Callable[[str], object] = str
    ) -> tuple[Path, ...]:
        """As `Held.put`, in a folder that is held for this alone."""
        with self.held() as held:
            return held.put(files, run or Run(), told)


@dataclass(frozen=True)
class Held:
    """A folder that no other run writes into."""

    path: Path
    force: bool

    def look(self, names: Collection[str], to_fill_in: Collection[str] = ()) -> None:
        """Raises OutputError, before any work, naming all that would be in the way of files of these names."""
        past, _ = past_of(self.path, self.force)
        self._refuse_foreign({name: "" for name in names if name not in to_fill_in}, past)
        for folder in {(self.path / name).parent for name in names}:
            if folder.is_dir() and not os.access(folder, os.W_OK):
                raise OutputError(
                    Problem(str(folder), "", "may not be written", "Choose a folder of your own")
                )

    def put(
        self, files: Mapping[str, bytes], run: Run, told: Callable[[str], object] = str
    ) -> tuple[Path, ...]:
        """Writes all files, by name, or none of them; moves what is left of older generations to `old`.

        told: called with a line on every file that was moved, laid beside another, or left.
        Raises OutputError naming every file that is somebody else's or was changed by hand.
        """
        past, record = past_of(self.path, self.force)
        put_back(self.path / name for name in past.names)
        for folder in {(self.path / name).parent for name in [*files, *past.names]}:
            sweep(folder)
        notes: list[str] = []
        placed = {self._free(name, data, past, run, notes): name for name, data in files.items()}
        prints = {place: fingerprint(files[name]) for place, name in placed.items()}
        self._refuse_foreign(prints, past)
        kept, stale = self._older(past, prints, run, notes)
        if files or stale:
            parts = {place: run.parts[name] for place, name in placed.items() if name in run.parts}
            standing = past.generations[0] if past.generations else Generation()
            cage = run.cage or standing.cage
            new = Generation(cage, {**kept.sha256, **prints}, {**kept.parts, **parts})
            data = {self.path / place: files[name] for place, name in placed.items()}
            swapped = Swap(self.path, past, new, record)
            moved = swapped.put(data, stale)
            notes += moved_in_words(self.path / OLD, moved)
        for note in notes:
            told(note)
        return tuple(self.path / place for place in placed)

    def _refuse_foreign(self, prints: Mapping[str, str], past: Past) -> None:
        faults: list[Problem] = []
        for name, new in prints.items():
            try:
                present = present_at(self.path, name)
            except CageError as fault:
                faults += fault.problems
                continue
            ours = present is None or present == new or past.owners(name, present)
            if not ours and not self.force:
                faults.append(in_the_way(self.path / name))
        if faults:
            raise OutputError(faults)

    def _free(self, name: str, data: bytes, past: Past, run: Run, notes: list[str]) -> str:
        """The name itself, or the next free number beside a file that she has filled in."""
        if name not in run.to_fill_in:
            return name
        path, number = PurePosixPath(name), 1
        place = name
        while (present := present_at(self.path, place)) is not None:
            if present == fingerprint(data) or past.owners(place, present):
                break
            number += 1
            place = str(path.with_name(f"{path.stem}-{number}{path.suffix}"))
        if place != name:
            notes.append(
                f"{self.path / name} has been filled in and stays; the new one is {self.path / place}"
            )
        return place

    def _older(
        self, past: Past, prints: Mapping[str, str], run: Run, notes: list[str]
    ) -> tuple[Generation, list[str]]:
        """Of earlier files that this run does not write: those that belong to its cage, and those that must go."""
        sums: dict[str, str] = {}
        parts: dict[str, str] = {}
        stale: list[str] = []
        for name in past.names:
            try:
                present = None if name in prints else present_at(self.path, name)
            except NotPlainError:
                continue  # somebody put something else there; it is theirs
            if present is None:
                continue
            owners = past.owners(name, present)
            same = [made for made in owners if made.cage == run.cage or not run.cage]
            if not owners:
                if run.cage and name not in run.to_fill_in:
                    notes.append(f"{self.path / name} was changed by hand and stays as it is")
            elif same and same[-1].parts.get(name) not in run.answers_for:
                sums[name] = present
                parts |= {name: same[-1].parts[name]} if name in same[-1].parts else {}
            else:
                stale.append(name)
        return Generation(run.cage, sums, parts), stale


def moved_in_words(old: Path, moved: list[Path]) -> list[str]:
    names = ", ".join(str(path.relative_to(old)) for path in moved)
    return [f"{old}: moved there, of an earlier cage or no longer made: {names}"] if moved else []


def in_the_way(path: Path) -> Problem:
    return Problem(
        str(path),
        "",
        "this file is there already, and was not made by this tool or was changed since",
        "Choose another folder, move the file away, or write over it with --force",
    )
