"""Work that waits for nothing else, done beside this process: a child at a time for every further core there is.

A child (`work` below) gets a function of this package and what it is given, pickled through a pipe that none but its
parent holds, and answers in the same way. It loads what that function needs and no more, and ends with its parent.
What no child has begun when its answer is asked for, and what a child could not do, is done here: with one core that is
everything, as if there were no children.
"""

from __future__ import annotations

import os
import pickle
import signal
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import Lock
from types import TracebackType
from typing import TypeVar, cast

from cage3d.process import end_with_parent, received, run_child

CHILD = ("-P", "-m", "cage3d.beside")
Answer = TypeVar("Answer")


class Beside:
    """Children for as long as the `with` block runs; none outlives it, however it ends."""

    def __init__(self, cores: int) -> None:
        """cores: as many as work at once, this process among them."""
        self._pool = ThreadPoolExecutor(cores - 1) if cores > 1 else None
        self._running: list[subprocess.Popen[bytes]] = []
        self._over = False
        self._lock = Lock()

    @property
    def alone(self) -> bool:
        """There are no children."""
        return self._pool is None

    def begin(self, work: Callable[..., Answer], *given: object) -> Callable[[], Answer]:
        """Begins a function; what is returned gives its answer, or raises what it raised."""

        def here() -> Answer:
            return work(*given)

        if self._pool is None:
            return here
        try:
            job = pickle.dumps((work, given))
        except (pickle.PicklingError, AttributeError, TypeError):  # a function without a name in a module
            return here
        task = self._pool.submit(self._answer, job)

        def answer() -> Answer:
            if task.cancel():
                return here()
            found = task.result()
            if found is None:
                return here()
            (told,) = pickle.loads(found)
            return cast(Answer, told)

        return answer

    def _answer(self, job: bytes) -> bytes | None:
        """What a child answers, None where it cannot."""
        try:
            done = run_child([sys.executable, *CHILD], job, off_screen=False, started=self._started)
        except (OSError, ValueError, MemoryError):
            return None
        return done.stdout if done.returncode == 0 and done.stdout else None

    def _started(self, child: subprocess.Popen[bytes]) -> None:
        with self._lock:
            self._running.append(child)
            if self._over:
                child.kill()

    def __enter__(self) -> Beside:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._pool is None:
            return
        self._pool.shutdown(wait=False, cancel_futures=True)
        with self._lock:
            self._over = True
            for child in self._running:
                child.kill()
        self._pool.shutdown()


def work() -> None:
    """In a child: from stdin (cage3d.process) pickled (function, what it is given), to stdout pickled (its answer,)."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the process that began this one
    job = received()
    end_with_parent()
    # What a library prints must not end up in the answer.
    answer = os.dup(1)
    os.dup2(2, 1)
    function, given = pickle.loads(job)
    packed = pickle.dumps((function(*given),))
    with os.fdopen(answer, "wb") as out:
        out.write(packed)


if __name__ == "__main__":
    work()
