"""How the process ends where its output or its maker goes away: quietly, and with the right status."""

from __future__ import annotations

import errno
import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from types import FrameType
from typing import Any, NoReturn

from cage3d.errors import Interruption

STOPPED = 130  # the status shells give for Ctrl-C


class Stopped(Interruption):
    """Ctrl-C; not a KeyboardInterrupt, which the command line's library would put words to."""


class Unprinted(Exception):
    """What was to be printed did not get out. reader_left: nobody reads any more, as behind `| head`."""

    def __init__(self, fault: OSError) -> None:
        super().__init__(fault.strerror or "it is closed")
        self.reader_left = fault.errno == errno.EPIPE


class Checked:
    """A stream whose failures are told apart from those of files. lossy: nothing is said of them."""

    def __init__(self, stream: Any, lossy: bool = False) -> None:
        self.stream, self.lossy = stream, lossy

    def write(self, text: str) -> int:
        if self.stream is None and not self.lossy and text:
            raise Unprinted(OSError(errno.EBADF, "it is closed"))
        return self._tried("write", text) or 0

    def flush(self) -> None:
        self._tried("flush")

    def _tried(self, what: str, *given: Any) -> Any:
        try:
            return getattr(self.stream, what)(*given) if self.stream is not None else None
        except OSError as fault:
            if not self.lossy:
                raise Unprinted(fault) from fault
        return None

    def isatty(self) -> bool:
        return self.stream is not None and bool(self.stream.isatty())

    def __getattr__(self, name: str) -> Any:
        return getattr(self.stream, name)


def end_quietly(*_: Any) -> NoReturn:
    """For Ctrl-C while there is nothing to tidy up."""
    os._exit(STOPPED)


def stop(_signal: int, _frame: FrameType | None) -> NoReturn:
    raise Stopped


@contextmanager
def stopping() -> Iterator[None]:
    """While this lasts Ctrl-C raises Stopped, so that what is half done is taken away."""
    before = signal.signal(signal.SIGINT, stop)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def checked_streams() -> Iterator[None]:
    """stdout tells of its failures (Unprinted); stderr, where they would be told, keeps silent on its own."""
    before = sys.stdout, sys.stderr
    sys.stdout, sys.stderr = Checked(sys.stdout), Checked(sys.stderr, lossy=True)
    try:
        yield
        sys.stdout.flush()
    finally:
        sys.stdout, sys.stderr = before


def forget_unprinted() -> None:
    """Sends what the streams still hold nowhere, or the interpreter would speak of it when it ends."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        for stream in (sys.stdout, sys.stderr):
            with suppress(OSError, ValueError, AttributeError):
                stream.flush()
                continue
            with suppress(OSError, ValueError, AttributeError):
                os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
