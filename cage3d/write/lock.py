"""One run at a time in a folder. The system lets go of the lock when a run ends, even one that is killed.

A file that only names its owner would have to be guessed stale after a kill; a lock of the system never is.
"""

from __future__ import annotations

import errno
import os
import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from cage3d.errors import OutputError, Problem
from cage3d.write.files import refusal

LOCK = ".cage3d-lock"
KNOWS_NO_LOCKS = {errno.ENOSYS, errno.ENOLCK, errno.EOPNOTSUPP, errno.EINVAL}  # some network disks


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Holds the folder, which is there. Raises OutputError where another run does, or nothing can be written."""
    path = folder / LOCK
    handle = taken(path)
    try:
        yield
    finally:
        if os.name == "posix":  # while it is held: a run that waits with this file in hand then sees it gone
            with suppress(OSError):
                os.unlink(path)
        os.close(handle)
        if os.name != "posix":  # an open file cannot be taken away there
            with suppress(OSError):
                os.unlink(path)


def taken(path: Path) -> int:
    while True:
        handle = opened(path)
        try:
            lock(handle, path)
            if is_at(handle, path):
                return handle
        except BaseException:
            os.close(handle)
            raise
        os.close(handle)  # the run before took its file away in between


def opened(path: Path) -> int:
    flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    try:
        handle = os.open(path, flags, 0o666)
    except OSError as fault:
        raise refusal(path.parent, fault) from fault
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise OutputError(Problem(str(path), "", "is not a plain file", "Move it away"))
    return handle


def lock(handle: int, path: Path) -> None:
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as fault:
        if fault.errno in KNOWS_NO_LOCKS:
            return
        if fault.errno not in (errno.EAGAIN, errno.EACCES, errno.EDEADLK):
            raise refusal(path.parent, fault) from fault
        raise OutputError(
            Problem(
                str(path.parent),
                "",
                "another run of cage3d is writing into this folder",
                "Wait until it has ended, or choose another folder",
            )
        ) from fault


def is_at(handle: int, path: Path) -> bool:
    if os.name != "posix":
        return True
    try:
        there, held = os.stat(path, follow_symlinks=False), os.fstat(handle)
    except FileNotFoundError:
        return False
    return (there.st_dev, there.st_ino) == (held.st_dev, held.st_ino)
