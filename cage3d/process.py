"""Child processes, for drawing and for work on every core: each gets its job through a pipe and ends with its parent.

No file is involved, so none is left behind. The parent holds the pipe open for as long as it lives; however
it ends, even killed, the system closes the pipe and the child sees that.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from contextlib import suppress
from threading import Thread
from time import sleep
from typing import IO

SIZE_BYTES = 8  # the job's length in front of it, lowest byte first
LOOKS_EVERY = 0.3  # s, how often a child looks whether its parent lives
WINDOWS_CRASHED = 0xC0000000  # exit codes from here on are faults that Windows ended the process for
POSIX = os.name == "posix"
GIVEN_UP = 1  # exit status of a child whose parent is gone


def run_children(
    command: list[str],
    jobs: Sequence[bytes],
    at_once: int,
    done: Callable[[int], object] = lambda _count: None,
) -> list[subprocess.CompletedProcess[bytes]]:
    """A child for every job, so many at once; what each printed and how it ended.

    done: called with the number of jobs that are done. Raises as `run_child`. No child outlives this call.
    """
    running: list[subprocess.Popen[bytes]] = []
    with ThreadPoolExecutor(at_once) as pool:
        told = [pool.submit(run_child, command, job, False, None, running.append) for job in jobs]
        try:
            for count, one in enumerate(as_completed(told), start=1):
                one.result()
                done(count)
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            for child in running:
                child.kill()
            raise
    return [one.result() for one in told]


def run_child(
    command: list[str],
    job: bytes,
    off_screen: bool,
    longest_wait: float | None = None,
    started: Callable[[subprocess.Popen[bytes]], object] = lambda _child: None,
) -> subprocess.CompletedProcess[bytes]:
    """Runs a child that begins with `received`; what it printed and how it ended.

    longest_wait: s; started: called with the child once it runs. Raises OSError where it cannot be started,
    subprocess.TimeoutExpired where it takes too long. The child never outlives this call.
    """
    child = subprocess.Popen(
        command,
        env=child_environment(off_screen),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    pipe, child.stdin = child.stdin, None  # communicate would close it, and the child take us for dead
    assert pipe is not None
    started(child)
    handing = Thread(target=hand_over, args=(pipe, job), daemon=True)
    try:
        with child:
            try:
                handing.start()
                out, said = child.communicate(timeout=longest_wait)
            finally:
                child.kill()  # does nothing to one that ended
    finally:
        handing.join()
        with suppress(OSError):
            pipe.close()
    return subprocess.CompletedProcess(command, child.returncode, out, said)


def hand_over(pipe: IO[bytes], job: bytes) -> None:
    with suppress(OSError, ValueError):  # a child that ended says itself why
        pipe.write(len(job).to_bytes(SIZE_BYTES, "little") + job)
        pipe.flush()


def child_environment(off_screen: bool) -> dict[str, str]:
    """This process's environment, so that the child finds this very package however this one was found."""
    found = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
    if off_screen:
        found["PYVISTA_OFF_SCREEN"] = "true"
        if sys.platform == "linux":  # elsewhere the system's own window draws without a screen
            found.setdefault("VTK_DEFAULT_OPENGL_WINDOW", "vtkEGLRenderWindow")
    return found


def how_it_ended(returncode: int, said: bytes) -> str:
    """'the graphics library crashed (signal 11)', or the last line that the child said."""
    if POSIX and returncode < 0:
        return f"the graphics library crashed (signal {-returncode})"
    if not POSIX and returncode >= WINDOWS_CRASHED:
        return f"the graphics library crashed (0x{returncode:X})"
    lines = said.decode("utf-8", "replace").strip().splitlines()
    return f"the drawing process failed: {lines[-1][:200]}" if lines else "the drawing process failed"


def received() -> bytes:
    """In the child: its job. Ends the process where the parent ended before it had handed all over."""
    size = int.from_bytes(read(SIZE_BYTES), "little")
    return read(size)


def read(count: int) -> bytes:
    pieces = []
    while count:
        piece = os.read(0, min(count, 1 << 20))
        if not piece:
            os._exit(GIVEN_UP)
        pieces.append(piece)
        count -= len(piece)
    return b"".join(pieces)


def end_with_parent() -> None:
    """In the child, once its job is received: from now on it ends when its parent does."""

    def watch() -> None:
        while not parent_gone():
            sleep(LOOKS_EVERY)
        os._exit(GIVEN_UP)

    Thread(target=watch, daemon=True).start()


if sys.platform == "win32":

    def parent_gone() -> bool:
        """In the child: whether the pipe from its parent is closed. Never waits."""
        # A thread that waited in a read of stdin could keep libraries from being loaded.
        import _winapi
        import msvcrt

        try:
            _winapi.PeekNamedPipe(msvcrt.get_osfhandle(0), 0)
        except OSError:
            return True
        return False

else:

    def parent_gone() -> bool:
        """In the child: whether the pipe from its parent is closed. Never waits."""
        import select

        ready, _, _ = select.select([0], [], [], 0.0)
        return bool(ready) and not os.read(0, 1)
