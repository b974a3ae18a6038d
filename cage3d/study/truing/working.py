"""Signatures worked out on every core, and kept as bytes for the next time."""

from __future__ import annotations

import io
import pickle
import sys
import zipfile
from collections.abc import Callable
from hashlib import sha256

import numpy as np

from cage3d.design.models import Design
from cage3d.process import run_children
from cage3d.shape.lay_out import lay_out
from cage3d.study.processes import cores
from cage3d.study.truing.causes import SIZES, causes_of
from cage3d.study.truing.record import record_print
from cage3d.study.truing.signatures import NODES, Signatures, halves_of, joined, settled_signatures

SHARES = 3  # a core, so that what is left can be told on the way
FEW = 12  # causes for which no child is worth starting
PARTS = ("figures", "pulls", "slack")


def worked(
    design: Design, told: Callable[[str], object] = lambda _what: None, nodes: int = NODES
) -> Signatures:
    """Every cause settled at every size. told: called with how far it is. Raises ValueError: no rest."""
    halves = halves_of(design, nodes)
    count = len(halves.settled)
    if count <= FEW:
        return joined(halves, [settled_signatures(design, nodes, halves.settled.tolist())])
    shares = np.array_split(halves.settled, min(SHARES * cores(), count // 2))
    jobs = [pickle.dumps((design, nodes, share.tolist())) for share in shares]
    told(f"settling {6 * count} errors")
    ended = run_children(
        [sys.executable, "-P", "-m", "cage3d.study.truing.child"],
        jobs,
        cores(),
        lambda done: told(f"settling {6 * count} errors: {100 * done // len(jobs)} %"),
    )
    parts = [
        pickle.loads(one.stdout)
        if one.returncode == 0
        else settled_signatures(design, nodes, share.tolist())  # whatever became of that child
        for one, share in zip(ended, shares, strict=True)
    ]
    return joined(halves, parts)


def signatures_key(design: Design, version: str, nodes: int = NODES) -> str:
    """Changes with all that decides how the cage hangs, with the version of the tool, and with what is settled."""
    told = f"{record_print(design)} {version} {nodes} {sorted(SIZES.items())}"
    return sha256(told.encode()).hexdigest()


def as_bytes(signatures: Signatures, key: str) -> bytes:
    out = io.BytesIO()
    parts = {name: getattr(signatures, name) for name in PARTS}
    np.savez_compressed(out, key=np.array(key), **parts)
    return out.getvalue()


def from_bytes(data: bytes, key: str, design: Design) -> Signatures | None:
    """What was kept under this key; None for anything else."""
    causes = causes_of(lay_out(design, NODES))
    try:
        with np.load(io.BytesIO(data), allow_pickle=False) as kept:
            if str(kept["key"]) != key:
                return None
            parts = [np.asarray(kept[name], dtype=np.float64) for name in PARTS]
    except (ValueError, OSError, KeyError, EOFError, zipfile.BadZipFile):
        return None
    fits = all(part.ndim == 3 and part.shape[:2] == (len(causes), 6) for part in parts)
    return Signatures(causes, *parts) if fits else None
