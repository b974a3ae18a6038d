"""Files appear whole or not at all: written beside, forced to the disk, then renamed over the old one."""

from __future__ import annotations

import errno
import os
import tempfile
from contextlib import suppress
from pathlib import Path

from cage3d.errors import OutputError, Problem

NEW_FILE_MODE = 0o666

REASONS = {
    errno.EACCES: ("may not be written", "Choose a folder of your own"),
    errno.EPERM: ("may not be written", "Choose a folder of your own"),
    errno.EROFS: ("lies on a disk that can only be read", "Choose another folder"),
    errno.ENOSPC: (
        "does not fit, the disk is full",
        "Make room, then run it again; the old file is as it was",
    ),
    errno.EDQUOT: ("does not fit, your share of the disk is full", "Make room, then run it again"),
    errno.EFBIG: ("is larger than this disk takes", "Choose another folder; the old file is as it was"),
    errno.ENAMETOOLONG: ("has too long a name", "Give a shorter one"),
    errno.ENOTDIR: ("lies under a file, not a folder", "Choose a folder"),
    errno.EEXIST: ("lies under a file, not a folder", "Choose a folder"),
    errno.EISDIR: ("is a folder", "Give the name of a file"),
}
# Windows lets no file be replaced that a program has open, and says so in numbers of its own.
CLOSE_IT = "Close it there, then run it again; the old file is as it was"
WINDOWS_REASONS = {
    5: ("may not be written, or is open in another program", CLOSE_IT),  # access denied: either
    32: ("is open in another program", CLOSE_IT),  # sharing violation
    33: ("is open in another program", CLOSE_IT),  # part of it is locked
    1224: ("is open in another program", CLOSE_IT),  # mapped into that program's memory
}


def write_whole(path: str | Path, data: bytes) -> Path:
    """Puts `data` at `path`, or leaves there what there was; makes the folder where it is missing.

    A reader, a full disk or a killed process never meets half a file. Through a link the
    file it points to is written. Returns the path as given.

    Raises OutputError where the file cannot be written.
    """
    path = Path(path)
    target = Path(os.path.realpath(path))
    try:
        if target.exists() and not target.is_file():
            why = "is a folder" if target.is_dir() else "is not a plain file"
            raise OutputError(Problem(str(path), "", why, "Give the name of a file"))
        target.parent.mkdir(parents=True, exist_ok=True)
        replace(target, data)
    except OSError as fault:
        raise refusal(path, fault) from fault
    return path


def refusal(path: Path, fault: OSError) -> OutputError:
    """Why a file or folder cannot be read or written, and what to do."""
    posix = REASONS.get(fault.errno or 0, ("could not be written", "Choose another folder"))
    why, try_this = WINDOWS_REASONS.get(getattr(fault, "winerror", None) or 0, posix)
    return OutputError(Problem(str(path), fault.strerror or "", why, try_this))


def replace(target: Path, data: bytes) -> None:
    """Writes beside the target and renames over it; takes its own trace away when that fails."""
    handle, beside = tempfile.mkstemp(prefix=".", suffix=".part", dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, mode_of(target))
        os.replace(beside, target)
    except BaseException:
        with suppress(OSError):
            os.unlink(beside)
        raise
    sync_folder(target.parent)


def mode_of(target: Path) -> int:
    """Who may read it: as the old file was, or as any new file of this user's."""
    if target.exists():
        return target.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return NEW_FILE_MODE & ~mask


def sync_folder(folder: Path) -> None:
    """Makes the rename last through a power cut, where the system offers it; the file is whole either way."""
    if os.name != "posix":
        return
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
