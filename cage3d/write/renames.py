"""Files put into their places all together: written and synced beside them first, then only renamed."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from hashlib import sha256
from pathlib import Path

from cage3d.write.files import refusal, sync_folder

LEFTOVER = re.compile(r"\.cage3d-[0-9a-f]{16}\.(new|was)")


def beside(path: Path, kind: str) -> Path:
    """Where a file waits before (`new`) or after (`was`) its time: short, whatever the file's own name."""
    return path.with_name(f".cage3d-{sha256(path.name.encode()).hexdigest()[:16]}.{kind}")


def sweep(folder: Path) -> None:
    """Takes away what a run that was killed left beside its files. Only while the folder is locked."""
    with suppress(OSError):
        for entry in list(os.scandir(folder)):
            if LEFTOVER.fullmatch(entry.name) and not entry.is_dir(follow_symlinks=False):
                with suppress(OSError):
                    os.unlink(entry.path)


def put_back(paths: Iterable[Path]) -> None:
    """Files that a run which was killed had set aside, and put nothing in their place."""
    for path in paths:
        if not os.path.lexists(path):
            with suppress(OSError):
                os.rename(beside(path, "was"), path)


class Renames:
    """Renames that are taken back, the last first, where one of them fails."""

    def __init__(self) -> None:
        self.done: list[tuple[Path, Path]] = []

    def move(self, source: Path, target: Path) -> None:
        """target: nothing is there. Raises OutputError."""
        try:
            os.rename(source, target)
        except OSError as fault:
            raise refusal(target, fault) from fault
        self.done.append((source, target))

    def take_back(self) -> bool:
        """Whether all is where it was."""
        try:
            while self.done:
                source, target = self.done[-1]
                os.rename(target, source)
                self.done.pop()
        except OSError:
            return False
        return True


@contextmanager
def staged(files: Mapping[Path, bytes], modes: Mapping[Path, int]) -> Iterator[dict[Path, Path]]:
    """Writes every file beside its place and syncs it; what is still beside at the end is taken away.

    modes: who may read a file, where not anybody whom the user's own setting allows.
    Raises OutputError where one cannot be written; then nothing was changed.
    """
    waiting: dict[Path, Path] = {}
    made: list[Path] = []
    kept = False
    try:
        for path, data in files.items():
            made += make_folders(path.parent)
            waiting[path] = beside(path, "new")
            write(path, waiting[path], data, modes.get(path))
        for folder in {path.parent for path in files}:
            sync_folder(folder)
        yield waiting
        kept = True
    finally:
        for path in waiting.values():
            with suppress(OSError):
                os.unlink(path)
        for folder in [] if kept else reversed(made):
            with suppress(OSError):
                os.rmdir(folder)


def make_folders(folder: Path) -> list[Path]:
    """The folders that were missing, outermost first. Raises OutputError, and then has made none."""
    made: list[Path] = []
    try:
        for path in reversed((folder, *folder.parents)):
            if not path.is_dir():
                try:
                    os.mkdir(path)
                except FileExistsError:
                    if not path.is_dir():  # it is, where another run was quicker
                        raise
                else:
                    made.append(path)
    except OSError as fault:
        for path in reversed(made):
            with suppress(OSError):
                os.rmdir(path)
        raise refusal(folder, fault) from fault
    return made


def write(path: Path, waiting: Path, data: bytes, mode: int | None) -> None:
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    try:
        handle = os.open(waiting, flags, 0o666)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if mode is not None:
            os.chmod(waiting, mode)
    except OSError as fault:
        raise refusal(path, fault) from fault


def mode_of(path: Path) -> int | None:
    """Who may read a file that is there."""
    try:
        return os.lstat(path).st_mode & 0o777
    except OSError:
        return None
