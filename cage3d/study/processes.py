"""Several processes that settle variants, which go away with the one that began them."""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from threading import Thread

from cage3d.errors import CageError, Problem


def cores() -> int:
    """How many this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


@contextmanager
def processes(count: int) -> Iterator[Executor | None]:
    """An executor of so many processes, None for one: the work is then done here.

    They begin anew and share nothing, so that it is the same on every system. Raises CageError where one of them is
    ended from outside.
    """
    if count <= 1:
        yield None
        return
    others = set(multiprocessing.active_children())
    pool = ProcessPoolExecutor(count, multiprocessing.get_context("spawn"), initializer=begin)
    try:
        yield pool
    except BrokenProcessPool:
        why = "a process that settled variants was ended from outside, for want of memory perhaps"
        raise CageError(Problem("--jobs", str(count), why, "Run it again with --jobs 1")) from None
    except BaseException:
        for child in set(multiprocessing.active_children()) - others:
            child.terminate()
        raise
    finally:
        pool.shutdown(cancel_futures=True)


def begin() -> None:
    """Ctrl-C is for the process that began this one; where that one is gone, this one goes too."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=end_with_parent, daemon=True).start()


def give_way() -> None:
    """What else the machine does comes before this process, on systems that know such an order."""
    if hasattr(os, "nice"):
        os.nice(10)


def end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
