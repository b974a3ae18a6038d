"""One core's share of the signatures: from stdin (cage3d.process) pickled (design, nodes, places), to stdout the same.

Run by `working.py` alone, as a module of this package.
"""

from __future__ import annotations

import os

# Small matrices: more threads than one only get into the way of the other cores' children.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import pickle
import sys

from cage3d.process import end_with_parent, received
from cage3d.study.truing.signatures import settled_signatures


def work() -> None:
    job = received()
    end_with_parent()
    sys.stdout.buffer.write(pickle.dumps(settled_signatures(*pickle.loads(job))))


if __name__ == "__main__":
    work()
