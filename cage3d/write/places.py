"""What lies at a place of a folder of results. Links are never followed, pipes and devices never opened."""

from __future__ import annotations

import hashlib
import os
import stat
from pathlib import Path, PurePosixPath

from cage3d.errors import OutputError, Problem
from cage3d.write.files import refusal


class NotPlainError(OutputError):
    """A link, a folder, a pipe or a device is where a file of the results belongs."""


def fingerprint(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def present_at(folder: Path, name: str) -> str | None:
    """Fingerprint of the plain file there; None where there is nothing.

    Raises NotPlainError for a link, a folder, a pipe or a device, on the way to it too, and OutputError
    for a file that cannot be read.
    """
    path = folder / name
    try:
        for inner in reversed(PurePosixPath(name).parents[:-1]):
            mode = os.lstat(folder / inner).st_mode
            if not stat.S_ISDIR(mode):
                raise in_place(folder / inner, mode, "a folder")
        mode = os.lstat(path).st_mode
        if not stat.S_ISREG(mode):
            raise in_place(path, mode, "a file")
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0))
        with os.fdopen(handle, "rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as fault:
        raise refusal(path, fault) from fault


def in_place(path: Path, mode: int, wanted: str) -> NotPlainError:
    kinds = ((stat.S_ISLNK, "is a link"), (stat.S_ISDIR, "is a folder"), (stat.S_ISREG, "is a file"))
    found = next((kind for is_, kind in kinds if is_(mode)), "is not a plain file")
    advice = "Move it away, or choose another folder"
    return NotPlainError(Problem(str(path), "", f"{found} where {wanted} of the results belongs", advice))


def refuse_file_as_folder(folder: Path) -> None:
    """Raises OutputError where a folder of results is, or lies under, something that is no folder."""
    for path in (folder, *folder.parents):
        if path.is_dir():
            return
        if path.exists():
            why = "is a file, not a folder" if path == folder else f"lies under a file, not a folder: {path}"
            raise OutputError(Problem(str(folder), "", why, "Choose a folder with -o"))
