"""What every error would do to sample A, settled once and kept in a file, so that pages that ask for it are quick.

    python tests/kept_errors.py

settles all of it anew. `tests/study/test_signatures.py` settles some of it and compares.
"""

from __future__ import annotations

from pathlib import Path

from settled import sample_path

from cage3d.design.models import Design
from cage3d.design.read import read
from cage3d.study.truing.signatures import Signatures
from cage3d.study.truing.working import as_bytes, from_bytes, signatures_key, worked

FILE = Path(__file__).parent / "errors-of-a.npz"
VERSION = "tests"


def kept_errors(design: Design) -> Signatures | None:
    """None for any other cage, and where what is settled has changed."""
    return from_bytes(FILE.read_bytes(), signatures_key(design, VERSION), design)


if __name__ == "__main__":
    own = read(sample_path("a"))
    FILE.write_bytes(as_bytes(worked(own), signatures_key(own, VERSION)))
